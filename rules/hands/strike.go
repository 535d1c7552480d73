package hands

import "math/bits"

// stroke is what one hand strikes at a moment.
type stroke struct {
	mine           uint32 // its keys, as bits of the moment's
	n              int    // how many
	low, high, gap int    // outermost keys, and the widest gap between neighbours
	middle         int    // mean key, in sixteenths
	short, long    int64  // least and greatest length
}

func strokeOf(m *moment, mine uint32) stroke {
	s, sum := stroke{mine: mine, low: 128, high: -1}, 0
	for k, key := range m.keys {
		if mine>>k&1 == 0 {
			continue
		}
		if s.n > 0 {
			s.gap = max(s.gap, key-s.high)
		}
		s.low, s.high = min(s.low, key), max(s.high, key)
		length := m.ends[k] - m.at
		if s.n == 0 || length < s.short {
			s.short = length
		}
		s.long = max(s.long, length)
		s.n++
		sum += key
	}
	if s.n > 0 {
		s.middle = sum * 16 / s.n
	}
	return s
}

// strike lets a hand (0 right, 1 left) strike its keys of a moment; o is the
// hand so far, other the other hand before the moment.
func (o *handState) strike(m *moment, left uint32, h int, other *handState, t *tally) {
	mine := left
	if h == 0 {
		mine = ^left
	}
	mine &= uint32(1)<<len(m.keys) - 1
	if mine == 0 {
		o.rest(m, h, t)
		return
	}
	s := strokeOf(m, mine)
	if o.played {
		o.comeTo(m, &s, h, other, t)
	}
	o.spanWithHeld(&s, h, t)
	if m.rank.IsGrace() {
		o.played, o.low, o.high = true, s.low, s.high
		return
	}
	if o.played {
		o.goOn(m, &s, h, other, t)
	}
	if s.short != s.long {
		t.add(broken+h, 1)
	}
	o.hold(m, &s)
}

// comeTo counts how far the hand moves from its last keys, and from where it has been for some time.
func (o *handState) comeTo(m *moment, s *stroke, h int, other *handState, t *tally) {
	far := min(abs(s.low-o.low), abs(s.high-o.high), max(s.low-o.high, o.low-s.high, 0)+2)
	time := 1
	switch {
	case m.rank.IsGrace():
		time = 3
	case m.at-o.end >= ticks:
		time = 2
	case m.at-o.at < ticks/2:
		time = 0
	}
	t.add(moved+(h*4+time)*moveClasses+moveClass(far), 1)
	t.add(farther+h*4+time, min(far, 36))
	t.add(drift+h, min(abs(s.middle-o.run)/16, 24))
	if other.played {
		t.add(towards+h, min(max(abs(s.middle-o.run)-abs(s.middle-other.run), 0)/16, 24))
	}
}

// spanWithHeld counts how the hand lies over what it strikes and what it holds.
func (o *handState) spanWithHeld(s *stroke, h int, t *tally) {
	t.add(inner+h*gapClasses+gapClass(s.gap), 1)
	t.add(count+h*6+min(s.n, 6)-1, 1)
	low, high := s.low, s.high
	for i := range o.held {
		key := int(o.heldKey[i])
		low, high = min(low, key), max(high, key)
	}
	t.add(span+h*spanClasses+spanClass(high-low), 1)
	if s.n+o.held > 5 {
		t.add(fingers+h, s.n+o.held-5)
	}
	if o.held == 0 {
		return
	}
	inside := low - s.low // left: strikes above what it holds
	if h == 0 {
		inside = s.high - high
	}
	if inside < 0 { // the outermost key is one it holds
		t.add(within+h, 1)
	}
	reach := high - s.high // right: strikes below what it holds
	if h == 1 {
		reach = s.low - low
	}
	if reach > 0 {
		t.add(under+h*gapClasses+gapClass(reach), 1)
	}
}

// goOn counts how the stroke goes on with the rhythm of the hand's last one.
func (o *handState) goOn(m *moment, s *stroke, h int, other *handState, t *tally) {
	if s.short != o.dur {
		t.add(length+2*h, 1)
		if other.played && s.short == other.dur {
			t.add(length+2*h+1, 1)
		}
	}
	if m.at-o.at != o.step {
		t.add(otherStep+h, 1)
	}
	switch {
	case o.end == m.at:
		t.add(joint+3*h, 1)
	case o.end < m.at:
		t.add(joint+3*h+1, 1)
	default:
		t.add(joint+3*h+2, 1)
	}
}

// hold puts the hand where the stroke leaves it.
func (o *handState) hold(m *moment, s *stroke) {
	if !o.played {
		o.run = s.middle
	}
	o.run += (s.middle - o.run) / 4
	o.step = 0
	if o.played {
		o.step = m.at - o.at
	}
	o.played, o.low, o.high, o.at, o.dur, o.end = true, s.low, s.high, m.at, s.short, m.at+s.long
	for k, key := range m.keys {
		if s.mine>>k&1 == 1 && m.ends[k] > m.at && o.held < len(o.heldKey) {
			o.heldKey[o.held], o.heldEnd[o.held] = int8(key), m.ends[k]
			o.held++
		}
	}
}

// rest is the hand striking nothing at a moment.
func (o *handState) rest(m *moment, h int, t *tally) {
	if m.rank.IsGrace() {
		return
	}
	state := 2
	switch {
	case o.held > 0:
		state = 0
	case o.played && o.end == m.at:
		state = 1
	}
	t.add(idle+(h*3+state)*3+min(len(m.keys), 3)-1, 1)
	if state == 2 && o.played {
		for c := range 4 {
			if m.at-o.end >= ticks<<c {
				t.add(away+4*h+c, 1)
			}
		}
	}
}

// divide counts what concerns both hands: where the keys are divided, hands
// over one another, and what went before on the path here.
func (c *course) divide(m *moment, left uint32, was *memory, t *tally) {
	n := len(m.keys)
	for k := 1; k < n; k++ {
		if left>>(k-1)&1 == left>>k&1 {
			continue
		}
		other := 0
		if m.ends[k] != m.ends[k-1] {
			other = 1
		}
		t.add(cut+other*gapClasses+gapClass(m.keys[k]-m.keys[k-1]), 1)
		if other == 0 && n <= 5 && m.keys[n-1]-m.keys[0] <= 12 {
			t.add(cutWhole, 1)
		}
	}
	r, l := &c.hand[0], &c.hand[1]
	lowR, highL := 128, -1
	for i := range r.held {
		lowR = min(lowR, int(r.heldKey[i]))
	}
	for i := range l.held {
		highL = max(highL, int(l.heldKey[i]))
	}
	if r.held > 0 && l.held > 0 && highL >= lowR {
		t.add(crossed, 1)
		t.add(crossed+1, min(highL-lowR, 24))
	}
	if r.played && l.played {
		t.add(over, min(max(l.low-r.low, 0), 24)+min(max(l.high-r.high, 0), 24))
	}
	for i, mask := range m.sameKey {
		if d := (left ^ was.same) & mask; d != 0 {
			t.add(changed+i, bits.OnesCount32(d))
		}
	}
	for i, mask := range m.leads {
		if d := (left ^ was.led) & mask; d != 0 {
			t.add(unled+i, bits.OnesCount32(d))
		}
	}
	if m.likeBack > 0 {
		if d := (left ^ was.like) & (uint32(1)<<n - 1); d != 0 {
			t.add(unlike+m.likeClass, bits.OnesCount32(d))
		}
	}
}
