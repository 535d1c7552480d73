package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/state"
)

// sheetPassage is a passage to judge, with its number on the sheet.
type sheetPassage struct {
	number   int
	hand     score.Hand
	part     string
	from, to int   // measures, by index
	notes    []int // struck notes, in the order of playing
}

const (
	passageMeasures = 4  // so many at most, to be taken in at a glance
	realDoubt       = 55 // percent of confidence
)

// sheetPassages gathers the measures of each hand in which something waits for
// an editor: a real doubt that nobody has settled, or a finding. Neighbouring
// measures are one passage.
func sheetPassages(w *pipeline.Way) []sheetPassage {
	type line struct {
		part string
		hand score.Hand
	}
	waits := map[line]map[int]bool{}
	wait := func(n *state.Note) {
		l := line{n.Part, n.Hand}
		if waits[l] == nil {
			waits[l] = map[int]bool{}
		}
		waits[l][n.MeasureIndex] = true
	}
	at := map[int]*state.Note{}
	for i := range w.Result.Notes {
		n := &w.Result.Notes[i]
		at[n.N] = n
		if n.Confidence != nil && *n.Confidence < realDoubt && !n.Tied {
			wait(n)
		}
	}
	for _, f := range w.Result.Findings {
		if len(f.Notes) > 0 && at[f.Notes[0]] != nil {
			wait(at[f.Notes[0]])
		}
	}
	for _, d := range w.Result.Redistributions {
		for _, n := range d.Notes {
			if !d.Decided && at[n.N] != nil {
				wait(at[n.N])
			}
		}
	}
	var out []sheetPassage
	for l, measures := range waits { // sorted below
		for m := 0; m < len(w.Score.Measures); m++ {
			if !measures[m] {
				continue
			}
			p := sheetPassage{hand: l.hand, part: l.part, from: m}
			for m+1 < len(w.Score.Measures) && measures[m+1] && m+1-p.from < passageMeasures {
				m++
			}
			p.to = m
			for i := range w.Result.Notes {
				if n := &w.Result.Notes[i]; n.Part == l.part && n.Hand == l.hand && !n.Tied && n.MeasureIndex >= p.from && n.MeasureIndex <= p.to {
					p.notes = append(p.notes, n.N)
				}
			}
			slices.SortStableFunc(p.notes, func(a, b int) int {
				return cmp.Or(w.Score.At(a).Cmp(w.Score.At(b)), cmp.Compare(graceLast(at[a].Grace), graceLast(at[b].Grace)), cmp.Compare(at[a].Midi, at[b].Midi))
			})
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b sheetPassage) int {
		return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.part, b.part), cmp.Compare(a.hand, b.hand))
	})
	for i := range out {
		out[i].number = i + 1
	}
	return out
}

func graceLast(grace int) int {
	if grace == 0 {
		return 1 << 20
	}
	return grace
}

// writeSheet prints the sheet.
func writeSheet(out io.Writer, w *pipeline.Way) error {
	var b strings.Builder
	passages := sheetPassages(w)
	title := w.Result.Summary.Title
	if title == "" {
		title = w.Piece.ID
	}
	fmt.Fprintf(&b, "%s\n%d passages to judge, %s, %s\n", title, len(passages), w.Policy.Title(), w.Result.Summary.Hand)
	fmt.Fprintf(&b, "Key in: fingerproof decisions enter %s --by INITIALS\n", w.Piece.ID)
	at := map[int]*state.Note{}
	for i := range w.Result.Notes {
		at[w.Result.Notes[i].N] = &w.Result.Notes[i]
	}
	for _, p := range passages {
		place, hand := "m. "+w.Score.Measures[p.from].Number, "right hand"
		if p.to > p.from {
			place = "mm. " + w.Score.Measures[p.from].Number + "–" + w.Score.Measures[p.to].Number
		}
		if p.hand == score.Left {
			hand = "left hand"
		}
		if p.part != "" {
			hand += " (" + p.part + ")"
		}
		fmt.Fprintf(&b, "\n#%-3d %s, %s    ok [ ]  stet [ ]  ? [ ]\n", p.number, place, hand)
		sheetLines(&b, w, p, at)
		for _, f := range w.Result.Findings {
			if len(f.Notes) > 0 && slices.Contains(p.notes, f.Notes[0]) {
				fmt.Fprintf(&b, "     %s: %s [%s]\n", f.Severity, f.Sentence(), f.Rule)
			}
		}
		b.WriteString("     ........................................................................\n")
	}
	_, err := io.WriteString(out, b.String())
	return err
}

// sheetLines prints a passage measure by measure as it could be keyed in, and
// the choices below.
func sheetLines(b *strings.Builder, w *pipeline.Way, p sheetPassage, at map[int]*state.Note) {
	letter := strings.ToLower(p.hand.String())
	measure := -1
	for i, n := range p.notes {
		note := &w.Score.Notes[n]
		if note.Measure != measure {
			if measure >= 0 {
				b.WriteString("\n")
			}
			measure = note.Measure
			fmt.Fprintf(b, "     %s %s %s  ", w.Score.Measures[measure].Number, letter, w.Score.Beat(measure, note.Onset))
		} else if q := p.notes[i-1]; w.Score.At(q) == w.Score.At(n) && at[q].Grace == at[n].Grace {
			b.WriteString("+")
		} else {
			b.WriteString(" ")
		}
		fmt.Fprintf(b, "%s=%d", note.Pitch, at[n].Finger)
		for _, f := range at[n].Substitution {
			fmt.Fprintf(b, "-%d", f)
		}
	}
	b.WriteString("\n")
	for _, n := range p.notes {
		e := at[n]
		if e.Confidence == nil || *e.Confidence >= realDoubt || len(e.Alternatives) == 0 {
			continue
		}
		note := &w.Score.Notes[n]
		fmt.Fprintf(b, "     m. %s, beat %s, %s: %d", w.Score.Measures[note.Measure].Number, w.Score.Beat(note.Measure, note.Onset), note.Pitch, e.Finger)
		for _, a := range e.Alternatives {
			if a.Finger != e.Finger {
				fmt.Fprintf(b, ", or %d (costs more by %.2f)", a.Finger, float64(a.Regret)/1000)
			}
		}
		b.WriteString("\n")
	}
}
