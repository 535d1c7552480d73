package engine

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lattice"
)

// Limits says of one hand's notes what Finger says of them in Pedal and OutOfReach, where it need not be searched for it:
// at each event every grip that the digits leave says the same. Where one does not, it is false. Its other fields say
// nothing.
func Limits(h fingering.Hand, profile hand.Profile, notes []fingering.Note) (Result, bool) {
	out := Result{Notes: make([]Fingered, len(notes))}
	l := lattice.New(fingering.NewLine(h, notes, profile.Fits), profile)
	if l.Events() == 0 {
		return out, true
	}
	for e := range l.Events() {
		if !sameLimits(l, e) {
			return out, false
		}
	}
	newReport(&out, placesOf(notes), notes, &answer{lattice: l, path: make([]int, l.Events())}).fingers()
	return out, true
}

// sameLimits says that no grip of an event goes beyond the limits of the hand, or each does for the same reason.
func sameLimits(l *lattice.Lattice, e int) bool {
	keys, grips := l.Line.Events[e].Keys, l.Grips(e)
	for g := 1; g < len(grips); g++ {
		first := lattice.BeyondReach(l.Profile, keys, grips[0])
		pairs := lattice.BeyondReach(l.Profile, keys, grips[g])
		if (pairs > 0) != (first > 0) || pairs > 0 && (grips[g].Odd^grips[0].Odd)&fingering.Contradictory != 0 {
			return false
		}
	}
	return true
}
