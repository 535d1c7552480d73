package fit

import (
	"math"

	"fingerproof/rules/effort"
	"fingerproof/rules/hand"
)

// AdaptSettings are the settings a table is adapted with to what an edition has decided. They were chosen on
// composers other than those that `workbench adapt` reports on.
func AdaptSettings() Settings {
	s := Defaults()
	s.TermRate, s.HabitRate, s.HabitDamp = 0.01, 0.03, 100
	s.Decay, s.HabitDecay = 0.01, 0.01
	s.Epochs, s.MinCount = 3, 2
	return s
}

// Adapt moves a table towards the digits of the examples and gives what it changed: prices to be added to those of
// base. It is pulled back to base all the while, so that a few digits move it little. Changes of less than prune nats
// are left out. The outcome depends on the arguments alone.
func Adapt(examples []*Example, base *effort.Weights, profile hand.Profile, s Settings, prune float64) *effort.Weights {
	o := train(examples, base, profile, s, nil)
	out := &effort.Weights{}
	for i, v := range o.Terms {
		if d := v - float64(base.Terms[i])/1000; math.Abs(d) >= prune {
			out.Terms[i] = int32(math.Round(d * 1000))
		}
	}
	if len(o.habit) == 0 {
		return out
	}
	out.Habit = map[effort.Context][]effort.Price{}
	for i, c := range o.space.order {
		at, size := o.space.places[c], effort.Sizes[o.space.kinds[i]]
		changed := make([]float64, size)
		copy(changed, o.habit[at:][:size])
		for _, p := range base.Habit[c] {
			changed[p.Combo] -= float64(p.Cost) / 1000
		}
		for j, d := range changed {
			if milli := int32(math.Round(d * 1000)); milli != 0 && math.Abs(d) >= prune {
				out.Habit[c] = append(out.Habit[c], effort.Price{Combo: int32(j), Cost: milli})
			}
		}
	}
	return out
}
