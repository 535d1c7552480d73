package lattice

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Nat is one nat of cost: costs are integers in 1/4096 nat.
const Nat = 4096

// Prices that belong to the lattice whatever the model: what the hand cannot do is not forbidden but so dear that it
// is chosen only where nothing else exists, and then the dearer the worse.
const (
	beyondLimit   = 50 * Nat // each pair beyond the hand's limit
	beyondMM      = Nat      // each millimetre beyond it
	contradiction = 20 * Nat // each grip that only given digits enforce
	heldSetFree   = 50 * Nat // more than whatever a model has for or against a grip
	// ChangeOnHeldKey is the flat price of changing the finger on a held key.
	ChangeOnHeldKey = 6 * Nat
	oddityPrice     = 5 * Nat / 2
)

// Model prices grips and how they follow one another. Event e has the grips Lattice.Grips(e); costs are in 1/4096 nat
// and may be negative.
type Model interface {
	// Unary fills out[g], the price of each grip of event e by itself.
	Unary(e int, out []int32)
	// Pair fills out[a*G(e)+b] for grip a of event e-1 followed by grip b of event e; e ≥ 1.
	Pair(e int, out []int32)
	// Triple fills out[(a*G(e-1)+b)*G(e)+c] for the grips of events e-2, e-1, e; e ≥ 2. It returns false, and may leave
	// out as it is, where all of them are 0.
	Triple(e int, out []int32) bool
}

// Lattice is the layout of the search: the events of one hand with every grip of each.
type Lattice struct {
	Line    *fingering.Line
	Profile hand.Profile

	grips  []fingering.Grip
	first  []int32 // event → its first grip; one more at the end
	hard   []int32 // per grip: what it goes beyond the limits
	freed  []int32 // per event: the price of setting held keys free, part of hard
	pairs  []int   // event → offset of its block of grip pairs (with the event before)
	triple []int   // event → offset of its block of triples
}

// New lays out the grips of a line for a hand.
func New(line *fingering.Line, profile hand.Profile) *Lattice {
	l := &Lattice{Line: line, Profile: profile, first: make([]int32, 1, len(line.Events)+1)}
	l.freed = make([]int32, len(line.Events))
	for e := range line.Events {
		grips, free := gripsOf(&line.Events[e])
		if free {
			l.freed[e] = l.settingFree(&line.Events[e])
		}
		l.grips = append(l.grips, grips...)
		l.first = append(l.first, int32(len(l.grips)))
	}
	l.pairs, l.triple = make([]int, len(line.Events)+1), make([]int, len(line.Events)+1)
	for e := range line.Events {
		l.pairs[e+1] = l.pairs[e] + l.Count(e-1)*l.Count(e)
		l.triple[e+1] = l.triple[e] + l.Count(e-2)*l.Count(e-1)*l.Count(e)
	}
	l.charge()
	return l
}

// charge works out what the grips pay to the lattice itself.
func (l *Lattice) charge() {
	l.hard = make([]int32, len(l.grips))
	for e := range l.Line.Events {
		for g, grip := range l.Grips(e) {
			h := &l.hard[int(l.first[e])+g]
			*h = beyond(l.Profile, l.Line.Events[e].Keys, grip) + l.freed[e]
			if grip.Odd&fingering.Contradictory != 0 {
				*h += contradiction
			}
			if grip.Odd&^fingering.Contradictory != 0 {
				*h += oddityPrice
			}
		}
	}
}

// beyond is what a grip pays for going beyond the limits of a hand.
func beyond(p hand.Profile, keys []fingering.Sounding, g fingering.Grip) int32 {
	n, excess := Excess(p, keys, g)
	if n == 0 {
		return 0
	}
	return int32(n*beyondLimit) + int32(int64(min(excess, 50000))*beyondMM/100)
}

// BeyondFor is what a grip of event e would pay for going beyond the limits of a hand.
func (l *Lattice) BeyondFor(p hand.Profile, e int, g fingering.Grip) int32 {
	return beyond(p, l.Line.Events[e].Keys, g)
}

// settingFree is the price of an event at which given digits leave no grip until held keys are set free of theirs: more
// than the dearest grip, or a digit that is asked for would make the way cheaper. It is the same for all
// grips of the event, so it chooses none of them.
func (l *Lattice) settingFree(e *fingering.Event) int32 {
	dearest := int32(0)
	for _, g := range legalGrips(e.Keys) {
		dearest = max(dearest, beyond(l.Profile, e.Keys, g))
	}
	return dearest + heldSetFree
}

// part cuts the part of event e out of a slice laid out grip by grip.
func (l *Lattice) part(e int, perGrip []int64) []int64 { return perGrip[l.first[e]:l.first[e+1]] }

// Events is the number of events.
func (l *Lattice) Events() int { return len(l.Line.Events) }

// Count is the number of grips of event e; 1 before the beginning.
func (l *Lattice) Count(e int) int {
	if e < 0 {
		return 1
	}
	return int(l.first[e+1] - l.first[e])
}

// Total is the number of grips of all events.
func (l *Lattice) Total() int { return len(l.grips) }

// Grips are the grips of event e, in their written order: it breaks ties.
func (l *Lattice) Grips(e int) []fingering.Grip { return l.grips[l.first[e]:l.first[e+1]] }

// Hard gives what the lattice itself charges the grips of event e, by the limits of the hand.
func (l *Lattice) Hard(e int) []int32 { return l.hard[l.first[e]:l.first[e+1]] }

// Freed is what Hard charges all grips of event e alike because given digits leave none until held keys are set free of
// theirs. It chooses nothing and is no effort.
func (l *Lattice) Freed(e int) int32 { return l.freed[e] }

// heldInto calls f with each key that is held from event e-1 into e: its place among the keys of e-1 and of e.
func (l *Lattice) heldInto(e int, f func(was, is int)) {
	for j, k := range l.Line.Events[e].Keys {
		if k.Struck {
			continue
		}
		for i, before := range l.Line.Events[e-1].Keys {
			if before.Strike == k.Strike {
				f(i, j)
			}
		}
	}
}

// Changed calls f with each strike whose key is held from event e-1, taken by grip was, into e, taken by grip is, and
// changes its finger.
func (l *Lattice) Changed(e int, was, is fingering.Grip, f func(strike int)) {
	l.heldInto(e, func(i, j int) {
		if was.Fingers[i] != is.Fingers[j] {
			f(l.Line.Events[e].Keys[j].Strike)
		}
	})
}

// AddChanges adds to out (as Model.Pair lays it out) what changing fingers on keys held from e-1 into e costs.
func (l *Lattice) AddChanges(e int, price int32, out []int32) {
	n := l.Count(e)
	l.heldInto(e, func(i, j int) {
		for a, ga := range l.Grips(e - 1) {
			for b, gb := range l.Grips(e) {
				if ga.Fingers[i] != gb.Fingers[j] {
					out[a*n+b] += price
				}
			}
		}
	})
}
