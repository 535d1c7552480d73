package page

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"fingerproof/pipeline/3_records/state"
)

// Measures of an effort strip, in units of its drawing.
const (
	stripHeight = 72
	stripBase   = 84
)

// effortStrip draws the effort of each measure of a hand as bars, and that of the other hand sizes as stepped lines,
// each broken in its own way. The hardest tenth of the measures is hatched as well as dark: all of it shows in black
// and white. Every bar links to its measure and says its figure.
func effortStrip(h state.HandTotal, numbers []string, others []OtherHand) template.HTML {
	n := len(h.Measures)
	if n == 0 {
		return ""
	}
	step := min(max(3, 900/n), 24)
	most := max(slices.Max(h.Measures), 1)
	top := most
	key := handOf{h.Hand, h.Part}
	for _, o := range others {
		if m := o.Measures[key]; len(m) == n {
			top = max(top, slices.Max(m))
		}
	}
	top = min(top, 2*most) // what another hand cannot take at all would flatten the bars
	hard := hardest(h.Measures)
	var b strings.Builder
	fmt.Fprintf(
		&b, `<svg class="strip" viewBox="0 0 %d 100" width="%d" role="group" aria-label="effort by measure, %s">`,
		n*step+4, n*step+4, h.Hand.Words(),
	)
	id := "hatch-" + h.Hand.String() + template.HTMLEscapeString(strings.Map(letters, h.Part))
	fmt.Fprintf(
		&b,
		`<defs><pattern id="%s" width="3" height="3" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">`+
			`<rect width="3" height="3" class="hatch-ground"/><line x1="0" y1="0" x2="0" y2="3" class="hatch-line"/>`+
			`</pattern></defs>`,
		id,
	)
	for i, v := range h.Measures {
		tall := int(max(v, 0) * stripHeight / top)
		fill := ""
		if v >= hard && v > 0 {
			fill = fmt.Sprintf(` fill="url(#%s)"`, id)
		}
		said := fmt.Sprintf("m. %s: %.1f", numbers[i], float64(v)/1000)
		for _, o := range others {
			if m := o.Measures[key]; len(m) == n {
				said += fmt.Sprintf(", %s hand %.1f", o.Name, float64(m[i])/1000)
			}
		}
		said = template.HTMLEscapeString(said)
		fmt.Fprintf(
			&b,
			`<a href="#m%d" tabindex="-1" aria-label="%s"><title>%s</title>`+
				`<rect class="bar" x="%d" y="%d" width="%d" height="%d"%s/></a>`,
			i, said, said, i*step+2, stripBase-max(tall, 1), max(step-2, 2), max(tall, 1), fill)
		if every := max(1, 100/step); i%every == 0 {
			fmt.Fprintf(&b, `<text x="%d" y="96">%s</text>`, i*step+2, template.HTMLEscapeString(numbers[i]))
		}
	}
	for _, o := range others {
		m := o.Measures[key]
		if len(m) != n {
			continue
		}
		fmt.Fprintf(&b, `<path class="other %s" d="`, o.Name)
		for i, v := range m {
			y := stripBase - int(min(max(v, 0), top)*stripHeight/top)
			if i == 0 {
				fmt.Fprintf(&b, "M2 %d", y)
			} else {
				fmt.Fprintf(&b, "V%d", y)
			}
			fmt.Fprintf(&b, "H%d", (i+1)*step+1)
		}
		b.WriteString(`"/>`)
	}
	fmt.Fprintf(&b, `<line class="base" x1="0" x2="%d" y1="%d" y2="%d"/></svg>`, n*step+4, stripBase, stripBase)
	return template.HTML(b.String()) //nolint:gosec // built from numbers and escaped text
}

// otherWords says how the lines of the other hands are broken.
func otherWords(others []OtherHand) string {
	how := map[string]string{"octave": "dotted", "ninth": "thin", "tenth": "dashed"}
	var parts []string
	for _, o := range others {
		parts = append(parts, fmt.Sprintf("the %s line: the %s hand", how[o.Name], o.Name))
	}
	if len(parts) == 0 {
		return ""
	}
	return "Bars: the hand of this edition, the hardest tenth hatched; " + strings.Join(parts, "; ") +
		". A line stands above or below a bar by what this fingering costs that hand more or less than this edition's; " +
		"one at the top may go beyond it: the bar says the figure."
}

func letters(c rune) rune {
	if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' {
		return c
	}
	return '-'
}

// hardest is the effort from which a measure belongs to the hardest tenth.
func hardest(measures []int64) int64 {
	sorted := slices.Clone(measures)
	slices.Sort(sorted)
	return sorted[len(sorted)-max(len(sorted)/10, 1)]
}

// spark draws the course of effort of a whole piece, both hands summed, as one line.
func spark(hands []state.HandTotal) template.HTML {
	var sum []int64
	for _, h := range hands {
		for i, v := range h.Measures {
			if i == len(sum) {
				sum = append(sum, 0)
			}
			sum[i] += max(v, 0)
		}
	}
	if len(sum) == 0 {
		return ""
	}
	const width, height = 120, 22
	top := max(slices.Max(sum), 1)
	var points []string
	for i, v := range sum {
		points = append(points, fmt.Sprintf("%d,%d", i*width/max(len(sum)-1, 1), height-int(v*(height-2)/top)))
	}
	svg := fmt.Sprintf(
		`<svg class="spark" viewBox="0 -1 %d %d" role="img" aria-label="course of effort"><polyline points="%s"/></svg>`,
		width, height+2, strings.Join(points, " "),
	)
	return template.HTML(svg) //nolint:gosec // numbers only
}
