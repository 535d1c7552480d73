package hands

import (
	"slices"

	"fingerproof/corpus/score"
)

// splitSpan is the widest chord, in semitones, that one hand is taken to strike where a sign names the other beside it: a ninth.
const splitSpan = 14

// split lists the keys of a chord that a sign gives to the other hand, where it cannot mean the whole of it: the chord, of one voice,
// is too wide for the hand of its staff, or its digits are not those of one hand, and the keys on the side of the hand named,
// as few as leave each hand what it can take with the digits that stand, are the other's (common practice: the sign stands beside the
// outer keys of a chord). None: the sign means something else.
func (p *signedPage) split(d *score.Direction) []int {
	struck := p.struck(d, true)
	for _, v := range p.voices(struck) {
		chord := slices.DeleteFunc(slices.Clone(struck), func(i int) bool {
			return p.voiceOf(i) != v || p.s.Notes[i].Grace > 0 // grace notes are struck one after another
		})
		if len(chord) < 2 || p.s.Rolling(chord[0]).Rolls() {
			continue
		}
		home := p.home(&p.s.Notes[chord[0]])
		if home == d.Hand {
			continue
		}
		slices.SortFunc(chord, func(a, b int) int { return p.s.Notes[a].Midi - p.s.Notes[b].Midi })
		if p.inOneHand(chord, home) {
			continue
		}
		for k := 1; k < len(chord); k++ {
			stays, goes := chord[:len(chord)-k], chord[len(chord)-k:] // the right hand takes the highest keys
			if d.Hand == score.Left {
				stays, goes = chord[k:], chord[:k]
			}
			if p.inOneHand(stays, home) && p.inOneHand(goes, d.Hand) {
				return goes
			}
		}
	}
	return nil
}

// inOneHand says that keys, from the lowest, may be struck by a hand with the digits that stand at them.
func (p *signedPage) inOneHand(keys []int, h score.Hand) bool {
	if p.s.Notes[keys[len(keys)-1]].Midi-p.s.Notes[keys[0]].Midi > splitSpan {
		return false
	}
	last := 0
	for _, i := range keys {
		f := digitOf(&p.s.Notes[i])
		if f == 0 {
			continue
		}
		if last != 0 && (h == score.Right && f <= last || h == score.Left && f >= last) {
			return false
		}
		last = f
	}
	return true
}
