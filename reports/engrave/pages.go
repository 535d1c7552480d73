package engrave

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/beevik/etree"
)

// Version names the engraver and the way in which this package draws.
func Version() string { return engraverVersion }

// PagesOptions say how the pages of a whole score look.
type PagesOptions struct {
	// Title is read out for each page, its number behind it.
	Title string
	// Width and Height of a page, in CSS pixels at full size.
	Width, Height int
	// Glyphs collects the outlines of the music font; the page must contain Glyphs.SVG once.
	Glyphs *Glyphs
}

// Score is a whole score, drawn.
type Score struct {
	// Pages are in order. Each measure bears its index from 0 in `data-m` and its edges in `data-x`, each system its
	// upper and lower edge in `data-y`, in the units of the drawing inside.
	Pages []Excerpt
	// Cut lists the measures before which the score had to be drawn in two: no slur or tie crosses there.
	Cut []int
	// Missing lists measures that could not be drawn.
	Missing []int
}

// Score draws a whole sheet on pages. Where the engraver fails on it, it is drawn in two halves, and so on: what
// cannot be drawn costs its own measure only.
func (w *Worker) Score(ctx context.Context, sheet *Sheet, options PagesOptions) (Score, error) {
	var out Score
	err := w.drawPages(ctx, sheet, 0, sheet.Measures-1, options, &out)
	if err == nil && len(out.Pages) == 0 {
		err = errors.New("drawing the score: no measure of it can be drawn")
	}
	return out, err
}

func (w *Worker) drawPages(
	ctx context.Context, sheet *Sheet, first, last int, options PagesOptions, out *Score,
) error {
	pages, err := w.pagesOf(ctx, sheet, first, last, len(out.Pages), options)
	switch {
	case err == nil:
		out.Pages = append(out.Pages, pages...)
		return nil
	case ctx.Err() != nil:
		return ctx.Err()
	case errors.Is(err, ErrTooLong): // its halves would take long, too
		return err
	case first == last:
		out.Missing = append(out.Missing, first)
		return nil
	}
	half := (first + last + 1) / 2
	if err := w.drawPages(ctx, sheet, first, half-1, options, out); err != nil {
		return err
	}
	out.Cut = append(out.Cut, half)
	return w.drawPages(ctx, sheet, half, last, options, out)
}

// pagesOf draws measures first to last by themselves; before is how many pages stand before them.
func (w *Worker) pagesOf(
	ctx context.Context, sheet *Sheet, first, last, before int, options PagesOptions,
) ([]Excerpt, error) {
	if measure, _ := sheet.crowded(first, last); measure >= 0 {
		return nil, fmt.Errorf("drawing the score: measure %d has more than %d notes and signs", measure, mostInMeasure)
	}
	text, err := sheet.cut(first, last, true)
	if err != nil {
		return nil, err
	}
	raws, err := w.draw(ctx, order{Score: text, Width: options.Width, Height: options.Height, All: true})
	if err != nil {
		return nil, err
	}
	var out []Excerpt
	next := first
	for k, raw := range raws {
		page, err := dress(raw, sheet, ExcerptOptions{
			Title:  fmt.Sprintf("%s, page %d", options.Title, before+k+1),
			Glyphs: options.Glyphs, places: &next,
		})
		if err != nil {
			return nil, err
		}
		page.SVG = slim(page.SVG)
		out = append(out, page)
	}
	if next != last+1 {
		return nil, fmt.Errorf("drawing the score: %d measures of %d came out", next-first, last-first+1)
	}
	return out, nil
}

// placeSystems writes the places of systems and measures into a page, next being the index of its first measure.
func placeSystems(page *etree.Element, next *int) {
	for _, system := range page.FindElements(".//g[@class='system']") {
		top, bottom := 0.0, 0.0
		for _, measure := range system.SelectElements("g") {
			if firstClass(measure) != "measure" {
				continue
			}
			left, right := 0.0, 0.0
			for i, line := range measure.FindElements("g[@class='staff']/path") {
				at := staffLine.FindStringSubmatch(line.SelectAttrValue("d", ""))
				if at == nil || at[2] != at[4] {
					continue
				}
				y, _ := strconv.ParseFloat(at[2], 64)
				if i == 0 {
					left, _ = strconv.ParseFloat(at[1], 64)
					right, _ = strconv.ParseFloat(at[3], 64)
				}
				if top == 0 || y < top {
					top = y
				}
				bottom = max(bottom, y)
			}
			measure.CreateAttr("data-m", strconv.Itoa(*next))
			measure.CreateAttr("data-x", rounded(left)+" "+rounded(right))
			*next++
		}
		system.CreateAttr("data-y", strings.Join([]string{rounded(top), rounded(bottom)}, " "))
	}
}
