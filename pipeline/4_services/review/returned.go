package review

import (
	"cmp"
	"slices"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_stages/10_bind"
	"fingerproof/rules/parallel"
)

// returned is a place to which a decision on a passage goes when it holds for returns.
type returned struct {
	notes  [][2]int // a note of the passage, and the one that brings it back
	differ bool     // one of them has another finger there
}

// returning is where the notes of a piece come again, by note: to look through all returns for each passage would take
// time in proportion to both.
type returning map[int][]again

// again is one note that another one brings back.
type again struct {
	of, side, k int // the return, 1 where the note stands in its later passage, and the place in it
	there       int // the other note
	mirrored    bool
	r           *parallel.Return
}

// holds says that the digit with which a note is taken holds where it comes again, as stage 10_bind has it (bind.Holds). inside
// says of notes whether they are decided with it.
func (x *again) holds(at state.ByNumber, n int, inside func(note int) bool) bool {
	return holdsThere(at, x.r, x.k, x.side == 1, inside)
}

// textBeside lists the digits that the text has beside the note that comes again, where the text gives none here: the note, the one
// here that stands for the one with the digit, and the digit.
func (x *again) textBeside(at state.ByNumber) (out [][3]int) {
	if x.k >= len(x.r.Given) {
		return nil
	}
	for _, pair := range x.r.Given[x.k] {
		here, there := at.Of(pair[x.side]), at.Of(pair[1-x.side])
		if here != nil && there != nil && standsThere(there) && !standsThere(here) {
			out = append(out, [3]int{x.there, here.N, there.Finger})
		}
	}
	return out
}

func holdsThere(at state.ByNumber, r *parallel.Return, k int, back bool, inside func(note int) bool) bool {
	here, there := at.Of(r.First[k]), at.Of(r.Later[k])
	if back {
		here, there = there, here
	}
	if here == nil || there == nil || bind.OnOtherColour(append([]int{here.Finger}, here.Substitution...), here.Midi, there.Midi) {
		return false
	}
	text := func(n int) int {
		if e := at.Of(n); e != nil && standsThere(e) {
			return e.Finger
		}
		return 0
	}
	known := func(n int) int {
		if e := at.Of(n); e != nil && (standsThere(e) || e.Confidence == nil && !e.Carried || inside(n)) {
			return e.Finger
		}
		return 0
	}
	return r.Agrees(k, back, text, known)
}

func newReturning(returns []parallel.Return) returning {
	out := returning{}
	for i := range returns {
		r := &returns[i]
		for k := range min(len(r.First), len(r.Later)) {
			a, b, mirrored := r.First[k], r.Later[k], r.Kind == parallel.Mirrored
			out[a] = append(out[a], again{i, 0, k, b, mirrored, r})
			out[b] = append(out[b], again{i, 1, k, a, mirrored, r})
		}
	}
	return out
}

// whereReturned lists where the notes of a passage come again and a decision on it would bring digits: notes whose
// digit stands in the text, or that are declared to be fingered for themselves, are left out, as stage 10_bind does.
func whereReturned(at state.ByNumber, r *state.Result, p *Passage, returns returning) []returned {
	var out []returned
	inside := make(map[int]bool, len(p.Notes))
	for _, n := range p.Notes {
		inside[n] = true
	}
	type pair struct {
		here int
		again
	}
	var pairs []pair
	for n := range inside { // their order is that of the returns
		for _, x := range returns[n] {
			pairs = append(pairs, pair{n, x})
		}
	}
	slices.SortFunc(pairs, func(x, y pair) int {
		return cmp.Or(cmp.Compare(x.of, y.of), cmp.Compare(x.side, y.side), cmp.Compare(x.k, y.k))
	})
	seen := map[[2]int]bool{} // the same place can be reached through several returns
	of, side := -1, -1        // of which return, and which side of it, the last place is
	for _, x := range pairs {
		here, there := at.Of(x.here), at.Of(x.there)
		if x.of < len(r.Returns) && r.Returns[x.of].Apart || inside[x.there] || there == nil || !taken(here, p) ||
			standsThere(there) || there.Tied || seen[[2]int{x.here, x.there}] || !x.holds(at, x.here, func(n int) bool { return inside[n] }) {
			continue
		}
		seen[[2]int{x.here, x.there}] = true
		if x.of != of || x.side != side {
			of, side = x.of, x.side
			out = append(out, returned{})
		}
		place := &out[len(out)-1]
		place.notes = append(place.notes, [2]int{x.here, x.there})
		place.differ = place.differ || here.Finger != there.Finger ||
			!slices.Equal(here.Substitution, there.Substitution) || here.Hand != there.Hand && !x.mirrored
	}
	return out
}

// taken says that taking a passage writes the digit of a note: what is given has no confidence, and nothing is left to
// take of it, unless it is to be printed and nobody decided it.
func taken(n *state.Note, p *Passage) bool {
	return n != nil && !p.Bare && n.Finger > 0 && (n.Confidence != nil || slices.Contains(p.Open, n.N))
}

// standsThere says that a digit stands in the text at a note: no decision is carried to it.
func standsThere(n *state.Note) bool {
	return slices.ContainsFunc(n.Source, func(s state.Source) bool { return !s.WitnessOnly })
}

// alikeEverywhere says that a passage stands elsewhere, and that the digits suggested there are its own: to decide it
// once changes nothing at its returns.
func alikeEverywhere(places []returned) bool {
	return len(places) > 0 && !slices.ContainsFunc(places, func(l returned) bool { return l.differ })
}
