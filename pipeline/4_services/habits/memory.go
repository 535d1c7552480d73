package habits

import (
	"slices"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fit"
	"fingerproof/rules/hand"
)

// remembered are the surroundings of a note by which a decided finger is known again, the widest first, and what it is
// worth there at most, in milli-nats. They add up: a note that stands as another did in every respect gets all of them.
var remembered = []struct {
	kind  string
	worth int64
}{{"window3", 1000}, {"key-window2", 1000}, {"window2", 1000}, {"key-between", 500}}

// MemoryOf prices the surroundings of what was decided in the lines (see memoryOf).
func MemoryOf(lines []DecidedLine, base *effort.Weights, profile hand.Profile) *effort.Weights {
	return memoryOf(examples(lines, profile, func(int, int) bool { return true }), base, profile)
}

// memoryOf prices the surroundings of decided digits: each finger that was decided there is cheaper, the more often
// the cheaper, and the more other fingers were decided there the less.
func memoryOf(examples []*fit.Example, base *effort.Weights, profile hand.Profile) *effort.Weights {
	votes := map[effort.Context]*[fingering.Fingers]int64{}
	pricer := effort.NewPricer(base, profile)
	for _, x := range examples {
		line := x.Lattice.Line
		model := pricer.Model(line, x.Lattice)
		for e := range line.Events {
			for _, f := range model.Factors(e) {
				if f.Kind != effort.NoteFactor {
					continue
				}
				finger := x.Labels[line.Events[e].Keys[f.At[0]].Strike]
				if finger == 0 {
					continue
				}
				for _, c := range f.Contexts {
					if worthOf(c) == 0 {
						continue
					}
					if votes[c] == nil {
						votes[c] = new([fingering.Fingers]int64)
					}
					votes[c][finger-1]++
				}
			}
		}
	}
	out := &effort.Weights{Habit: make(map[effort.Context][]effort.Price, len(votes))}
	for c, v := range votes {
		all := int64(1)
		for _, n := range v {
			all += n
		}
		for f, n := range v {
			if cost := -worthOf(c) * n / all; cost != 0 {
				out.Habit[c] = append(out.Habit[c], effort.Price{Combo: int32(f), Cost: int32(cost)})
			}
		}
	}
	return out
}

// worthOf is what a finger decided in a context is worth at most, 0 where it is not remembered by it.
func worthOf(c effort.Context) int64 {
	i := slices.IndexFunc(remembered, func(r struct {
		kind  string
		worth int64
	}) bool {
		return r.kind == c.Name()
	})
	if i < 0 {
		return 0
	}
	return remembered[i].worth
}
