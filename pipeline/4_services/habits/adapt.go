// Package habits learns from the digits that an edition's editors decided how they finger: it adapts the weights of
// the effort to them, and never to suggestions that are still open. How far it goes is held against the decided
// digits themselves, each part of them foretold from those before it, as the pieces to come will be.
package habits

import (
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fit"
	"fingerproof/rules/hand"
)

// DecidedLine is one hand of one piece with what was decided in it.
type DecidedLine struct {
	Piece string
	Hand  fingering.Hand
	Notes []fingering.Note // as the engine is asked about them, without the decided digits
	// Decided gives the finger of notes, by their ids, that were decided; it is empty where nothing was.
	Decided map[int]fingering.Finger
}

// Strength is a part of the change.
type Strength struct {
	Percent int
	// Habits says that the sparse habits change too, not the general prices alone.
	Habits bool
	// Memory is how much the surroundings of decided digits are remembered, in percent of what they are worth.
	Memory int
}

// None says that nothing changes.
func (s Strength) None() bool { return s.Percent == 0 && s.Memory == 0 }

// Strengths are the parts of the change that are tried; the first that does best is kept. On the composers that
// they were chosen on, all of the habits did harm as often as good.
var Strengths = []Strength{
	{0, false, 0}, {50, false, 0}, {100, false, 0}, {25, true, 0}, {50, true, 0},
	{0, false, 50}, {0, false, 100}, {50, true, 50}, {50, true, 100},
}

// folds is how many parts the decided digits are cut into to hold the change against them.
const folds = 5

// prune is the change in nats below which a price stays as it was.
const prune = 0.005

// Outcome is what adapting found.
type Outcome struct {
	// Changes are to be added to the weights they were fitted from; empty where no strength did better than none
	// beyond chance.
	Changes  *effort.Weights
	Strength Strength
	Digits   int // decided digits it was fitted to
	Pieces   int // in which they stand
	// Before and After count the decided digits that come out without and with the change, of Foretold ones: those
	// of each part but the first, by weights fitted to the parts before it.
	Before, After, Foretold int
}

// Adapt fits changes to the decided digits of the lines, for one hand. The outcome depends on the arguments alone.
func Adapt(lines []DecidedLine, base *effort.Weights, profile hand.Profile, s fit.Settings) Outcome {
	fold, out := parts(lines)
	if out.Digits < folds {
		return Outcome{Changes: &effort.Weights{}, Digits: out.Digits, Pieces: out.Pieces}
	}
	right := make([]int, len(Strengths))
	gained, lost := make([]int, len(Strengths)), make([]int, len(Strengths))
	var worker engine.Worker
	for k := 1; k < folds; k++ {
		before := examples(lines, profile, func(i, id int) bool { return fold[i][id] < k })
		whole, memory := fit.Adapt(before, base, profile, s, prune), memoryOf(before, base, profile)
		var first []bool
		for n, strength := range Strengths {
			w := base
			if !strength.None() {
				w = base.Plus(Part(whole, memory, strength))
			}
			agrees := agreeing(&worker, lines, fold, k, w, profile, s.Aims)
			if n == 0 {
				first = agrees
				out.Foretold += len(agrees)
			}
			for d, yes := range agrees {
				switch {
				case yes && !first[d]:
					gained[n]++
				case !yes && first[d]:
					lost[n]++
				}
				if yes {
					right[n]++
				}
			}
		}
	}
	best := 0
	for n := range Strengths {
		if right[n] > right[best] && beyondChance(gained[n], lost[n]) {
			best = n
		}
	}
	out.Before, out.After, out.Strength = right[0], right[best], Strengths[best]
	out.Changes = &effort.Weights{}
	if best > 0 {
		all := examples(lines, profile, func(int, int) bool { return true })
		out.Changes = Part(fit.Adapt(all, base, profile, s, prune), memoryOf(all, base, profile), out.Strength)
	}
	return out
}

// beyondChance says that of the digits that came out differently so many more came out right that it would hardly be if coins
// were tossed: McNemar's test at two and a half standard deviations, one chance in 160 for each strength and less than one in
// twenty for the eight that are tried.
func beyondChance(gained, lost int) bool {
	by := gained - lost
	return by > 0 && 4*by*by > 25*(gained+lost)
}

// parts cuts the decided digits into folds of about the same size, in the order of the lines: between pieces, where
// there are as many as folds.
func parts(lines []DecidedLine) (fold []map[int]int, out Outcome) {
	begun := map[string]int{} // digits before the piece begins
	for _, l := range lines {
		if _, known := begun[l.Piece]; !known && len(l.Decided) > 0 {
			begun[l.Piece] = out.Digits
		}
		out.Digits += len(l.Decided)
	}
	out.Pieces = len(begun)
	done := 0
	for _, l := range lines {
		of := map[int]int{}
		for _, n := range l.Notes {
			if l.Decided[n.ID] == 0 {
				continue
			}
			of[n.ID] = begun[l.Piece] * folds / out.Digits
			if out.Pieces < folds {
				of[n.ID] = done * folds / out.Digits
			}
			done++
		}
		fold = append(fold, of)
	}
	return fold, out
}

func examples(lines []DecidedLine, profile hand.Profile, use func(line, id int) bool) (out []*fit.Example) {
	for i := range lines {
		l := &lines[i]
		x, some := fit.NewExample(l.Hand, l.Notes, profile, func(id int) fingering.Finger {
			if f := l.Decided[id]; f != 0 && use(i, id) {
				return f
			}
			return 0
		})
		if some {
			out = append(out, x)
		}
	}
	return out
}

// agreeing says, under the aims, of each decided digit of a fold, in order, whether it comes out.
func agreeing(
	worker *engine.Worker, lines []DecidedLine, fold []map[int]int, k int, w *effort.Weights, profile hand.Profile,
	aims effort.Aims,
) (out []bool) {
	for i := range lines {
		some := false
		for _, f := range fold[i] {
			some = some || f == k
		}
		if !some {
			continue
		}
		for _, n := range worker.Finger(lines[i].Hand, profile, w, lines[i].Notes, engine.Options{Aims: aims}).Notes {
			if f, held := fold[i][n.ID]; held && f == k {
				out = append(out, n.Finger == lines[i].Decided[n.ID])
			}
		}
	}
	return out
}

// Part gives some part of changes, and of what is remembered.
func Part(changes, memory *effort.Weights, s Strength) *effort.Weights {
	out := part(changes, s)
	if s.Memory == 0 {
		return out
	}
	return out.Plus(part(memory, Strength{Percent: s.Memory, Habits: true}))
}

func part(changes *effort.Weights, s Strength) *effort.Weights {
	out := &effort.Weights{Habit: make(map[effort.Context][]effort.Price, len(changes.Habit))}
	percent := int32(s.Percent)
	for t, v := range changes.Terms {
		out.Terms[t] = v * percent / 100
	}
	if !s.Habits {
		return out
	}
	for c, prices := range changes.Habit {
		for _, p := range prices {
			if p.Cost = p.Cost * percent / 100; p.Cost != 0 {
				out.Habit[c] = append(out.Habit[c], p)
			}
		}
	}
	return out
}
