package suggest

import (
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
)

// Limits are what is beyond a hand in a suggestion, by note.
type Limits struct {
	Pedal      []bool // the key is let go early and left to the pedal
	Spared     []bool // … and only a change would hold it that no editor prints
	OutOfReach []engine.Reason
}

// LimitsOf are the limits of the suggestion that an input would get. Where digits leave no choice nothing is searched for
// them. ok is false where that does not do: LimitsBySearch has them.
func LimitsOf(in Input) (_ Limits, ok bool) {
	out := &Suggestion{Notes: make([]NoteFingering, len(in.Score.Notes)), Added: map[int]engine.Fingered{}}
	for _, p := range partsOf(in, out) {
		result, sure := engine.Limits(fingering.HandOf(p.hand), in.Profile, p.line)
		if !sure {
			return Limits{}, false
		}
		out.lay(in, p, result)
	}
	return limitsIn(out), true
}

// LimitsBySearch are the limits of the suggestion that an input gets.
func LimitsBySearch(in Input) Limits {
	in.Bare, in.limits = true, true
	return limitsIn(Suggest(in))
}

func limitsIn(s *Suggestion) Limits {
	out := Limits{make([]bool, len(s.Notes)), make([]bool, len(s.Notes)), make([]engine.Reason, len(s.Notes))}
	for i := range s.Notes {
		out.Pedal[i], out.Spared[i], out.OutOfReach[i] = s.Notes[i].Pedal, s.Notes[i].Spared, s.Notes[i].OutOfReach
	}
	return out
}
