package page

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"fingerproof/pipeline/state"
)

// effortStrip draws the effort of each measure of a hand as bars. The hardest
// tenth of the measures is hatched as well as dark, so that it shows in black
// and white; every bar links to its measure and says its figure.
func effortStrip(h state.HandTotal, numbers []string) template.HTML {
	n := len(h.Measures)
	if n == 0 {
		return ""
	}
	step := 10
	if n > 120 {
		step = max(3, 1200/n)
	}
	const height, base = 72, 84
	top := max(slices.Max(h.Measures), 1)
	hard := hardest(h.Measures)
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="strip" viewBox="0 0 %d 100" role="img" aria-label="effort by measure, %s">`, n*step+4, handName(h.Hand))
	id := "hatch-" + h.Hand.String() + template.HTMLEscapeString(strings.Map(letters, h.Part))
	fmt.Fprintf(&b, `<defs><pattern id="%s" width="3" height="3" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="3" height="3" class="hatch-ground"/><line x1="0" y1="0" x2="0" y2="3" class="hatch-line"/></pattern></defs>`, id)
	for i, v := range h.Measures {
		tall := int(max(v, 0) * height / top)
		fill := ""
		if v >= hard && v > 0 {
			fill = fmt.Sprintf(` fill="url(#%s)"`, id)
		}
		number := numbers[i]
		if number == "" {
			number = fmt.Sprint(i + 1)
		}
		fmt.Fprintf(&b, `<a href="#m%d"><title>m. %s: %.1f</title><rect class="bar" x="%d" y="%d" width="%d" height="%d"%s/></a>`,
			i, template.HTMLEscapeString(number), float64(v)/1000, i*step+2, base-max(tall, 1), max(step-2, 2), max(tall, 1), fill)
		if every := max(1, 100/step); i%every == 0 {
			fmt.Fprintf(&b, `<text x="%d" y="96">%s</text>`, i*step+2, template.HTMLEscapeString(number))
		}
	}
	fmt.Fprintf(&b, `<line class="base" x1="0" x2="%d" y1="%d" y2="%d"/></svg>`, n*step+4, base, base)
	return template.HTML(b.String()) //nolint:gosec // built from numbers and escaped text
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
	return template.HTML(fmt.Sprintf(`<svg class="spark" viewBox="0 -1 %d %d" role="img" aria-label="course of effort"><polyline points="%s"/></svg>`, width, height+2, strings.Join(points, " "))) //nolint:gosec // numbers only
}
