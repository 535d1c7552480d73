package page

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
)

// measure is one measure with its notes by hand.
type measure struct {
	Index    int
	Number   string
	Lines    []line
	Findings []state.Finding
}

type line struct {
	Hand  string
	Marks []mark
}

// mark is a note with its finger, or a chord with its fingers, highest first.
type mark struct {
	onset score.Fraction
	grace int
	Keys  []key
}

type key struct {
	Pitch, Finger, Class, Said string
}

type doubt struct {
	Place, Pitch string
	Finger       int
	Others       []string
}

// measures gathers notes, findings and doubts by measure. Measures without
// any of them are left out.
func measures(r *state.Result, tally map[string]int, inDoubt map[int]bool) []measure {
	all := make([]measure, r.Summary.Measures)
	var order []int
	for i := range r.Notes {
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(a, b int) int {
		m, n := &r.Notes[a], &r.Notes[b]
		return cmp.Or(
			cmp.Compare(m.MeasureIndex, n.MeasureIndex), cmp.Compare(m.Part, n.Part), cmp.Compare(m.Hand, n.Hand),
			m.Before(n), -cmp.Compare(m.Midi, n.Midi))
	})
	for _, i := range order {
		n := &r.Notes[i]
		m := &all[n.MeasureIndex]
		m.Index, m.Number = n.MeasureIndex, n.Measure
		if word := confidenceWord(n, inDoubt); word != "" {
			tally[word]++
		}
		name := strings.TrimSpace(n.Hand.Words() + " " + n.Part)
		if k := len(m.Lines); k == 0 || m.Lines[k-1].Hand != name {
			m.Lines = append(m.Lines, line{Hand: name})
		}
		l := &m.Lines[len(m.Lines)-1]
		if k := len(l.Marks); k == 0 || l.Marks[k-1].onset != n.Onset || l.Marks[k-1].grace != n.Grace {
			l.Marks = append(l.Marks, mark{onset: n.Onset, grace: n.Grace})
		}
		k := &l.Marks[len(l.Marks)-1]
		k.Keys = append(k.Keys, keyOf(n, inDoubt))
	}
	for _, f := range r.Findings {
		m := &all[f.MeasureIndex]
		m.Index, m.Number = f.MeasureIndex, f.Measure
		m.Findings = append(m.Findings, f)
	}
	return slices.DeleteFunc(all, func(m measure) bool { return len(m.Lines) == 0 && len(m.Findings) == 0 })
}

// perMark is about how many bytes a mark takes on a page, with what stands around it.
const perMark = 180

// drawMeasures writes what the measures hold, note by note. It is most of a page: a template takes many times as long.
func drawMeasures(all []measure) template.HTML {
	var b strings.Builder
	size := 0
	for i := range all {
		for _, l := range all[i].Lines {
			size += perMark * len(l.Marks)
		}
	}
	b.Grow(size)
	for i := range all {
		m := &all[i]
		number := escaped(m.Number)
		fmt.Fprintf(&b, `<section class="measure" id="m%d" aria-label="measure %s">`+"\n<h3>m. %s</h3>\n", m.Index, number, number)
		for _, l := range m.Lines {
			b.WriteString(`<div class="hand"><span class="name">` + escaped(l.Hand) + `</span>`)
			for _, mark := range l.Marks {
				b.WriteString(`<span class="chord">`)
				for _, k := range mark.Keys {
					b.WriteString(`<span class="key ` + escaped(k.Class) + `" title="` + escaped(k.Said) + `"><b>` +
						escaped(k.Finger) + `</b><small>` + escaped(k.Pitch) + `</small></span>`)
				}
				b.WriteString(`</span>`)
			}
			b.WriteString("</div>\n")
		}
		for _, f := range m.Findings {
			b.WriteString(`<p><span class="severity">` + escaped(f.Severity) + `</span> ` + escaped(f.Sentence()) +
				` <span class="rule">` + escaped(f.Rule) + "</span></p>")
		}
		b.WriteString("\n</section>\n")
	}
	return template.HTML(b.String()) //nolint:gosec // all text in it is escaped
}

// escaped is text as it stands in an element or a quoted attribute, written as templates write it.
var escaped = strings.NewReplacer(
	"\x00", "\uFFFD", `"`, "&#34;", "&", "&amp;", "'", "&#39;", "+", "&#43;", "<", "&lt;", ">", "&gt;",
).Replace

func keyOf(n *state.Note, inDoubt map[int]bool) key {
	k := key{Pitch: n.Pitch, Finger: strconv.Itoa(n.Finger)}
	if n.Finger == 0 {
		k.Finger = "–"
	}
	for _, f := range n.Changes() {
		k.Finger += fmt.Sprintf("-%d", f)
	}
	var room [2][4]string // for as many as there can be
	classes, said := room[0][:0], room[1][:0]
	switch {
	case n.Tied:
		classes, said = append(classes, "held"), append(said, "held")
	case n.Responsibility == score.Unattributed:
		classes, said = append(classes, "open"), append(said, "suggested")
	default:
		classes, said = append(classes, "given"), append(said, n.Responsibility.String()+"'s digit")
	}
	if word := confidenceWord(n, inDoubt); word != "" {
		classes, said = append(classes, word), append(said, word)
	}
	if n.OutOfReach != "" {
		classes, said = append(classes, "beyond"), append(said, n.OutOfReach)
	}
	if n.Grace > 0 {
		classes = append(classes, "grace")
	}
	k.Class, k.Said = strings.Join(classes, " "), n.Pitch+", "+strings.Join(said, ", ")
	return k
}
