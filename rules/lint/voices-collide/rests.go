package voicescollide

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// restOnHead reports rests that a file sets on a head of another voice of the staff, or between the heads of its chord.
func restOnHead(p *lint.Inspection) {
	type place struct {
		part, staff int
		at          score.Fraction
	}
	s := p.Score
	some := false
	for n := range s.Notes {
		some = some || s.Notes[n].Kind == score.Rest && s.Notes[n].RestOn.Step != 0
	}
	if !some {
		return
	}
	heads := map[place][]int{}
	for n := range s.Notes {
		if x := &s.Notes[n]; x.Kind == score.Pitched && x.Grace == 0 && p.Shows(n) {
			at := place{x.Part, x.Staff, s.At(n)}
			heads[at] = append(heads[at], n)
		}
	}
	for r := range s.Notes {
		x := &s.Notes[r]
		if x.Kind != score.Rest || x.RestOn.Step == 0 || !p.Shows(r) {
			continue
		}
		on := lint.Place(x.RestOn)
		low, high := -1, -1
		for _, n := range heads[place{x.Part, x.Staff, s.At(r)}] {
			y := &s.Notes[n]
			if y.Voice == x.Voice {
				continue
			}
			if low < 0 || lint.Place(y.Pitch) < lint.Place(s.Notes[low].Pitch) {
				low = n
			}
			if high < 0 || lint.Place(y.Pitch) > lint.Place(s.Notes[high].Pitch) {
				high = n
			}
		}
		if low < 0 {
			continue
		}
		if a, b := lint.Place(s.Notes[low].Pitch), lint.Place(s.Notes[high].Pitch); on >= a && on <= b {
			p.Report(lint.Finding{
				Notes:   []int{r, low},
				Message: fmt.Sprintf("the rest of voice %s is set on %s of voice %s", x.Voice, s.Notes[low].Pitch, s.Notes[low].Voice),
				Fix:     "move the rest clear of it",
			})
		}
	}
}
