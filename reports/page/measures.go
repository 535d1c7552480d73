package page

import (
	"cmp"
	"fmt"
	"slices"
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
	Onset string
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
func measures(r *state.Result, tally map[string]int) []measure {
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
		if word := confidenceWord(n); word != "" {
			tally[word]++
		}
		name := strings.TrimSpace(n.Hand.Words() + " " + n.Part)
		if k := len(m.Lines); k == 0 || m.Lines[k-1].Hand != name {
			m.Lines = append(m.Lines, line{Hand: name})
		}
		l := &m.Lines[len(m.Lines)-1]
		onset := fmt.Sprint(n.Onset, " ", n.Grace)
		if k := len(l.Marks); k == 0 || l.Marks[k-1].Onset != onset {
			l.Marks = append(l.Marks, mark{Onset: onset})
		}
		k := &l.Marks[len(l.Marks)-1]
		k.Keys = append(k.Keys, keyOf(n))
	}
	for _, f := range r.Findings {
		m := &all[f.MeasureIndex]
		m.Index, m.Number = f.MeasureIndex, f.Measure
		m.Findings = append(m.Findings, f)
	}
	return slices.DeleteFunc(all, func(m measure) bool { return len(m.Lines) == 0 && len(m.Findings) == 0 })
}

func keyOf(n *state.Note) key {
	k := key{Pitch: n.Pitch, Finger: fmt.Sprint(n.Finger)}
	if n.Finger == 0 {
		k.Finger = "–"
	}
	for _, f := range n.Substitution {
		k.Finger += fmt.Sprintf("-%d", f)
	}
	var classes, said []string
	switch {
	case n.Tied:
		classes, said = append(classes, "held"), append(said, "held")
	case n.Responsibility == score.Unattributed:
		classes, said = append(classes, "open"), append(said, "suggested")
	default:
		classes, said = append(classes, "given"), append(said, n.Responsibility.String()+"'s digit")
	}
	if word := confidenceWord(n); word != "" {
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
