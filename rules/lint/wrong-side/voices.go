package wrongside

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// few is how many digits on the side of the other voice a piece may have so that they are slips; more are its custom.
const few = 2

// byVoices reports digits on a staff of two voices that stand on the side of the other voice: those of the upper voice
// belong above, those of the lower below (common practice).
func byVoices(p *lint.Inspection) {
	type digit struct{ n, k int }
	var wrong []digit
	right := 0
	staves := map[place][]int{} // what stands on a staff in a measure
	for n := range p.Score.Notes {
		if note := &p.Score.Notes[n]; note.Kind == score.Pitched && note.Grace == 0 && note.HomeStaff == note.Staff {
			at := place{note.Part, note.Staff, note.Measure}
			staves[at] = append(staves[at], n)
		}
	}
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if len(note.Indications) == 0 || !p.Playing.Plays(n) {
			continue
		}
		side := sideOfVoice(p, n, staves[place{note.Part, note.Staff, note.Measure}])
		for k := range note.Indications {
			switch ind := &note.Indications[k]; {
			case side == score.PlacementUnset || ind.Placement == score.PlacementUnset || ind.Hidden || ind.Alternate:
			case ind.Placement == side:
				right++
			default:
				wrong = append(wrong, digit{n, k})
			}
		}
	}
	if len(wrong) > max(few, right/10) {
		return
	}
	for _, d := range wrong {
		note := &p.Score.Notes[d.n]
		ind := &note.Indications[d.k]
		p.Report(lint.Finding{
			Notes: []int{d.n}, Line: ind.Line, Column: ind.Column, Severity: lint.Note,
			Message: fmt.Sprintf("the %s on %s stands %s its staff, on the side of the other voice", ind.Text, note.Pitch,
				ind.Placement),
			Fix: "set it on the side of its own voice",
		})
	}
}

// sideOfVoice is the side on which digits of a note belong by its voice: above where all that sounds with it in other
// voices of the staff lies below, and the reverse. Unset where no other voice sounds, or on both sides of it.
func sideOfVoice(p *lint.Inspection, n int, staff []int) score.Placement {
	note := &p.Score.Notes[n]
	above, below := false, false
	for _, m := range staff {
		x := &p.Score.Notes[m]
		if x.Voice == note.Voice || !x.Onset.Less(note.Onset.Add(note.Duration)) || !note.Onset.Less(x.Onset.Add(x.Duration)) {
			continue
		}
		above, below = above || x.Midi >= note.Midi, below || x.Midi <= note.Midi
	}
	switch {
	case above == below:
		return score.PlacementUnset
	case above:
		return score.Below
	}
	return score.Above
}
