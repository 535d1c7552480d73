package thin

import (
	"slices"

	"fingerproof/rules/places"
)

// departs prints the digits of notes whose finger is another one than the preface tells a player who takes it to the letter
// (rules/places, Preface): the searching reader may find such a finger all the same, a player will not look for it.
func (p *planner) departs(only ...places.Sentence) {
	for e := range p.line {
		at, by := p.preface.Departs(e, func(i int) bool { return p.out[i] || p.in.Stands[i] })
		if len(at) > 0 && (only == nil || slices.Contains(only, by)) {
			p.print(e, Departs, at...)
			p.clear(e)
		}
	}
}
