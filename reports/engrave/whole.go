package engrave

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"
)

// Version names the engraver and the way in which this package draws.
func Version() string { return engraverVersion }

// ScoreOptions say how a whole score looks.
type ScoreOptions struct {
	// Title is read out for each system, its number behind it.
	Title string
	// Width of a system, in CSS pixels at full size.
	Width int
	// Glyphs collects the outlines of the music font; the page must contain Glyphs.SVG once.
	Glyphs *Glyphs
}

// Score is a whole score, drawn.
type Score struct {
	// Systems are in order, each a picture of its own that is as high as what is drawn in it and as wide as all others: whoever
	// shows or prints them breaks pages between them. Each measure bears its index from 0 in `data-m` and its edges in
	// `data-x`, each system its upper and lower edge in `data-y`, in the units of the drawing inside.
	Systems []Excerpt
	// Cut lists the measures before which the score had to be drawn in two: no slur or tie crosses there.
	Cut []int
	// Missing lists measures that could not be drawn.
	Missing []int
}

// Score draws a whole sheet. Where the engraver fails on it, it is drawn in two halves, and so on: what
// cannot be drawn costs its own measure only.
func (w *Worker) Score(ctx context.Context, sheet *Sheet, options ScoreOptions) (Score, error) {
	var out Score
	err := w.drawSystems(ctx, sheet, 0, sheet.Measures-1, options, &out)
	if err == nil && len(out.Systems) == 0 {
		err = errors.New("drawing the score: no measure of it can be drawn")
	}
	return out, err
}

func (w *Worker) drawSystems(
	ctx context.Context, sheet *Sheet, first, last int, options ScoreOptions, out *Score,
) error {
	systems, err := w.systemsOf(ctx, sheet, first, last, len(out.Systems), options)
	switch {
	case err == nil:
		out.Systems = append(out.Systems, systems...)
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
	if err := w.drawSystems(ctx, sheet, first, half-1, options, out); err != nil {
		return err
	}
	out.Cut = append(out.Cut, half)
	return w.drawSystems(ctx, sheet, half, last, options, out)
}

// systemsOf draws measures first to last by themselves; before is how many systems stand before them. A system whose digits
// are cramped between its staves is taken from a drawing with more room there, where they are less so: all others stay as
// high as they were.
func (w *Worker) systemsOf(
	ctx context.Context, sheet *Sheet, first, last, before int, options ScoreOptions,
) ([]Excerpt, error) {
	if measure, _ := sheet.crowded(first, last); measure >= 0 {
		return nil, fmt.Errorf("drawing the score: measure %d has more than %d notes and signs", measure, mostInMeasure)
	}
	text, err := sheet.cut(first, last, true)
	if err != nil {
		return nil, err
	}
	var systems []system
	for _, apart := range stavesApart {
		if systems != nil && !slices.ContainsFunc(systems, func(s system) bool { return s.cramped > 0 }) {
			break
		}
		drawn, err := w.systemsApart(ctx, sheet, order{Score: text, Width: options.Width, All: true, Apart: apart}, first, last, before, options)
		switch {
		case err != nil && systems != nil && ctx.Err() == nil:
			// They were drawn with less room.
		case err != nil:
			return nil, err
		case systems == nil:
			systems = drawn
		case slices.EqualFunc(systems, drawn, func(a, b system) bool { return a.first == b.first }):
			for i := range drawn {
				if drawn[i].cramped < systems[i].cramped {
					systems[i] = drawn[i]
				}
			}
		}
	}
	var out []Excerpt
	for _, s := range systems {
		out = append(out, s.Excerpt)
	}
	return out, nil
}

// system is a system, drawn: its picture, its first measure, and how many of its digits are cramped.
type system struct {
	Excerpt
	first, cramped int
}

// systemsApart draws systems once.
func (w *Worker) systemsApart(
	ctx context.Context, sheet *Sheet, o order, first, last, before int, options ScoreOptions,
) (out []system, err error) {
	raws, err := w.draw(ctx, o)
	if err != nil {
		return nil, err
	}
	next := first
	for _, raw := range raws {
		picture, err := dressed(raw, sheet, ExcerptOptions{Glyphs: options.Glyphs, places: &next})
		if err != nil {
			return nil, err
		}
		systems, err := picture.bySystem(options.Title, before+len(out))
		if err != nil {
			return nil, err
		}
		out = append(out, systems...)
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

// systemMargin is the blank above and below a system.
const systemMargin = 0.5 * staffSpace

// bySystem takes a drawing apart: each of its systems is a picture of its own, of the drawing's width.
func (p *picture) bySystem(title string, before int) (out []system, err error) {
	systems := p.inner.FindElements(".//g[@class='system']")
	var page *etree.Element
	for _, one := range systems {
		page = one.Parent()
		page.RemoveChild(one)
	}
	for i, one := range systems {
		page.AddChild(one)
		reach := extentOf(one, p.glyphs)
		top, height := math.Floor(reach.top)-systemMargin, math.Ceil(reach.bottom-reach.top)+2*systemMargin
		// The drawing stands this far within its margins, at ten times the scale of the page about it.
		p.outer = box{0, 0, p.outer.right, height / insideScale}
		p.inside = box{0, insideScale*pageMargin + top, p.inside.right, insideScale*pageMargin + top + height}
		p.title = fmt.Sprintf("%s, system %d", title, before+len(out)+1)
		drawn, err := p.written()
		if err != nil {
			return nil, err
		}
		drawn.SVG = slim(drawn.SVG)
		first := -1
		if measure := one.FindElement("g[@data-m]"); measure != nil {
			first = int(number(measure, "data-m"))
		}
		cramped := 0
		if i < len(p.cramped) {
			cramped = p.cramped[i]
		}
		out = append(out, system{drawn, first, cramped})
		page.RemoveChild(one)
	}
	return out, nil
}
