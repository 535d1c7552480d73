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

// crossings prints a digit where the hand moves between single notes and the preface tells no such move: on the note that
// wants it more.
func (p *planner) crossings() {
	for e := 1; e < len(p.line); e++ {
		if len(p.line[e].keys) > 1 || len(p.line[e-1].keys) > 1 || p.line[e].apart || p.shows(e) || p.shows(e-1) || !p.moves(e) {
			continue
		}
		if p.preface.AsLast(e) {
			continue
		}
		at := e
		if p.printless(e) || p.worth(e-1) > p.worth(e)+later && !p.printless(e-1) {
			at = e - 1
		}
		p.printAll(at, Move)
	}
}
