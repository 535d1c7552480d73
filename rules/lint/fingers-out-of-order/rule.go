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
			exchangedInRoll(p, chord)
			return
		}
		if onOtherStaff(p, chord) {
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
				case len(chord) > 2 && p.OneStem(before, m) && p.Black(before) == p.Black(m) && !p.ChangesFinger(before) && !p.ChangesFinger(m):
					first = [2]int{before, m} // a second within a chord, on keys of one colour
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

// exchangedInRoll reports a rolled chord of an octave at most, all its keys with digits, of which two neighbours have each
// other's: with them exchanged all lie in order.
func exchangedInRoll(p *lint.Inspection, chord []int) {
	if len(chord) < 3 || p.Semitones(chord[0], chord[len(chord)-1]) > 12 {
		return
	}
	at, crossings := -1, 0
	for i, n := range chord {
		if p.AskedFinger(n) == 0 || p.ChangesFinger(n) || !p.OneStem(n, chord[0]) {
			return
		}
		if i > 0 && p.Crossed(chord[i-1], n, p.AskedFinger(chord[i-1]), p.AskedFinger(n)) {
			at, crossings = i, crossings+1
		}
	}
	if crossings != 1 || !inOrderExchanged(p, chord, at) {
		return
	}
	a, b := chord[at-1], chord[at]
	p.Report(lint.Finding{
		Notes: []int{a, b}, Severity: lint.Warning, Fix: "exchange them, if the chord is not rolled across",
		Message: fmt.Sprintf("in the rolled chord %s with %d and %s with %d seem to be exchanged", p.Score.Notes[a].Pitch, p.AskedFinger(a),
			p.Score.Notes[b].Pitch, p.AskedFinger(b)),
	})
}

// inOrderExchanged says that the fingers of a chord lie in order once two neighbours have exchanged theirs.
func inOrderExchanged(p *lint.Inspection, chord []int, at int) bool {
	finger := func(i int) int {
		switch i {
		case at:
			i = at - 1
		case at - 1:
			i = at
		}
		return p.AskedFinger(chord[i])
	}
	for i := 1; i < len(chord); i++ {
		if finger(i-1) == finger(i) || p.Crossed(chord[i-1], chord[i], finger(i-1), finger(i)) {
			return false
		}
	}
	return true
}

// onOtherStaff reports a chord of three digits and more on one stem that lies in order for the hand of the other staff, and only
// therefore is read as that hand's, though this strikes a key on its own staff as well: its digits are turned round.
func onOtherStaff(p *lint.Inspection, chord []int) bool {
	var own []int
	there := false
	for _, n := range chord {
		x := &p.Score.Notes[n]
		switch {
		case p.Score.Parts[x.Part].Staves != 2 || x.Staff != x.HomeStaff || x.Grace > 0 || p.Handed != nil && p.Handed[n]:
			return false
		case x.Staff == staffOf(p.Playing.Hand(n)):
			there = true
		case p.AskedFinger(n) > 0 && (len(own) == 0 || p.OneStem(own[0], n)):
			own = append(own, n)
		}
	}
	if !there || len(own) < 3 || p.SignForOther(own[0]) || p.Playing.OtherHand(p.Playing.Stroke(own[0])) != nil {
		return false
	}
	for i := 1; i < len(own); i++ {
		if p.Crossed(own[i-1], own[i], p.AskedFinger(own[i-1]), p.AskedFinger(own[i])) || p.AskedFinger(own[i-1]) == p.AskedFinger(own[i]) {
			return false
		}
	}
	p.Report(lint.Finding{
		Notes: own, Severity: lint.Warning, Fix: "turn them round",
		Message: fmt.Sprintf("the digits at %s lie in order for the %s, which has other keys on its own staff", p.Keys(own), p.Playing.Hand(own[0]).Words()),
	})
	return true
}
