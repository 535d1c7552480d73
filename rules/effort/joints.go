package effort

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// What the decode gains by joints of single keys, in thousandths of a sure finger. The likeliest finger of each place
// leaves out what is seldom: where print passes the third finger over the fourth at one place of three, the likeliest
// way does so at none. These gains give such joints the rate that they have in print at the same places ('workbench
// idioms'); they were chosen on the mean of the folds and cost no agreement. What the hand does not do gets none: a
// finger passes over a shorter one, the longer one on the black key or both beside each other (FACTS §4.4).
const (
	thumbPassed     = 40  // the thumb under, or a finger over it
	thumbOntoBlack  = 305 // … with the thumb on black
	thumbByOuter    = 280 // … by 4 or 5
	longFingersOver = 95  // 3 over 4 or 5, 4 over 5
	secondCrossed   = 400 // 3 over 2
	overOnBlack     = 385 // … of 3, 4 and 5, the longer finger on black, the shorter on white
	overFromBlack   = -200
	glide           = -70  // one finger on the next step, joined
	twoThumbs       = -250 // the thumb twice in a row, wider than a step, joined
	fiveTwice       = -250 // the fifth twice in a row on two keys, joined: nothing is left to reach on with
	glideFar        = 20   // … a third to a fifth away
	partedStep      = 360  // one finger on the next step, the first key let go
	partedFar       = 320  // … up to an octave away
	leftOutOnStep   = 30   // fingers left out on a step
	neighboursApart = 165  // two neighbours, without the thumb, a fourth apart or more
	thumbOpened     = 80   // 1 and 2 a sixth apart or more
	againSteadily   = 800  // another finger on a key struck again, neither fast nor slowly
	againSlowly     = 100  // … slowly
	backAgain       = 70   // another finger on the same key after one other

	anotherSoon   = 100 // lost by other fingers on a double note struck again, soon
	anotherSlowly = 300 // … slowly
	anotherChord  = 500 // … on a chord, or on anything three times and more
	anotherBack   = 150 // … on a double note or a chord that comes back after one other stroke
	toAndFro      = 300 // … by the finger that took it before the last, the thumb left out: fingers change towards the thumb
	outerThird    = 150 // lost by 4 and 5 on a third that stands by itself, where the longer fingers are free
)

// Times between strokes of one key, in microseconds, from which it is struck again steadily, and slowly; and below which
// it is trilled with another one: a trill and a turn stay on their fingers.
const (
	steadyAgain = 200_000
	slowAgain   = 450_000
	fastBack    = 200_000
)

// crossedWithin is how many semitones apart keys are at most on which a finger gains that passes over another, the thumb
// left out: print has such joints on wider steps, too, but seldom where they would be made for this gain.
const crossedWithin = 2

// length ranks fingers by how far they reach forward: the third is the longest, the thumb the shortest.
var length = [6]int{1: 0, 2: 2, 3: 4, 4: 3, 5: 1}

// PairGains adds what the decode gains by the joint of two single keys (see lattice.Joints). It counts as much as the
// habit of editors does.
func (m *Model) PairGains(e int, out []int32) bool {
	if m.struckAgain(e) {
		return m.againGains(e, out)
	}
	if m.thirdAlone(e) {
		return m.thirdGains(e, out)
	}
	if m.struck[e] != 1 || m.struck[e-1] != 1 {
		return false
	}
	i, j := int(m.high[e-1]), int(m.high[e])
	if _, ok := m.linkClass(e, i, j); !ok {
		return false
	}
	from, to := &m.line.Events[e-1], &m.line.Events[e]
	t := joined{
		a: int(from.Keys[i].Key), b: int(to.Keys[j].Key), micros: to.Micros - from.Micros,
		parted: m.line.Strikes[from.Keys[i].Strike].End.Compare(to.Onset) < 0,
		held:   len(from.Keys) > 1 || len(to.Keys) > 1,
	}
	leaps := m.leaps(e)
	line := m.lineOf(e, i, j)
	before, now := m.remembers(from.Keys[i].Strike), m.remembers(to.Keys[j].Strike)
	var gain [25]int32
	some := false
	for f := 1; f <= 5; f++ {
		for g := 1; g <= 5; g++ {
			if leaps && (f != g || !t.parted) { // no joint, but for one finger that is set down elsewhere
				continue
			}
			v := t.gain(f, g) * int32(m.pricer.habitPercent) / 100
			if v > 0 && !(before.takes(f) && now.takes(g)) {
				continue
			}
			v -= int32(int64(t.fault(m.pricer.profile, line, f, g)) * m.pricer.habitPercent / 100)
			gain[(f-1)*5+g-1] = v
			some = some || v != 0
		}
	}
	if !some {
		return false
	}
	here := m.grips.Grips(e)
	for x, grip := range m.grips.Grips(e - 1) {
		row := gain[int(grip.Fingers[i]-1)*5:][:5]
		of := out[x*len(here):][:len(here)]
		for y := range here {
			of[y] += row[here[y].Fingers[j]-1]
		}
	}
	return true
}

