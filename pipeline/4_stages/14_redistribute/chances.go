package redistribute

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// Besides troubles there are chances: a hand does alone what it can do, and the music gains where the free hand
// takes part. Where pianists take them, and editions print a hand sign, they are of three kinds (looked at in the
// hand signs of the open scores, see DEVELOPERS.md): a voice of its own above the hand's chords, which the free
// hand crosses over to; a lower voice under the free hand; a sweep of which the free hand takes the end that lies
// on its side.

// chance is a set of notes of a hand that the other, free, might take for the music's sake.
type chance struct {
	trouble
	moved  map[int]bool
	rolled bool // the notes are the top of a chord rolled through both hands
	begins bool // their voice begins there, after a rest
	leaps  int  // of more than an octave, there and back
}

// How long a gesture may be, in moments, and from what size on a sweep or a rolled chord is one.
const (
	longestVoice = 32
	longestOver  = 6
	sweepsFrom   = 6 // notes of a sweep
	sweepShare   = 2 // … of which each hand plays at least
	sweepSpan    = 15
	rolledBeyond = 12 // semitones of a rolled chord, with its top, that one hand strikes without ado
	rolledFewest = 4  // keys of it
)

// chances lists them in the order of playing.
func (f *finder) chances() (out []chance) {
	for h := range 2 {
		// the left hand over the right: the other way round it is hardly ever asked for
		if f.in.Rules.On[Crossing] && h == 0 {
			out = append(out, f.rolledTops(h)...)
		}
		if f.in.Rules.On[Crossing] || f.in.Rules.On[Clarity] {
			out = append(out, f.voicesApart(h)...)
		}
		if f.in.Rules.On[Evenness] {
			out = append(out, f.sweeps(h)...)
			out = append(out, f.runsOver(h)...)
		}
		if f.in.Rules.On[Turns] {
			out = append(out, f.turns(h)...)
		}
	}
	slices.SortStableFunc(out, func(a, b chance) int { return a.from - b.from })
	return out
}

// take weighs the chances and gives those that gain what the policy asks for their reason. A hand crosses over only
// where that gains much more than what could be taken without.
func (f *finder) take(out *Found, instead []fingering.Redistribution) (all []fingering.Redistribution) {
	type taken struct {
		c *chance
		r fingering.Redistribution
	}
	var good, less []taken
	list := f.chances()
	f.looked = list
	for k := range list {
		c := &list[k]
		out.Chances[c.reason]++
		if !f.mayMove(c.moved) || f.speaksAgainst(c) {
			continue
		}
		switch r, ok := f.weighChance(c); {
		case ok && r.Gain >= f.in.Rules.thresholdOf(c.reason):
			good = append(good, taken{c, r})
		case ok && c.reason == Crossing && r.Gain >= f.in.Rules.thresholdOf(c.reason)-theSameAgain:
			less = append(less, taken{c, r})
		}
	}
	asked := len(good)
	for _, l := range less { // what is done once is done again at the same figure
		if slices.ContainsFunc(good[:asked], func(g taken) bool { return f.alikeGesture(g.c, l.c) }) {
			good = append(good, l)
		}
	}
	moved := map[int]bool{}
	for _, g := range good {
		for id := range g.c.moved {
			moved[id] = true
		}
	}
	for _, g := range good {
		if f.lessThan(instead, g.c, g.r) || f.staysBeside(g.c, moved) {
			continue
		}
		better := g.c.reason == Crossing && slices.ContainsFunc(good, func(o taken) bool {
			return o.c.reason != Crossing && o.c.from <= g.c.to && o.c.to >= g.c.from &&
				g.r.Gain < crossingMore*o.r.Gain
		})
		if !better {
			all = append(all, g.r)
		}
	}
	return all
}

// speaksAgainst says that a pianist would not take a chance, whatever it gains (restraint.go, receiver.go, busy.go, torn.go).
func (f *finder) speaksAgainst(c *chance) bool {
	crosses := c.reason == Crossing
	return !crosses && !f.sided(c.trouble, c.moved) || !c.rolled && f.cutsLine(c) ||
		f.thereAndBack(c) || f.noSweep(c) || f.uncrossedServes(c) || f.withinReach(c) || f.outOfRow(c) ||
		c.reason != Turns && f.wholeTurn(c.hand, c.moved) || !crosses && c.hand == 1 && f.overloads(c.trouble, c.moved) ||
		f.busyElsewhere(c.hand, c.moved) || !c.rolled && f.plunges(c.trouble, c.moved)
}

// theSameAgain is how much less a crossing may gain where the same figure is taken elsewhere in the piece: a player
// does the same thing in the same way.
const theSameAgain = 5000

// alikeGesture says that two chances are the same figure: for one reason, in one hand, in the same rhythm, each key as
// far from the first as in the other, within a whole tone.
func (f *finder) alikeGesture(a, b *chance) bool {
	x, y := f.inOrder(a.moved), f.inOrder(b.moved)
	if a.reason != b.reason || a.hand != b.hand || a.begins != b.begins || a.rolled != b.rolled || len(x) != len(y) {
		return false
	}
	after := func(from, to int) score.Fraction { return f.in.Score.At(to).Sub(f.in.Score.At(from)) }
	key := func(id int) int { return f.in.Score.Notes[id].Midi }
	for k := range x {
		apart := key(x[k]) - key(x[0]) - key(y[k]) + key(y[0])
		if !after(x[0], x[k]).Equal(after(y[0], y[k])) || apart > wholeTone || apart < -wholeTone {
			return false
		}
	}
	return true
}

const wholeTone = 2

// crossingMore is how many times as much a crossing has to gain as what can be taken without.
const crossingMore = 3
