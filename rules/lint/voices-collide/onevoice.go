package voicescollide

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// fewMeasures is in how many measures of a staff notes of one voice may overlap as a slip; beyond, the file writes so.
const fewMeasures = 1

// inOneVoice reports measures in which two rhythms run at once under one voice number: a note begins while the one before it
// in its voice lasts, and joins no chord.
func inOneVoice(p *lint.Inspection) {
	type staff struct{ part, staff int }
	type voice struct {
		staff
		name string
	}
	s := p.Score
	measures := map[staff][]int{}  // with such notes
	first := map[[3]int][2]int{}   // by part, staff and measure: the first two
	voices := map[staff][]string{} // that the staff has
	rows := map[voice][]int{}      // its notes in the measure
	for n := range s.Notes {
		x := &s.Notes[n]
		if x.Grace > 0 || x.Cue || x.Chord || x.Kind == score.Unpitched || x.Duration.Sign() == 0 {
			continue
		}
		at := staff{x.Part, x.HomeStaff}
		if x.Hidden {
			continue
		}
		v := voice{at, x.Voice}
		if !slices.Contains(voices[at], x.Voice) {
			voices[at] = append(voices[at], x.Voice)
		}
		row := rows[v]
		if len(row) > 0 && s.Notes[row[0]].Measure != x.Measure {
			row = nil
		}
		for _, m := range row {
			if k := len(measures[at]); x.Kind == score.Pitched && overlap(s, m, n) && (k == 0 || measures[at][k-1] != x.Measure) {
				measures[at] = append(measures[at], x.Measure)
				first[[3]int{x.Part, x.HomeStaff, x.Measure}] = [2]int{m, n}
			}
		}
		if x.Kind == score.Pitched {
			row = append(row, n)
		}
		rows[v] = row
	}
	several := false // the file tells voices apart
	for _, names := range voices {
		several = several || len(names) > 1
	}
	for part := range s.Parts {
		for of := 1; of <= max(s.Parts[part].Staves, 1); of++ {
			at := staff{part, of}
			if len(measures[at]) > fewMeasures {
				continue
			}
			for _, measure := range measures[at] {
				pair := first[[3]int{part, of, measure}]
				a, b := &s.Notes[pair[0]], &s.Notes[pair[1]]
				if a.Onset == b.Onset && a.Duration == b.Duration && a.Staff == b.Staff {
					p.Report(lint.Finding{
						Notes:   []int{pair[0], pair[1]},
						Message: fmt.Sprintf("%s and %s are struck at once in voice %s, each for itself", a.Pitch, b.Pitch, a.Voice),
						Fix:     "make them one chord, or two voices",
					})
					continue
				}
				if !several {
					continue
				}
				p.Report(lint.Finding{
					Notes:   []int{pair[0], pair[1]},
					Message: fmt.Sprintf("%s and %s are both of voice %s and sound at once, in no chord", a.Pitch, b.Pitch, a.Voice),
					Fix:     "give the second line a voice of its own",
				})
			}
		}
	}
}

// restInChord reports rests that are written into a chord.
func restInChord(p *lint.Inspection) {
	s := p.Score
	head := -1
	for n := range s.Notes {
		x := &s.Notes[n]
		if !x.Chord {
			head = n
		}
		if !x.Chord || head < 0 || s.Notes[head].Kind == x.Kind || x.Kind != score.Rest && s.Notes[head].Kind != score.Rest || !p.Shows(n) || !p.Shows(head) {
			continue
		}
		of := &s.Notes[head]
		if of.Kind == score.Rest {
			of = x
		}
		p.Report(lint.Finding{
			Notes: []int{n, head}, Message: fmt.Sprintf("a rest is written into the chord of %s", of.Pitch), Fix: "take it out, or give it a voice of its own",
		})
	}
}

// overlap says that two notes sound at once, each for a time.
func overlap(s *score.Score, n, m int) bool {
	return s.At(n).Less(s.At(m).Add(s.Notes[m].Duration)) && s.At(m).Less(s.At(n).Add(s.Notes[n].Duration))
}
