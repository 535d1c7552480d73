package check

import (
	"cmp"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
)

// letStand says of findings that stood when the piece was passed, and that an editor has let stand since, that they are
// not gone: what is found is the same, and it has a reason now.
func (p *prover) letStand(changes []Change) {
	taken := map[*state.Stet]bool{}
	for _, same := range []func(*state.Finding, string, string) bool{
		func(f *state.Finding, print, _ string) bool { return f.Fingerprint == print },
		// Other digits give it other words and another fingerprint.
		func(f *state.Finding, _, place string) bool { return f.Rule+": "+f.Place() == place },
	} {
		for i := range changes {
			c := &changes[i]
			if c.Kind != FindingGone {
				continue
			}
			print, place := nameOfFinding(c.Old)
			for k := range p.now.Result.Stets {
				s := &p.now.Result.Stets[k]
				if !taken[s] && same(&s.Finding, print, place) {
					taken[s], c.Kind, c.New = true, FindingLetStand, s.By+": "+s.Why
					break
				}
			}
		}
	}
}

// nameOfFinding takes out of a finding as a state keeps it its fingerprint, and its rule with its place.
func nameOfFinding(kept string) (print, place string) {
	head, sentence, _ := strings.Cut(kept, ": ")
	words := strings.Fields(head)
	if len(words) != 3 {
		return "", ""
	}
	at, _, _ := strings.Cut(sentence, ": ")
	return words[0], words[2] + ": " + at
}

// inScoreOrder puts findings that are gone, come or let stand into the order of the music: those of the piece as a whole
// first, then by measure and beat.
func (p *prover) inScoreOrder(changes []Change) {
	type position struct {
		measure int
		onset   score.Fraction
	}
	s := p.now.Score
	measures, beats := map[string]int{}, map[int]map[string]score.Fraction{}
	for m := range s.Measures {
		if _, there := measures[s.Measures[m].Number]; !there {
			measures[s.Measures[m].Number] = m
		}
	}
	for i := range s.Notes {
		n := &s.Notes[i]
		if beats[n.Measure] == nil {
			beats[n.Measure] = map[string]score.Fraction{}
		}
		beats[n.Measure][s.Beat(n.Measure, n.Onset)] = n.Onset
	}
	positions := make(map[string]position, len(changes))
	of := func(c *Change) position {
		kept := cmp.Or(c.Old, c.New)
		if at, there := positions[kept]; there {
			return at
		}
		_, place := nameOfFinding(kept)
		_, place, _ = strings.Cut(place, ": ")
		at := position{measure: -1}
		if number, placed := strings.CutPrefix(place, "m. "); placed {
			number, _, _ = strings.Cut(number, ",")
			if m, there := measures[number]; there {
				at.measure = m
			} else {
				at.measure = len(s.Measures)
			}
			if _, beat, named := strings.Cut(place, "beat "); named {
				at.onset = beats[at.measure][beat]
			}
		}
		positions[kept] = at
		return at
	}
	kinds := []Kind{FindingGone, FindingLetStand, FindingNew}
	slices.SortStableFunc(changes, func(a, b Change) int {
		x, y := of(&a), of(&b)
		return cmp.Or(cmp.Compare(slices.Index(kinds, a.Kind), slices.Index(kinds, b.Kind)),
			cmp.Compare(x.measure, y.measure), x.onset.Cmp(y.onset))
	})
}
