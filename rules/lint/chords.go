package lint

import (
	"slices"

	"fingerproof/rules/hand"
)

// Chords calls f with each two or more notes that one hand strikes together,
// lowest key first: each chord once, in written order of its lowest note.
func (p *Inspection) Chords(f func(chord []int)) {
	for n := range p.Score.Notes {
		if c := p.Playing.Together(n); len(c) >= 2 && c[0] == n {
			f(c)
		}
	}
}

// BlockChords is Chords without those that are rolled, on whichever of their notes the sign stands: the hand need not
// open to them at once. Of these it gives the notes that a bracket keeps together.
func (p *Inspection) BlockChords(f func(chord []int)) {
	p.Chords(func(chord []int) {
		if p.Playing.Rolls(chord) {
			chord = slices.DeleteFunc(slices.Clone(chord), func(n int) bool { return !p.Score.Notes[n].Arpeggio.NonRolled })
		}
		if len(chord) >= 2 {
			f(chord)
		}
	})
}

// GreatestPair gives the two notes of a chord for which of is greatest, and how great
// it is; the first of equals. Pairs for which it is not above 0 do not count:
// low and high are -1 where there is none else.
func GreatestPair(chord []int, of func(low, high int) int) (low, high, most int) {
	low, high = -1, -1
	for i, a := range chord {
		for _, b := range chord[i+1:] {
			if x := of(a, b); x > most {
				low, high, most = a, b, x
			}
		}
	}
	return low, high, most
}

// BeyondHand is by how much two digits of a chord that were decided or stand in the
// text go beyond the hand, 0 where they do not. What was worked out is no fault
// of the text.
func (p *Inspection) BeyondHand(low, high int) hand.Length {
	a, b := p.AskedFinger(low), p.AskedFinger(high)
	notes := p.Score.Notes
	if a == 0 || b == 0 || a == b || p.FitsHand(p.Playing.Hand(low), notes[low].Midi, notes[high].Midi, a, b) {
		return 0
	}
	return p.Profile.Excess(a, b, hand.Distance(notes[low].Midi, notes[high].Midi))
}
