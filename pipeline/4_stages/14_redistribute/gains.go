package redistribute

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// What chances are worth that the effort of a fingering does not hold, in milli-nats. Hand-set.
const (
	ownVoice     = 6000  // a voice that begins while the hand has another: two hands are heard as two voices
	twoVoices    = 2000  // a lower voice in a hand of its own
	evenSweep    = 8000  // a sweep in one direction without a passing thumb or a shift
	eachLeap     = 2000  // a leap of more than an octave there or back that a hand need not make
	toThePedal   = 1500  // a hand lets go of what it holds, and the pedal holds it: for the first key
	keyMore      = 500   // … for each more of them, since one pedal holds them all
	overTheOther = 1000  // a hand over the other
	theRoll      = 12000 // a chord rolled through both hands of which one hand would have to leap within the roll
)

// weighChance holds both hands with the notes moved against both hands as written.
func (f *finder) weighChance(c *chance) (r fingering.Redistribution, ok bool) {
	if c.rolled {
		return f.weighRolled(c)
	}
	from, to := max(c.from-2, 0), min(c.to+2, len(f.moments)-1)
	was := f.finger(from, to, nil)
	now := f.finger(from, to, c.moved)
	o := 1 - c.hand
	for h := range 2 {
		if now.out[h] > was.out[h] || now.pedal[h] > was.pedal[h] || now.leaps[h] > was.leaps[h] {
			return r, false
		}
	}
	for id := range c.moved {
		if now.outAt[f.where.of(id)] {
			return r, false
		}
	}
	if now.drops[c.hand] > was.drops[c.hand] || f.clashes(&now, c.moved) {
		return r, false
	}
	if c.reason != Evenness && c.reason != Turns && !f.wide(c) && now.drops[c.hand] == was.drops[c.hand] &&
		now.pedal[c.hand] == was.pedal[c.hand] {
		return r, false // one hand plays both voices with ease
	}
	gained := was.effort[0] + was.effort[1] + was.lost - now.effort[0] - now.effort[1] - now.lost
	if let := now.drops[o] - was.drops[o]; let > 0 { // keys held before; a line would be told by now.pedal
		if f.lasts(c) > longestLetGo {
			return r, false
		}
		gained += let*lostKey - toThePedal - (let-1)*keyMore
	}
	switch c.reason {
	case Crossing:
		if c.begins {
			gained += ownVoice
		}
		gained -= overTheOther
	case Clarity:
		gained += twoVoices
	case Evenness:
		gained += evenSweep
	case Turns:
		gained += eachLeap * c.leaps
	}
	costs := f.costsOf(c.trouble, c.moved)
	r = f.redistribution(c.trouble, c.moved, &was, &now, from, to)
	r.Gain = gained - costs
	r.Why = f.why(c.trouble, &was, &now, c.moved, costs, r.Gain)
	return r, len(r.Notes) > 0
}

// longestLetGo is how long a hand may leave a key it holds to the pedal, in quarters.
const longestLetGo = 2

// lasts is how long a chance lasts, in whole quarters, the last one begun counted.
func (f *finder) lasts(c *chance) int64 {
	from, to := f.moments[c.from].at, f.moments[c.to].at
	for id := range c.moved {
		if end := f.noteOf(id).End; to.Compare(end) < 0 {
			to = end
		}
	}
	a, b := score.Frac(from.Num, max(from.Den, 1)), score.Frac(to.Num, max(to.Den, 1))
	d := b.Sub(a)
	return (d.Num() + d.Den() - 1) / d.Den()
}
