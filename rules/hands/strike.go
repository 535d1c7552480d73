package hands

import "math/bits"

// strike lets a hand (0 right, 1 left) strike its keys of a moment; o is the
// hand so far, other the other hand before the moment.
func (o *one) strike(m *moment, left uint32, h int, other *one, t *tally) {
	mine := left
	if h == 0 {
		mine = ^left
	}
	mine &= uint32(1)<<len(m.keys) - 1
	if mine == 0 {
		o.rest(m, h, t)
		return
	}
	low, high, n, gap, sum := 128, -1, 0, 0, 0
	var short, long int64
	for k, key := range m.keys {
		if mine>>k&1 == 0 {
			continue
		}
		if n > 0 {
			gap = max(gap, key-high)
		}
		low, high = min(low, key), max(high, key)
		d := m.ends[k] - m.at
		if n == 0 || d < short {
			short = d
		}
		long = max(long, d)
		n++
		sum += key
	}
	middle := sum * 16 / n
	since := m.at - o.at
	if o.played {
		far := min(abs(low-o.low), abs(high-o.high), max(low-o.high, o.low-high, 0)+2)
		time := 1
		switch {
		case m.rank.IsGrace():
			time = 3
		case m.at-o.end >= ticks:
			time = 2
		case since < ticks/2:
			time = 0
		}
		t.add(way+(h*4+time)*wayClasses+wayClass(far), 1)
		t.add(farther+h*4+time, min(far, 36))
		t.add(drift+h, min(abs(middle-o.run)/16, 24))
		if other.played {
			t.add(towards+h, min(max(abs(middle-o.run)-abs(middle-other.run), 0)/16, 24))
		}
	}
	t.add(inner+h*gapClasses+gapClass(gap), 1)
	t.add(count+h*6+min(n, 6)-1, 1)
	lo, hi := low, high
	for i := range o.held {
		key := int(o.heldKey[i])
		lo, hi = min(lo, key), max(hi, key)
	}
	t.add(span+h*spanClasses+spanClass(hi-lo), 1)
	if n+o.held > 5 {
		t.add(fingers+h, n+o.held-5)
	}
	if o.held > 0 {
		inside := lo - low // left: strikes above what it holds
		if h == 0 {
			inside = high - hi
		}
		if inside < 0 { // the outermost key is one it holds
			t.add(within+h, 1)
		}
		reach := hi - high // right: strikes below what it holds
		if h == 1 {
			reach = low - lo
		}
		if reach > 0 {
			t.add(under+h*gapClasses+gapClass(reach), 1)
		}
	}
	if m.rank.IsGrace() {
		o.played, o.low, o.high = true, low, high
		return
	}
	if o.played {
		if short != o.dur {
			t.add(length+2*h, 1)
			if other.played && short == other.dur {
				t.add(length+2*h+1, 1)
			}
		}
		if since != o.step {
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
	if short != long {
		t.add(broken+h, 1)
	}
	if !o.played {
		o.run = middle
	}
	o.run += (middle - o.run) / 4
	o.step = 0
	if o.played {
		o.step = since
	}
	o.played, o.low, o.high, o.at, o.dur, o.end = true, low, high, m.at, short, m.at+long
	for k, key := range m.keys {
		if mine>>k&1 == 1 && m.ends[k] > m.at && o.held < len(o.heldKey) {
			o.heldKey[o.held], o.heldEnd[o.held] = int8(key), m.ends[k]
			o.held++
		}
	}
}

// rest is the hand striking nothing at a moment.
func (o *one) rest(m *moment, h int, t *tally) {
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
// over one another, and what went before in this way of coming here.
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
