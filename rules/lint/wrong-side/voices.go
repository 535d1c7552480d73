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
			case p.Sides != nil && p.Sides[n] == ind.Placement: // as the chords and voices about it have it in an edition
				right++
			case inStack(p, n, ind.Placement, staves[place{note.Part, note.Staff, note.Measure}]):
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
// voices of the staff lies below, and the reverse. Unset where no other voice sounds, or on both sides of it; and beside
// a voice that is there for less than half the time.
func sideOfVoice(p *lint.Inspection, n int, staff []int) score.Placement {
	note := &p.Score.Notes[n]
	above, below := false, false
	own := lasts(p, staff, note.Voice)
	for _, m := range staff {
		x := &p.Score.Notes[m]
		if other := lasts(p, staff, x.Voice); other.Add(other).Less(own) {
			continue
		}
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

// inStack says that a digit stands outside its hand with that of another voice's note which is struck with it and held equally
// long: they are read as the stack of one chord.
func inStack(p *lint.Inspection, n int, side score.Placement, staff []int) bool {
	note, hand := &p.Score.Notes[n], p.Playing.Hand(n)
	if hand == score.NoHand || (hand == score.Left) != (side == score.Below) {
		return false
	}
	for _, m := range staff {
		x := &p.Score.Notes[m]
		if x.Voice == note.Voice || p.Playing.Hand(m) != hand || !x.Onset.Equal(note.Onset) || !x.Duration.Equal(note.Duration) {
			continue
		}
		for k := range x.Indications {
			if x.Indications[k].Placement == side && !x.Indications[k].Hidden {
				return true
			}
		}
	}
	return false
}

// lasts is how long a voice is there in a measure.
func lasts(p *lint.Inspection, staff []int, voice string) score.Fraction {
	var begin, end score.Fraction
	found := false
	for _, m := range staff {
		n := &p.Score.Notes[m]
		if n.Voice != voice {
			continue
		}
		if !found || n.Onset.Less(begin) {
			begin = n.Onset
		}
		if to := n.Onset.Add(n.Duration); !found || end.Less(to) {
			end = to
		}
		found = true
	}
	return end.Sub(begin)
}
