package effort

import (
	"fingerproof/rules/hand"
)

// Aims says how much each aim of a fingering counts, in percent of its own weight, and what the aims need to know of
// hand and instrument. The zero value asks for the fitted table alone: no line, no tempo, no reach.
type Aims struct {
	// On says that the percentages below hold; without it every fitted criterion counts in full and no other does.
	On bool
	// Comfort weighs stretch, position, passing, keys and repetition; Memory patterns and returns; Habit what editors
	// print.
	Comfort, Memory, Habit int
	// Line weighs joining under slurs and the leading voice; Tempo what the speed makes hard; Reach how many hands
	// take a grip.
	Line, Tempo, Reach int
	// Mix gives the weights of the octave, ninth and tenth hand for which comfort is sought; all 0: the hand of the
	// call. Limits stay those of the hand of the call.
	Mix [3]int
	// ChangeMicros is the time a silent change of finger needs.
	ChangeMicros int64
	// RepeatMicros is the shortest time in which one finger repeats a key with ease.
	RepeatMicros int64
	// NoLearned leaves the network of the table unasked: for music that it was not measured on.
	NoLearned bool
}

// PlainAims is every aim at its own weight, for one hand on a grand piano. The two times are provisional, from memory
// (FACTS §3.1: one finger repeats a key six to seven times a second).
func PlainAims() Aims {
	return Aims{
		On: true, Comfort: 100, Memory: 100, Habit: 100, Line: 100, Tempo: 100, Reach: 100,
		ChangeMicros: 300_000, RepeatMicros: 150_000,
	}
}

// percentOf gives the percentage at which a criterion of the fitted table counts.
func (a Aims) percentOf(criterion string) int {
	if !a.On {
		return 100
	}
	switch criterion {
	case "stretch", "position", "passing", "keys", "repetition":
		return a.Comfort
	case "pattern", "parallel":
		return a.Memory
	case "habit", "learned":
		return a.Habit
	}
	return 100
}

// scaled gives the terms of a table at the weights of the aims.
func (a Aims) scaled(w *Weights) [Terms]int32 {
	terms := w.Terms
	if !a.On {
		return terms
	}
	for t := range terms {
		// A thumb on black or a stretch that costs more than its weight says is dearer; what speaks for a finger
		// speaks louder.
		terms[t] = int32(int64(terms[t]) * int64(a.percentOf(Term(t).Criterion())) / 100)
	}
	return terms
}

// hands lists the hands of the mix with their weights.
func (a Aims) hands(own hand.Profile) (profiles []hand.Profile, weights []hand.Length) {
	for i, p := range [3]hand.Profile{hand.OctaveHand, hand.NinthHand, hand.TenthHand} {
		if a.On && a.Mix[i] > 0 {
			profiles, weights = append(profiles, p), append(weights, hand.Length(a.Mix[i]))
		}
	}
	if len(profiles) == 0 {
		return []hand.Profile{own}, []hand.Length{1}
	}
	return profiles, weights
}

// beyond gives how far a span goes beyond a limit, on the average of the hands of the mix.
func (p *Pricer) beyond(span hand.Length, limit func(hand.Profile) hand.Length) hand.Length {
	var sum, all hand.Length
	for i, h := range p.hands {
		all += p.shares[i]
		if x := span - limit(h); x > 0 {
			sum += x * p.shares[i]
		}
	}
	return sum / all
}

// beyondComfortable and beyondPractical are what a span of two fingers goes beyond the hands' ease and limit.
func (p *Pricer) beyondComfortable(f, g int, span hand.Length) hand.Length {
	return p.beyond(span, func(h hand.Profile) hand.Length { return h.Comfortable(f, g) })
}

func (p *Pricer) beyondPractical(f, g int, span hand.Length) hand.Length {
	return p.beyond(span, func(h hand.Profile) hand.Length { return h.Practical(f, g) })
}
