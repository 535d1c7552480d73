// Package fingersoutoforder checks the order of fingers in a chord.
package fingersoutoforder

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: the fingers of a chord cross.
var Rule = &lint.Rule{
	Name:  "fingers-out-of-order",
	Title: "the fingers of a chord cross",
	Checks: "Digits that stand on keys of one hand struck together: from the thumb outward the keys must lie in " +
		"the order of the fingers. Keys no more than a whole tone apart are left alone (there a finger may lie " +
		"over its neighbour; a second alone on keys of one colour is a note), and so are rolled chords, unless all " +
		"their digits stand upside down. Where the notes stand on several stems, or the whole lies in order for " +
		"the other hand and that hand is near, the hand is a guess and the finding milder.",
	Why: "A higher key under a lower finger is nearly always a digit on the wrong note of the chord, or two that " +
		"were swapped.",
	Before:   "right hand: C4 with 5, E4 with 3, G4 with 1",
	After:    "right hand: C4 with 1, E4 with 3, G4 with 5",
	Severity: lint.Error,
	Mildest:  lint.Note,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	signs := lint.SignsByPlace(p)
	p.Chords(func(chord []int) {
		if p.Score.Notes[chord[0]].Arpeggio.Rolled && !upsideDown(p, chord) {
			return
		}
		if low, high, alone := forOtherHand(p, signs, chord); alone {
			report(p, chord, low, high, false)
			return
		}
		before, first, inOrder := -1, [2]int{-1, -1}, false
		for _, m := range chord {
			if p.AskedFinger(m) == 0 {
				continue
			}
			if before >= 0 {
				switch crossed := p.Crossed(before, m, p.AskedFinger(before), p.AskedFinger(m)); {
				case !crossed:
					inOrder = inOrder || p.AskedFinger(before) != p.AskedFinger(m)
				case first[0] >= 0:
				case p.Semitones(before, m) > 2:
					first = [2]int{before, m}
				case len(chord) == 2 && p.OneStem(before, m) && p.Black(before) == p.Black(m) && !p.ChangesFinger(before) && !p.ChangesFinger(m):
					first = [2]int{before, m} // a second alone: no finger need lie over its neighbour
				}
			}
			before = m
		}
		if first[0] >= 0 && !twoHands(p, first[0], first[1]) { // one finding a chord: what follows is the same slip
			report(p, chord, first[0], first[1], inOrder)
		}
	})
}

// twoHands says that two notes stand in two voices of a staff, and that the other hand rests and can have one of them.
func twoHands(p *lint.Inspection, n, m int) bool {
	st := p.Playing.Stroke(n)
	return st != nil && p.TwoVoices(n, m) && p.HandRests(st) && p.FitsByVoices(st)
}

// upsideDown says that three keys and more of a chord have digits, each on the wrong side of the one before: no hand rolls
// it so.
func upsideDown(p *lint.Inspection, chord []int) bool {
	before, count := -1, 0
	for _, m := range chord {
		if p.AskedFinger(m) == 0 {
			continue
		}
		if before >= 0 && !p.Crossed(before, m, p.AskedFinger(before), p.AskedFinger(m)) {
			return false
		}
		before = m
		count++
	}
	return count >= 3
}

// report is an error where the hand is sure: all on one stem, and the digits
// in order for neither hand or the other hand too far away. Elsewhere the
// digits may be the other hand's.
func report(p *lint.Inspection, chord []int, low, high int, inOrder bool) {
	a, b := &p.Score.Notes[low], &p.Score.Notes[high]
	f := lint.Finding{
		Notes: []int{low, high},
		Message: fmt.Sprintf(
			"%s with %d lies on the wrong side of %s with %d", b.Pitch, p.AskedFinger(high), a.Pitch,
			p.AskedFinger(low),
		),
		Fix: "check which digit belongs to which note of the chord",
	}
	sure := inOrder || p.OtherIsBusy(chord)
	for _, n := range chord {
		sure = sure && p.OneStem(n, low) && p.Score.Notes[n].Grace == 0 && !p.ChangesFinger(n)
	}
	if p.Semitones(low, high) <= 2 {
		f.Severity = lint.Note
	} else if !sure {
		f.Severity = lint.Warning
		if p.Score.Notes[low].Grace > 0 {
			f.Severity = lint.Note // whose they are is not sure at all
		}
		f.Fix += ", or whether the other hand takes it"
	}
	p.Report(f)
}

// forOtherHand says that the digits of one chord alone are what gives it to the hand of the other staff: they lie in
// order for that hand, which plays on its own staff before and after, and neither a sign nor a decision says that it comes
// over. Gives the
// two notes whose digits cross for the hand of the staff.
func forOtherHand(p *lint.Inspection, signs lint.Signs, chord []int) (low, high int, alone bool) {
	low, high = -1, -1
	for _, n := range chord {
		note := &p.Score.Notes[n]
		if p.Score.Parts[note.Part].Staves != 2 || note.Staff != note.HomeStaff || note.Staff == staffOf(p.Playing.Hand(n)) ||
			lint.SignAt(p, signs, n) >= 0 || !p.OneStem(n, chord[0]) || p.Handed != nil && p.Handed[n] {
			return low, high, false
		}
		switch {
		case p.AskedFinger(n) == 0:
		case low < 0:
			low = n
		case high < 0:
			high = n
		}
	}
	st := p.Playing.Stroke(chord[0])
	if high < 0 || st == nil {
		return low, high, false
	}
	strokes := p.Playing.Lines[st.Line].Strokes
	for _, i := range []int{st.Index - 1, st.Index + 1} {
		if i < 0 || i >= len(strokes) {
			continue
		}
		if beside := strokes[i].Notes[0]; p.Score.Notes[beside].Staff == p.Score.Notes[low].Staff {
			return low, high, false
		}
	}
	return low, high, true
}

// staffOf is the staff of a hand, where a part has two.
func staffOf(h score.Hand) int {
	if h == score.Left {
		return 2
	}
	return 1
}
