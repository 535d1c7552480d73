package review

import (
	"slices"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/rules/parallel"
)

// returned is a place to which a decision on a passage goes when it holds for returns.
type returned struct {
	notes  [][2]int // a note of the passage, and the one that brings it back
	differ bool     // one of them has another finger there
}

// whereReturned lists where the notes of a passage come again and a decision on it would bring digits: notes whose
// digit stands in the text, or that are declared to be fingered for themselves, are left out, as stage 10_bind does.
func whereReturned(at map[int]*state.Note, r *state.Result, p *Passage, returns []parallel.Return) []returned {
	var out []returned
	inside := map[int]bool{}
	for _, n := range p.Notes {
		inside[n] = true
	}
	seen := map[[2]int]bool{} // the same place can be reached through several returns
	for i := range returns {
		if i < len(r.Returns) && r.Returns[i].Apart {
			continue
		}
		for _, sides := range [2][2][]int{
			{returns[i].First, returns[i].Later}, {returns[i].Later, returns[i].First},
		} {
			place := returned{}
			for k := range min(len(sides[0]), len(sides[1])) {
				here, there := sides[0][k], sides[1][k]
				note := at[there]
				if !inside[here] || inside[there] || note == nil || !taken(at[here], p) || standsThere(note) || note.Tied ||
					seen[[2]int{here, there}] {
					continue
				}
				seen[[2]int{here, there}] = true
				a, b := at[here], at[there]
				place.notes = append(place.notes, [2]int{here, there})
				place.differ = place.differ || a.Finger != b.Finger || !slices.Equal(a.Substitution, b.Substitution) ||
					a.Hand != b.Hand && returns[i].Kind != parallel.Mirrored
			}
			if len(place.notes) > 0 {
				out = append(out, place)
			}
		}
	}
	return out
}

// taken says that taking a passage writes the digit of a note: what is given has no confidence, and nothing is left to
// take of it, unless it is to be printed and nobody decided it.
func taken(n *state.Note, p *Passage) bool {
	return n != nil && n.Finger > 0 && (n.Confidence != nil || slices.Contains(p.Open, n.N))
}

// standsThere says that a digit stands in the text at a note: no decision is carried to it.
func standsThere(n *state.Note) bool {
	return slices.ContainsFunc(n.Source, func(s state.Source) bool { return !s.WitnessOnly })
}

func notesByNumber(r *state.Result) map[int]*state.Note {
	at := make(map[int]*state.Note, len(r.Notes))
	for i := range r.Notes {
		at[r.Notes[i].N] = &r.Notes[i]
	}
	return at
}

// alikeEverywhere says that a passage stands elsewhere, and that the digits suggested there are its own: to decide it
// once changes nothing at its returns.
func alikeEverywhere(places []returned) bool {
	return len(places) > 0 && !slices.ContainsFunc(places, func(l returned) bool { return l.differ })
}
