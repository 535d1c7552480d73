package effort

import (
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Prices of the line, in milli-nats: our own judgement, the worst first (common practice; slides and long fingers over
// short ones FACTS §4.4, changes on a held key FACTS §5.4).
const (
	brokenLine  = 2000 // under a slur, the key has to be let go before the next one
	slidLine    = 800  // one finger glides on
	crossedLine = 300  // a long finger over a short one: 3 over 4, 4 over 5
	changePrice = 4000 // a silent change of finger that joins what could not be joined
	turnedAside = 900  // a turn on fingers that are no neighbours (FACTS §4.7: 4 3 2 3, 3 2 1 2)
	weakLeader  = 1200 // the leading note on a finger that cannot lead
	reachPrice  = 2500 // a grip that nobody reaches; the share of those who do not, below that
	stretched   = 800  // per 50 mm beyond the ease of the hands fingered for, in a chord
)

// joinPrice prices joining two keys in one line.
func (p *Pricer) joinPrice(from, to played) int64 {
	a, b, f, g := from.key, to.key, from.finger, to.finger
	d := hand.Distance(a, b)
	switch {
	case d == 0:
		return 0
	case f == g && slides(a, b, f):
		return slidLine
	case f == g:
		return brokenLine
	}
	span := d
	if f > g {
		span = -d
	}
	switch {
	case span >= 0 && span > p.profile.Practical(f, g):
		return brokenLine
	case span >= 0:
		return 0
	case min(f, g) == 1 && span >= -7100: // a thumb passes under as far as a third
		return 0
	case min(f, g) >= 3 && span > -4800:
		return crossedLine
	}
	return brokenLine
}

// joint is how the outer voice goes from one event to the next, where line or tempo bear on it.
type joint struct {
	i, j    int // keys of the outer voice in the event before and in this one
	slurred bool
	micros  int64 // from stroke to stroke, 0 where not known
	turn    bool  // both notes belong to a turn
	change  bool  // there is time to change the finger silently
	// together says that other keys are struck with one of the two; again, that event e strikes the same keys as the one
	// before (see struckAgain).
	together, again bool
	inTurn          bool // the key is struck again fast before the two strokes or after them
	below           int  // key that lies next to i on the thumb's side in its grip, −1 if none
}

// jointAt finds the joint of event e with the one before; ok is false where neither line nor tempo bears on it.
func (m *Model) jointAt(e int) (t joint, ok bool) {
	if !m.pricer.aims.On {
		return t, false
	}
	before, here := &m.line.Events[e-1], &m.line.Events[e]
	t.i, t.j = int(m.high[e-1]), int(m.high[e])
	if _, linked := m.linkClass(e, t.i, t.j); !linked {
		return t, false
	}
	t.below = t.i - 1
	t.together, t.again = m.struck[e-1] > 1 || m.struck[e] > 1, m.struckAgain(e)
	t.inTurn = e > 1 && m.repeatsFast(e-2, int(m.high[e-2])) || m.repeatsFast(e, t.j)
	strike := &m.line.Strikes[before.Keys[t.i].Strike]
	t.micros = max(here.Micros-before.Micros, 0)
	from, to := before.Keys[t.i].Key, here.Keys[t.j].Key
	t.slurred = strike.Slurred && here.Joined && m.pricer.aims.Line > 0 && !(strike.Pedalled && m.beyondHand(from, to))
	t.turn = strike.Turn && m.line.Strikes[here.Keys[t.j].Strike].Turn
	t.change = t.slurred && !t.turn && strike.Then == 0 && t.micros >= m.pricer.aims.ChangeMicros && m.longEnough(e) &&
		before.Rank == playing.OnOnset && !(strike.Pedalled && m.brokenChord(from, to))
	return t, t.slurred || t.micros > 0 && m.pricer.aims.Tempo > 0
}

// beyondHand says that the hand cannot take both of two keys at once: where the pedal is marked it joins them.
// Whatever lies in the hand the fingers join themselves, pedal or not (common practice).
func (m *Model) beyondHand(a, b int8) bool {
	return hand.Distance(int(min(a, b)), int(max(a, b))) > m.pricer.profile.Practical(1, 5)
}

// brokenChord says that two keys in a row are a step of a broken chord, not of a tune: where the pedal is marked no
// finger is changed for it.
func (m *Model) brokenChord(a, b int8) bool { return max(a-b, b-a) >= ChordStep }

// ChordStep is the least step of a broken chord, in semitones: closer keys are a line.
const ChordStep = 3

// price of the joint for two fingers as they are, in milli-nats by aim.
func (m *Model) jointPrice(e int, t joint, f, g int) (line, tempo int64) {
	a, b := int(m.line.Events[e-1].Keys[t.i].Key), int(m.line.Events[e].Keys[t.j].Key)
	if then := m.then(e-1, t.i); then != 0 {
		f = then
	}
	if t.slurred {
		line = m.pricer.joinPrice(played{a, f}, played{b, g})
		if t.turn && max(f-g, g-f) != 1 {
			line += turnedAside
		}
		line = line * int64(m.pricer.aims.Line) / 100
	}
	if t.micros > 0 {
		var price int64
		if a == b {
			price = m.pricer.repeatPriceAt(t, f, g)
		} else {
			price = m.pricer.tempoPrice(played{a, f}, played{b, g}, t.micros)
		}
		tempo = price * int64(m.pricer.aims.Tempo) / 100
	}
	return line, tempo
}

// changed gives the best silent change from f to another finger before g follows: the new finger, and what the joint
// then costs beside the fitted price of f followed by g, in milli-nats. thumbward is the finger that lies next to f in
// the grip, 0 if none; taken are the fingers on the other keys of event e, which are wanted there. The finger is 0 where no change
// joins the line.
func (m *Model) changed(e int, t joint, f, g, thumbward int, taken fingering.Mask) (to int, cost int64) {
	a, b := int(m.line.Events[e-1].Keys[t.i].Key), int(m.line.Events[e].Keys[t.j].Key)
	class, _ := m.linkClass(e, t.i, t.j)
	price := m.pricer.linkTable(class, a, b).price
	milli := func(f, g int) int64 { return int64(price[(f-1)*5+g-1]) * 1000 / 4096 }
	for h := thumbward + 1; h <= fingering.Fingers; h++ {
		if h == f || taken.Has(fingering.Finger(h)) || m.pricer.joinPrice(played{a, h}, played{b, g}) > 0 {
			continue
		}
		if c := changePrice + milli(h, g) - milli(f, g); to == 0 || c < cost {
			to, cost = h, c
		}
	}
	return to, cost * int64(m.pricer.aims.Line) / 100
}

// best of the joint: as it is, or with a silent change where that is cheaper.
func (m *Model) best(e int, t joint, f, g, thumbward int, taken fingering.Mask) (line, tempo int64, change int) {
	line, tempo = m.jointPrice(e, t, f, g)
	if !t.change || line == 0 {
		return line, tempo, 0
	}
	if to, cost := m.changed(e, t, f, g, thumbward, taken); to != 0 && cost < line {
		return cost, tempo, to
	}
	return line, tempo, 0
}

// ofGrips is best of two grips.
func (m *Model) ofGrips(e int, t joint, before, here fingering.Grip) (line, tempo int64, change int) {
	return m.best(e, t, int(before.Fingers[t.i]), int(here.Fingers[t.j]), t.thumbward(before), t.taken(here, len(m.line.Events[e].Keys)))
}

func (t joint) thumbward(g fingering.Grip) int {
	if t.below < 0 {
		return 0
	}
	return int(g.Fingers[t.below])
}

// taken are the fingers that a grip of so many keys wants beside that of the outer voice, where a silent change may be made.
func (t joint) taken(g fingering.Grip, keys int) (out fingering.Mask) {
	if !t.change {
		return 0
	}
	for i := range keys {
		if i != t.j {
			out |= fingering.Only(g.Fingers[i])
		}
	}
	return out
}

// longEnough says that the hand has an eighth at least from event e−1 to event e: no finger is changed silently on less (common
// practice, no source; readers of our editions: "no editor prints a silent change on a sixteenth").
func (m *Model) longEnough(e int) bool {
	from := m.line.Events[e-1].Onset
	return fingering.Moment{Num: 2*from.Num + from.Den, Den: 2 * from.Den}.Compare(m.line.Events[e].Onset) <= 0
}

// pairAims adds what line and tempo charge for two events in a row (see lattice.Model).
func (m *Model) pairAims(e int, out []int32) {
	m.addRegrips(e, out)
	m.addOctaves(e, out)
	t, ok := m.jointAt(e)
	if !ok {
		return
	}
	// One price for two fingers and the finger beside the first, worked out once each.
	var price [6 * 25]int32
	var known [6 * 25]bool
	before, here := m.grips.Grips(e-1), m.grips.Grips(e)
	for a, ga := range before {
		f, thumbward := int(ga.Fingers[t.i]), t.thumbward(ga)
		for b, gb := range here {
			g := int(gb.Fingers[t.j])
			if len(m.line.Events[e].Keys) > 1 && t.change {
				line, tempo, _ := m.ofGrips(e, t, ga, gb)
				out[a*len(here)+b] += fixed((line + tempo) * 1000)
				continue
			}
			at := thumbward*25 + (f-1)*5 + g - 1
			if !known[at] {
				line, tempo, _ := m.best(e, t, f, g, thumbward, 0)
				price[at], known[at] = fixed((line+tempo)*1000), true
			}
			out[a*len(here)+b] += price[at]
		}
	}
}

// FollowsAims says that aims are priced beside the table.
func (m *Model) FollowsAims() bool { return m.pricer.aims.On }

// Aims adds what line, tempo and reach charge, and the rewards of handbook runs, to the prices of event e as Unary and
// Pair lay them out: what of a price no term of the table is for. pair is nil for the first event.
func (m *Model) Aims(e int, unary, pair []int32) {
	m.unaryAims(e, unary)
	for i, k := range m.line.Events[e].Keys {
		if k.Struck {
			for g, grip := range m.grips.Grips(e) {
				unary[g] += m.bonus[k.Strike][grip.Fingers[i]-1]
			}
		}
	}
	if pair != nil {
		m.pairAims(e, pair)
	}
}

// Change gives the finger to which the hand changes silently on the outer key of event e−1 before event e, 0 if it
// does not.
func (m *Model) Change(e int, before, here fingering.Grip) fingering.Finger {
	if e == 0 {
		return 0
	}
	t, ok := m.jointAt(e)
	if !ok || !t.change {
		return 0
	}
	_, _, to := m.ofGrips(e, t, before, here)
	return fingering.Finger(to)
}

// ChangeStrike is the strike on which Change speaks.
func (m *Model) ChangeStrike(e int) int {
	return m.line.Events[e-1].Keys[m.high[e-1]].Strike
}