// thirdAlone says that an event strikes a third and nothing else, and that no other double note stands beside it: in a row of
// thirds each pair of fingers has its turn.
func (m *Model) thirdAlone(e int) bool {
	keys := m.line.Events[e].Keys
	if len(keys) != 2 || m.struck[e] != 2 || keys[1].Key-keys[0].Key < 3 || keys[1].Key-keys[0].Key > 4 {
		return false
	}
	return m.struck[e-1] == 1 && (e+1 == len(m.line.Events) || m.struck[e+1] == 1)
}

// thirdGains takes from 4 and 5 on a third what the longer fingers gain.
func (m *Model) thirdGains(e int, out []int32) bool {
	loss := int32(outerThird * m.pricer.habitPercent / 100)
	if loss == 0 {
		return false
	}
	here := m.grips.Grips(e)
	for a := range m.grips.Grips(e - 1) {
		for b := range here {
			if here[b].Fingers[0] == 4 && here[b].Fingers[1] == 5 {
				out[a*len(here)+b] -= loss
			}
		}
	}
	return true
}

// againGains takes from other fingers on a double note or a chord struck again what keeping them gains.
func (m *Model) againGains(e int, out []int32) bool {
	loss := [...]int32{anotherSoon, anotherSlowly, anotherChord}[m.regripAt(e)]
	loss = loss * int32(m.pricer.habitPercent) / 100
	if loss == 0 {
		return false
	}
	here := m.grips.Grips(e)
	for a, before := range m.grips.Grips(e - 1) {
		for b := range here {
			if before.Fingers != here[b].Fingers {
				out[a*len(here)+b] -= loss
			}
		}
	}
	return true
}

// backGains takes from other fingers on keys that are struck together again after one other stroke.
func (m *Model) backGains(e int, out []int32) bool {
	loss := int32(anotherBack * m.pricer.habitPercent / 100)
	if loss == 0 {
		return false
	}
	at, between, here := 0, m.grips.Grips(e-1), m.grips.Grips(e)
	for _, first := range m.grips.Grips(e - 2) {
		for range between {
			for c := range here {
				if first.Fingers != here[c].Fingers {
					out[at+c] -= loss
				}
			}
			at += len(here)
		}
	}
	return true
}

// remembered is the finger that took a strike where its passage stood before, 0 for none. There only its joints gain:
// a joint that is seldom is no reason to finger a passage otherwise the second time.
type remembered fingering.Finger

func (m *Model) remembers(strike int) remembered {
	s := &m.line.Strikes[strike]
	if s.Worth <= 0 || m.returns == nil {
		return 0
	}
	return remembered(s.Remembered)
}

// RememberedAt is the finger remembered at the single key of an event, 0 for none: what the gains of joints change with
// (see lattice.RememberingJoints).
func (m *Model) RememberedAt(e int) uint8 {
	if m.struck[e] != 1 {
		return 0
	}
	return uint8(m.remembers(m.line.Events[e].Keys[m.high[e]].Strike))
}

func (r remembered) takes(f int) bool { return r == 0 || int(r) == f }

// joined is how two single keys follow each other.
type joined struct {
	a, b   int   // keys
	micros int64 // from stroke to stroke
	parted bool  // the first key is let go before the second stroke
	held   bool  // the hand holds another key meanwhile
}

// gain of two fingers.
func (t joined) gain(f, g int) int32 {
	far := abs(t.b - t.a)
	inner, outer := min(f, g), max(f, g)
	switch {
	case far == 0:
		return t.again(f != g)
	case f == g:
		return t.sameFinger(f, far)
	case (t.a < t.b) != (f < g):
		return t.crossed(f, g, far)
	case t.parted:
		return 0
	case far <= 2 && outer-inner > 1:
		return leftOutOnStep
	case far >= 5 && inner > 1 && outer-inner == 1:
		return neighboursApart
	case far >= 8 && outer == 2:
		return thumbOpened
	}
	return 0
}

