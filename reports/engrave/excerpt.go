package engrave

import (
	"context"
	"fmt"
)

// ExcerptOptions say how an excerpt looks.
type ExcerptOptions struct {
	// Title is read out for the picture, and shown where the pointer rests on it.
	Title string
	// Width breaks the excerpt into systems at most this wide, in CSS pixels at full size; 0 keeps it in one system.
	Width int
	// Glyphs, where given, collects the outlines of the music font; the picture then refers to them and is much
	// smaller. The page must contain Glyphs.SVG once.
	Glyphs *Glyphs
	// Own draws the measures as a piece of their own: numbered from 1, with their metre.
	Own bool
	// Signs are marked with the class "differs" and their label as data-label: a page can draw a frame around them.
	Signs []SignMark

	first  int  // measure of the sheet
	places *int // where systems and measures bear their places: the index of the first measure
}

// SignMark names signs of the notation that are no notes.
type SignMark struct {
	Measure int    // of the sheet, from 0
	Staff   int    // among the staves drawn, from 1; 0 for any
	Class   string // of the engraver's drawing: "clef", "keySig", "meterSig", "dynam", "tempo", "dir", …
	Label   string
}

// Excerpt is one picture.
type Excerpt struct {
	SVG           string // an <svg> element of class "engraving" for embedding in HTML; CSS goes with it
	Width, Height int    // at full size, in CSS pixels
}

// Excerpt draws measures first to last (from 0, both included) of a sheet.
//
// The measures are cut out of the sheet and loaded by themselves. So the time depends on their length and not on the
// piece's, a measure that traps the engraver spoils no other excerpt, and memory stays small: the engraver's own
// selection lays out the whole piece anew for each excerpt. Slurs and ties that leave the excerpt are not drawn.
func (w *Worker) Excerpt(ctx context.Context, sheet *Sheet, first, last int, options ExcerptOptions) (Excerpt, error) {
	score, err := sheet.cutAs(first, last, true, options.Own)
	if err != nil {
		return Excerpt{}, err
	}
	if measure, things := sheet.crowded(first, last); measure >= 0 {
		return Excerpt{}, fmt.Errorf("measure %d has %d notes and signs, more than the %d that are drawn", measure, things, mostInMeasure)
	}
	options.first = first
	var best Excerpt
	fewest := -1
	for _, apart := range stavesApart {
		raw, err := w.draw(ctx, order{Score: score, Width: options.Width, Apart: apart})
		if err != nil && fewest >= 0 && ctx.Err() == nil {
			break // it was drawn with less room
		}
		if err != nil {
			return Excerpt{}, err
		}
		picture, cramped, err := dress(raw[0], sheet, options)
		if err != nil {
			return Excerpt{}, err
		}
		if fewest < 0 || cramped < fewest {
			best, fewest = picture, cramped
		}
		if cramped == 0 {
			break
		}
	}
	return best, nil
}

// Page gives the loaded score as the engraver's own SVG.
func (w *Worker) Page(ctx context.Context) (string, error) {
	if err := w.ready(ctx); err != nil {
		return "", fmt.Errorf("drawing: %w", err)
	}
	svg, err := w.current.text(ctx, "renderToSVG", 1, 0)
	if err != nil {
		return "", w.failed(ctx, "drawing", err)
	}
	if svg == "" {
		return "", fmt.Errorf("drawing: the engraver gave no picture%s", w.said())
	}
	return svg, nil
}
