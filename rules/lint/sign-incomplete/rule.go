// Package signincomplete checks signs that belong to several notes.
package signincomplete

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a roll or a fermata stands at some of its notes alone.
var Rule = &lint.Rule{
	Name:  "sign-incomplete",
	Title: "a roll or a fermata stands at some of its notes alone",
	Checks: "Rolled chords of one stem of which a note lacks the sign, in pieces whose rolled chords have it at " +
		"all their notes; and fermatas over one hand of the piano where the other strikes a note or rests at the " +
		"same moment, in pieces in which both hands have theirs; and rolls at a single note. Where a piece has more than one such place, that " +
		"is how it is written.",
	Why:      "The sign is drawn over a part of the chord, or one hand waits and the other goes on.",
	Before:   "C4 E4 G4 rolled, the E4 without the sign",
	After:    "the sign at all three",
	Severity: lint.Note,
	Since:    "0.20",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

const (
	fewSlips = 1 // places of a piece
	custom   = 1 // signs of a piece that are whole, so many times as many as slips
)

func run(p *lint.Inspection) {
	rolls(p)
	fermatas(p)
	alone(p)
}

func rolls(p *lint.Inspection) {
	s := p.Score
	whole := 0
	var found []int // a note without the sign, of each chord
	for from := 0; from < len(s.Notes); {
		to := from + 1
		for to < len(s.Notes) && s.Notes[to].Chord {
			to++
		}
		rolled, without := 0, -1
		for n := from; n < to; n++ {
			if s.Notes[n].Arpeggio.Rolled {
				rolled++
			} else {
				without = n
			}
		}
		switch {
		case to-from < 2 || rolled == 0 || !p.Playing.Plays(from):
		case rolled == to-from:
			whole++
		default:
			found = append(found, without)
		}
		from = to
	}
	if len(found) > fewSlips || whole < custom {
		return
	}
	for _, n := range found {
		p.Report(lint.Finding{
			Notes: []int{n}, Message: fmt.Sprintf("the chord is rolled, and %s lacks the sign", s.Notes[n].Pitch), Fix: "set the sign at all its notes",
		})
	}
}

func fermatas(p *lint.Inspection) {
	s := p.Score
	type moment struct {
		part int
		at   score.Fraction
	}
	staves := map[moment]map[int]bool{} // with a fermata
	var order []int
	for k := range s.Items {
		i := &s.Items[k]
		if i.Kind != score.ItemFermata || i.Note < 0 || s.Parts[i.Part].Staves != 2 || !s.Parts[i.Part].Keyboard {
			continue
		}
		at := moment{i.Part, s.At(i.Note)}
		if staves[at] == nil {
			staves[at] = map[int]bool{}
			order = append(order, k)
		}
		staves[at][s.Notes[i.Note].Staff] = true
	}
	begins := map[moment]map[int]int{} // by staff a note or rest that begins, plus one
	for n := range s.Notes {
		x := &s.Notes[n]
		if at := (moment{x.Part, s.At(n)}); staves[at] != nil && x.Grace == 0 && !x.Hidden && !x.Cue {
			if begins[at] == nil {
				begins[at] = map[int]int{}
			}
			begins[at][x.Staff] = n + 1
		}
	}
	both := 0
	var found []int
	for _, k := range order {
		i := &s.Items[k]
		at := moment{i.Part, s.At(i.Note)}
		if len(staves[at]) == 2 {
			both++
		} else if other := begins[at][3-s.Notes[i.Note].Staff]; other > 0 && s.Notes[other-1].Duration == s.Notes[i.Note].Duration {
			found = append(found, k)
		}
	}
	if len(found) > fewSlips || both < custom {
		return
	}
	for _, k := range found {
		p.ReportItem(&s.Items[k], lint.Finding{
			Message: "a fermata stands at one hand alone, and the other is as long", Fix: "set it at both staves",
		})
	}
}

// alone reports the sign of a roll at a note beside which the part strikes none.
func alone(p *lint.Inspection) {
	s := p.Score
	type moment struct {
		part int
		at   score.Fraction
	}
	struck := map[moment]int{}
	for n := range s.Notes {
		if x := &s.Notes[n]; x.Kind == score.Pitched && x.Grace == 0 && !x.Cue {
			struck[moment{x.Part, s.At(n)}]++
		}
	}
	var found []int
	for n := range s.Notes {
		if x := &s.Notes[n]; x.Arpeggio.Rolled && x.Grace == 0 && !x.Hidden && p.Playing.Plays(n) && struck[moment{x.Part, s.At(n)}] == 1 {
			found = append(found, n)
		}
	}
	if len(found) > 2*fewSlips {
		return
	}
	for _, n := range found {
		p.Report(lint.Finding{
			Notes: []int{n}, Message: fmt.Sprintf("a roll stands at %s alone", s.Notes[n].Pitch), Fix: "take it out, or set it at the chord that is meant",
		})
	}
}
