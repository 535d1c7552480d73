package effort

import (
	"cmp"
	"math/bits"
	"slices"

	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// What speed makes hard. Times are microseconds at the fast end of the piece's tempo, prices milli-nats; the figures
// are our own working figures around published or remembered limits, named at each.
const (
	// slowFinger is the time one finger needs from one key to another: four a second (FACTS §3.1, a proposal).
	slowFinger = 250_000
	// fastPass is the time below which a pass shows as a delay (FACTS §3.2: thumb-under makes the delays of fast
	// scales).
	fastPass = 90_000
	// weakPair is the time below which 4 and 5 in turn lose evenness (FACTS §3.2: ring and little finger are slower).
	weakPair = 110_000
	// leapBase and leapBit shape the time of a leap by its index of difficulty (FACTS §3.4: time grows by the bit);
	// the two coefficients have no published value for the piano and are settings of ours.
	leapBase = 50_000
	leapBit  = 30_000
	// needlessChange and outOfTurn price other fingers on a key struck again: slowly, and fast but not in turn.
	needlessChange = 1200
	outOfTurn      = 2500
	// goesOnInTurn is what the next finger of a turn gains: the table holds every finger but the same one against it, as
	// if the hand came back from elsewhere.
	goesOnInTurn = 1100
	// tiredFinger prices one finger repeating a key faster than it can with ease, more the faster it is.
	tiredFinger = 1500
	// thumbAgain prices the thumb on a key repeated fast: it ends the turn, so that longer turns (4 3 2 1, 3 2 1)
	// come before 2 1, and none begins 1 2. In the open editions 33 of 38 quick turns on one key of which every digit is
	// printed go down to their end, 4 3 2 1, 4 3 2 or 3 2 1.
	thumbAgain = 1600
	// nearMove is how far the hand shifts without that being a leap.
	nearMove = 6000 // hundredths of a millimetre
)

// Prices of other fingers on a double note or a chord that is struck again at once, in milli-nats: the hand comes down as
// it lay, and no finger tires. With them the fingers change as often as in print ('workbench idioms', on the mean of the
// folds): a double note struck twice at 3 places of 10 where it comes soon, mostly where a run of double notes sets in
// with it, and at 1 of 13 slowly; a chord, and what is struck three times and more, hardly anywhere.
const (
	regripSoon   = 500
	regripSlowly = 1500
	regripChord  = 2500
)

// late gives price × (limit − time) / time: nothing while there is time, the full price where it needs twice as much.
func late(price, limit, micros int64) int64 {
	if micros >= limit {
		return 0
	}
	return min(price*(limit-micros)/max(micros, 1), 6*price)
}

// tempoPrice prices one key followed by another after so many microseconds, in milli-nats.
func (p *Pricer) tempoPrice(from, to played, micros int64) int64 {
	a, b, f, g := from.key, to.key, from.finger, to.finger
	d := hand.Distance(a, b)
	far := max(d, -d)
	switch {
	case f == g:
		if slides(a, b, f) {
			return 0
		}
		return late(1000, slowFinger, micros)
	}
	var sum int64
	span := d
	if f > g {
		span = -d
	}
	if span < 0 && min(f, g) == 1 {
		sum += late(500, fastPass, micros)
	}
	if min(f, g) == 4 && max(f, g) == 5 {
		sum += late(600, weakPair, micros)
	}
	if moved := p.moved(from, to); moved > nearMove && far > nearMove {
		sum += late(700, leapTime(moved, hand.Black(b)), micros)
	}
	return sum
}

// repeatPrice prices a key struck again. Very fast, the fingers change in turn towards the thumb and begin anew from
// a longer one (4 3 2 1, 3 2 1, 2 1); with time enough a change only unsettles the hand (FACTS §4.6).
func (p *Pricer) repeatPrice(f, g int, micros int64) int64 {
	switch {
	case f == g:
		if micros < p.aims.RepeatMicros {
			return tiredFinger + late(3500, p.aims.RepeatMicros, micros)
		}
		return 0
	case micros >= 2*p.aims.RepeatMicros:
		return needlessChange
	case micros < p.aims.RepeatMicros && g == f-1:
		return -goesOnInTurn
	case micros < p.aims.RepeatMicros && !(f == 1 && g <= 4):
		return outOfTurn
	}
	return 0
}

// repeatPriceAt is repeatPrice at a joint. Where other keys are struck with one of the two the hand repeats the key, and no
// finger tires; where fingers change in turn on the key before or after, they begin anew, and no change is needless.
func (p *Pricer) repeatPriceAt(t joint, f, g int) int64 {
	slowly := t.micros >= 2*p.aims.RepeatMicros
	if t.again || t.together && !slowly || t.inTurn && slowly {
		return 0
	}
	return p.repeatPrice(f, g, t.micros)
}

// repeatsFast says that key i of event e is struck again faster than one finger can with ease.
func (m *Model) repeatsFast(e, i int) bool {
	if !m.pricer.aims.On || m.pricer.aims.Tempo == 0 {
		return false
	}
	if e+1 >= len(m.line.Events) || m.struck[e] != 1 || m.struck[e+1] != 1 {
		return false
	}
	here, next := &m.line.Events[e], &m.line.Events[e+1]
	micros := next.Micros - here.Micros
	return next.Keys[m.high[e+1]].Key == here.Keys[i].Key && micros > 0 && micros < m.pricer.aims.RepeatMicros
}

// AtTempoOf prices the same music at the tempo of another line, which differs in Event.Micros alone.
func (m *Model) AtTempoOf(line *fingering.Line) *Model {
	out, music := *m, *m.music
	music.line = line
	out.music = &music
	return &out
}

// Other adds to the prices of event e, as Unary and Pair lay them out, what they are more in the model other, which is m
// at another tempo: triples do not depend on it. pair is nil for the first event. It is false where nothing was added.
func (m *Model) Other(other *Model, e int, unary, pair []int32) (differs bool) {
	if i := int(m.high[e]); m.repeatsFast(e, i) != other.repeatsFast(e, i) {
		sign := int32(1)
		if m.repeatsFast(e, i) {
			sign = -1
		}
		for g, grip := range m.grips.Grips(e) {
			if grip.Fingers[i] == 1 {
				unary[g] += sign * fixed(thumbAgain*int64(m.pricer.aims.Tempo)*10)
				differs = true
			}
		}
	}
	if pair == nil {
		return differs
	}
	if m.pricer.aims.On && m.struckAgain(e) {
		if more := fixed(other.regripPrice(e)*1000) - fixed(m.regripPrice(e)*1000); more != 0 {
			m.onRegrips(e, more, pair)
			differs = true
		}
	}
	own, ok := m.jointAt(e)
	theirs, too := other.jointAt(e)
	if !ok && !too {
		return differs
	}
	// One difference for two fingers and the finger beside the first, worked out once each.
	var price [6 * 25]int32
	var known [6 * 25]bool
	before, here := m.grips.Grips(e-1), m.grips.Grips(e)
	for a, ga := range before {
		f, thumbward := int(ga.Fingers[own.i]), own.thumbward(ga)
		for b, gb := range here {
			g := int(gb.Fingers[own.j])
			at := thumbward*25 + (f-1)*5 + g - 1
			if len(m.line.Events[e].Keys) > 1 && (own.change || theirs.change) {
				known[at], price[at] = false, 0 // what other keys want bears on a change of finger
			}
			if !known[at] {
				if too {
					line, tempo, _ := other.ofGrips(e, theirs, ga, gb)
					price[at] = fixed((line + tempo) * 1000)
				}
				if ok {
					line, tempo, _ := m.ofGrips(e, own, ga, gb)
					price[at] -= fixed((line + tempo) * 1000)
				}
				known[at] = true
			}
			pair[a*len(here)+b] += price[at]
			differs = differs || price[at] != 0
		}
	}
	return differs
}

// addRepeats lists keys struck again and again, and turns, as runs: there one even pattern is worth more than
// agreement note by note.
func (m *Model) addRepeats() {
	if !m.pricer.aims.On || m.pricer.aims.Tempo == 0 {
		return
	}
	var runs [][2]int
	for e := 0; e+1 < len(m.line.Events); e++ {
		from := e
		for e+1 < len(m.line.Events) && m.goesOn(e) {
			e++
		}
		if e > from+1 || e > from && m.repeatsFast(from, int(m.high[from])) {
			runs = append(runs, [2]int{from, e})
		}
	}
	m.runs = mergeRuns(m.runs, runs)
}

// goesOn says that event e+1 strikes the same single key as event e again, or goes on with its turn.
func (m *Model) goesOn(e int) bool {
	if m.struck[e] != 1 || m.struck[e+1] != 1 {
		return false
	}
	a, b := m.line.Events[e].Keys[m.high[e]], m.line.Events[e+1].Keys[m.high[e+1]]
	return a.Key == b.Key || m.line.Strikes[a.Strike].Turn && m.line.Strikes[b.Strike].Turn
}

// mergeRuns joins two sorted lists of stretches into one, with those that overlap made one.
func mergeRuns(a, b [][2]int) (out [][2]int) {
	if len(b) == 0 {
		return a
	}
	all := append(slices.Clone(a), b...)
	slices.SortFunc(all, func(x, y [2]int) int { return cmp.Or(cmp.Compare(x[0], y[0]), cmp.Compare(x[1], y[1])) })
	for _, r := range all {
		if k := len(out) - 1; k >= 0 && r[0] <= out[k][1] {
			out[k][1] = max(out[k][1], r[1])
			continue
		}
		out = append(out, r)
	}
	return out
}

// leapTime is the time a leap of the hand needs: it grows by the bit of 2·distance over the width of the key (FACTS
// §3.4).
func leapTime(moved hand.Length, black bool) int64 {
	width := hand.Length(2350)
	if black {
		width = 1000
	}
	ratio := uint64(2 * 16 * moved / width) // sixteenths keep the bits between whole ones
	whole := bits.Len64(ratio) - 1
	part := int64(ratio-1<<whole) * 1000 >> whole // linear between whole bits
	return leapBase + leapBit*(int64(whole-4)*1000+part)/1000
}

// slides says that one finger glides from the first key to the second without letting the line go: from a black key
// to the white one beside it, or the thumb between neighbours (FACTS §4.4).
func slides(a, b, f int) bool {
	d := hand.Distance(a, b)
	d = max(d, -d)
	return hand.Black(a) && !hand.Black(b) && d < 2400 || f == 1 && d < 2400
}