func (t joined) again(other bool) int32 {
	switch {
	case !other || t.micros < steadyAgain:
		return 0
	case t.micros < slowAgain:
		return againSteadily
	}
	return againSlowly
}

// sameFinger is the gain of one finger on two keys, so many semitones apart.
func (t joined) sameFinger(f, far int) int32 {
	switch {
	case f == 1 && far > 2 && !t.parted:
		return twoThumbs
	case f == 5 && !t.parted:
		return fiveTwice
	case far <= 2 && t.parted:
		return partedStep
	case far <= 2:
		return glide
	case far <= 12 && t.parted:
		return partedFar
	case far <= 7 && !t.parted:
		return glideFar
	}
	return 0
}

// crossed is the gain of two fingers that lie against the order of their keys, so many semitones apart.
func (t joined) crossed(f, g, far int) int32 {
	if min(f, g) == 1 {
		if far > 5 {
			return 0
		}
		gain := int32(thumbPassed)
		if f == 1 && hand.Black(t.a) || g == 1 && hand.Black(t.b) {
			gain += thumbOntoBlack
		}
		if max(f, g) >= 4 {
			gain += thumbByOuter
		}
		return gain
	}
	if far > crossedWithin || t.held { // a finger that holds a key keeps the others in their order
		return 0
	}
	long, short := t.a, t.b
	if length[f] < length[g] {
		long, short = t.b, t.a
	}
	switch {
	case !hand.Black(long) && hand.Black(short):
		return overFromBlack
	case f+g == 5:
		return secondCrossed
	case min(f, g) == 2:
		return 0
	case hand.Black(long) && !hand.Black(short):
		return longFingersOver + overOnBlack
	}
	return longFingersOver
}

// RowGains adds what the decode gains by another finger on a key struck again after one other, and loses by other ones on
// keys that are struck together again so (see lattice.Joints).
func (m *Model) RowGains(e int, out []int32) bool {
	if m.strikesSame(e-2, e) && !m.strikesSame(e-1, e) {
		return m.backGains(e, out)
	}
	if e < 2 || m.struck[e] != 1 || m.struck[e-1] != 1 || m.struck[e-2] != 1 {
		return false
	}
	i, j, k := m.high[e-2], m.high[e-1], m.high[e]
	events := m.line.Events
	a, b, c := events[e-2].Keys[i], events[e-1].Keys[j], events[e].Keys[k]
	if a.Key == b.Key && b.Key == c.Key {
		return m.toAndFroGains(e, out)
	}
	gain := int32(backAgain * m.pricer.habitPercent / 100)
	if a.Key != c.Key || a.Key == b.Key || gain == 0 || m.line.Strikes[b.Strike].Turn {
		return false
	}
	if t := events[e].Micros - events[e-2].Micros; t > 0 && t < fastBack {
		return false
	}
	before, now := m.remembers(a.Strike), m.remembers(c.Strike)
	at, here := 0, m.grips.Grips(e)
	for _, first := range m.grips.Grips(e - 2) {
		for range m.grips.Grips(e - 1) {
			for _, last := range here {
				f, g := int(first.Fingers[i]), int(last.Fingers[k])
				if f != g && before.takes(f) && now.takes(g) {
					out[at] += gain
				}
				at++
			}
		}
	}
	return true
}

// toAndFroGains takes from fingers that change to and fro on one key what changing towards the thumb gains.
func (m *Model) toAndFroGains(e int, out []int32) bool {
	loss := int32(toAndFro * m.pricer.habitPercent / 100)
	if loss == 0 {
		return false
	}
	i, j, k := m.high[e-2], m.high[e-1], m.high[e]
	at, between, here := 0, m.grips.Grips(e-1), m.grips.Grips(e)
	for _, first := range m.grips.Grips(e - 2) {
		for _, second := range between {
			for _, last := range here {
				f, g := first.Fingers[i], second.Fingers[j]
				if last.Fingers[k] == f && f != g && min(f, g) > 1 {
					out[at] -= loss
				}
				at++
			}
		}
	}
	return true
}
