package page

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"fingerproof/pipeline/3_records/state"
)

// Measures of the small curves, in units of their drawing.
const (
	curveWidth  = 600
	curveHeight = 60
	curveLeft   = 34
)

// curve draws a stepped line over the measures with its scale. Values run from low to high; low lies at the bottom.
func curve(
	label string, values []int, numbers []string, low, high int, ticks []int, name func(int) string,
) template.HTML {
	if len(values) == 0 || high <= low {
		return ""
	}
	y := func(v int) int { return 6 + (high-min(max(v, low), high))*curveHeight/(high-low) }
	x := func(i int) int { return curveLeft + i*curveWidth/len(values) }
	var b strings.Builder
	fmt.Fprintf(
		&b, `<svg class="curve" viewBox="0 0 %d %d" role="img" aria-label="%s">`, curveLeft+curveWidth+6,
		curveHeight+26, template.HTMLEscapeString(label),
	)
	for _, t := range ticks {
		fmt.Fprintf(
			&b, `<line class="grid" x1="%d" x2="%d" y1="%d" y2="%d"/><text class="scale" x="%d" y="%d">%s</text>`,
			curveLeft, curveLeft+curveWidth, y(t), y(t), curveLeft-4, y(t)+3, template.HTMLEscapeString(name(t)),
		)
	}
	b.WriteString(`<path class="step" d="`)
	for i, v := range values {
		if i == 0 {
			fmt.Fprintf(&b, "M%d %d", x(0), y(v))
		} else if v != values[i-1] {
			fmt.Fprintf(&b, "V%d", y(v))
		}
		fmt.Fprintf(&b, "H%d", x(i+1))
	}
	b.WriteString(`"/>`)
	every := max(1, len(values)/12)
	for i := 0; i < len(values); i += every {
		fmt.Fprintf(&b, `<text x="%d" y="%d">%s</text>`, x(i), curveHeight+20, template.HTMLEscapeString(numbers[i]))
	}
	b.WriteString("</svg>")
	return template.HTML(b.String()) //nolint:gosec // numbers and escaped text
}

// reachCurve draws, measure by measure, the share of adult pianists who take everything in it.
func reachCurve(r *state.Result, numbers []string) template.HTML {
	values := make([]int, r.Summary.Measures)
	for i := range values {
		values[i] = 100
	}
	least := 100
	for i := range r.Notes {
		if n := &r.Notes[i]; n.Reach != nil {
			values[n.MeasureIndex] = min(values[n.MeasureIndex], int(*n.Reach))
			least = min(least, int(*n.Reach))
		}
	}
	label := fmt.Sprintf(
		"share of adult pianists who take everything, by measure; least: %s", pianists(state.Percent(least)),
	)
	return curve(label, values, numbers, 0, 100, []int{0, 50, 100}, func(v int) string {
		return fmt.Sprintf("%d %%", v)
	})
}

// tempoCurve draws the beats a minute that each measure is fingered for.
func tempoCurve(tempo []int, numbers []string) template.HTML {
	if len(tempo) == 0 || len(numbers) != len(tempo) {
		return ""
	}
	slowest, fastest := slices.Min(tempo), slices.Max(tempo)
	label := fmt.Sprintf("tempo by measure, %d to %d beats a minute", slowest, fastest)
	ticks := slices.Compact([]int{slowest, fastest})
	return curve(
		label, tempo, numbers, max(0, slowest-10), fastest+10, ticks, func(v int) string { return fmt.Sprint(v) },
	)
}

// bar is one row of a picture of bars: a name, a bar that is filled in part, and words behind it. Lengths are pixels.
type bar struct {
	name, words  string
	long, filled int
}

// draw writes the bar from left on, below top.
func (r bar) draw(b *strings.Builder, left, top int) {
	fmt.Fprintf(
		b,
		`<text class="scale" x="%d" y="%d">%s</text><rect class="all" x="%d" y="%d" width="%d" height="11"/>`+
			`<rect class="some" x="%d" y="%d" width="%d" height="11"/><text x="%d" y="%d">%s</text>`,
		left-6, top+13, template.HTMLEscapeString(r.name), left, top+4, r.long, left, top+4, r.filled,
		left+r.long+6, top+13, template.HTMLEscapeString(r.words),
	)
}

// densityBars draws how many digits stand on each page, against its notes.
func densityBars(pages []PageDigits) template.HTML {
	most := 0
	for _, p := range pages {
		most = max(most, p.Notes)
	}
	if most == 0 {
		return ""
	}
	const row, left, width = 18, 84, 420
	var b strings.Builder
	fmt.Fprintf(
		&b, `<svg class="density" viewBox="0 0 %d %d" role="img" aria-label="printed digits by page">`, left+width+96,
		len(pages)*row+4,
	)
	for i, p := range pages {
		bar{
			name: p.Name, words: fmt.Sprintf("%d of %d", p.Digits, p.Notes),
			long: p.Notes * width / most, filled: min(p.Digits, p.Notes) * width / most,
		}.draw(&b, left, i*row)
	}
	b.WriteString("</svg>")
	return template.HTML(b.String()) //nolint:gosec // numbers and escaped text
}
