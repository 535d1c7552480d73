package hands

// What a division of keys between the hands is made of. Keys are counted in
// semitones.
const (
	leapFast    = iota // way of the nearest outer key, when there is less than half a quarter
	leapSlow           // … more
	leapRest           // … after the hand has been free for a quarter or more
	farLeap            // what goes beyond an octave
	drift              // from where the hand has been for some time
	stretch            // struck and held keys beyond a fifth
	wide               // beyond an octave
	beyond             // beyond a tenth
	fingers            // keys beyond five
	register           // right hand below middle C, left above
	broken             // keys of different length struck by one hand
	otherLength        // another length than the hand's last stroke
	otherStep          // another time since the last stroke than the one before
	cutOff             // struck while the hand still holds other keys
	joined             // begins where the hand's last stroke ends
	late               // begins after a rest of the hand
	alone              // several keys and only one hand strikes
	idle               // the hand does not strike, and holds nothing
	gap                // width of the gap at which the keys are divided
	innerGap           // widest gap left within one hand
	crossed            // left hand above the right, sounding
	crossedAt          // … how far
	over               // … not sounding
	idleStroke         // the hand does not strike though a line of its own ends here
	size
)

type features [size]int32

type weights [size + 1]int32

// fitting asks that sums are kept.
func (w *weights) fitting() bool { return w[size] != 0 }

// shipped are the weights in thousandths.
var shipped = weights{
	leapFast: 60, leapSlow: 40, leapRest: 25, farLeap: 60, drift: 20, stretch: 30, wide: 150, beyond: 800, fingers: 3000,
	register: 20, broken: 300, otherLength: 300, otherStep: 200, cutOff: 100, joined: -300, late: 100, alone: 100, idle: 200,
	gap: -40, innerGap: 40, crossed: 1500, crossedAt: 60, over: 60, idleStroke: 300,
}

func abs(x int) int { return max(x, -x) }

// strike lets a hand (0 right, 1 left) strike its keys of a moment.
func (o *one) strike(m *moment, left uint32, h int, f *features) {
	low, high, n := 128, -1, 0
	var short, long int64
	inner := 0
	sum := 0
	for k, key := range m.keys {
		if int(left>>k&1) != h {
			continue
		}
		if n > 0 {
			inner = max(inner, key-high)
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
	if n == 0 {
		if o.held == 0 {
			f[idle]++
		}
		if o.played && o.end == m.at {
			f[idleStroke]++
		}
		return
	}
	middle := sum * 16 / n
	for k, key := range m.keys {
		if int(left>>k&1) == h {
			if h == 0 {
				f[register] += int32(max(60-key, 0))
			} else {
				f[register] += int32(max(key-60, 0))
			}
		}
	}
	if o.played {
		way := min(abs(low-o.low), abs(high-o.high), max(low-o.high, o.low-high, 0)+2)
		since := m.at - o.at
		switch {
		case m.at-o.end >= ticks:
			f[leapRest] += int32(way)
		case since < ticks/2:
			f[leapFast] += int32(way)
		default:
			f[leapSlow] += int32(way)
		}
		f[farLeap] += int32(max(way-12, 0))
		f[drift] += int32(min(abs(middle-o.run)/16, 24))
		if short != o.dur {
			f[otherLength]++
		}
		if since != o.step && since > 0 {
			f[otherStep]++
		}
		switch {
		case o.end == m.at:
			f[joined]++
		case o.end < m.at:
			f[late]++
		}
	}
	if o.held > 0 {
		f[cutOff]++
	}
	lo, hi := low, high
	for i := range o.held {
		lo, hi = min(lo, int(o.heldKey[i])), max(hi, int(o.heldKey[i]))
	}
	f[stretch] += int32(max(hi-lo-7, 0))
	f[wide] += int32(max(hi-lo-12, 0))
	f[beyond] += int32(max(hi-lo-16, 0))
	f[fingers] += int32(max(n+o.held-5, 0))
	if short != long {
		f[broken]++
	}
	f[innerGap] += int32(min(inner, 24))

	if !o.played {
		o.run = middle
	}
	o.run += (middle - o.run) / 4
	o.step = 0
	if o.played {
		o.step = m.at - o.at
	}
	o.played, o.low, o.high, o.at, o.dur, o.end = true, low, high, m.at, short, m.at+long
	for k, key := range m.keys {
		if int(left>>k&1) == h && m.ends[k] > m.at && o.held < len(o.heldKey) {
			o.heldKey[o.held], o.heldEnd[o.held] = int8(key), m.ends[k]
			o.held++
		}
	}
}

// between counts what concerns both hands.
func between(before, c *course, m *moment, left uint32, f *features) {
	r, l := &c.hand[0], &c.hand[1]
	all := uint32(1)<<len(m.keys) - 1
	both := left != 0 && left != all
	if len(m.keys) > 1 && !both {
		f[alone]++
	}
	if both {
		lowR, highL := 128, -1
		for k, key := range m.keys {
			if left>>k&1 == 1 {
				highL = max(highL, key)
			} else {
				lowR = min(lowR, key)
			}
		}
		f[gap] += int32(min(max(lowR-highL, 0), 24))
	}
	// Hands over one another, by what they hold or strike.
	lowR, highL := 128, -1
	for i := range r.held {
		lowR = min(lowR, int(r.heldKey[i]))
	}
	for i := range l.held {
		highL = max(highL, int(l.heldKey[i]))
	}
	if r.held > 0 && l.held > 0 && highL >= lowR {
		f[crossed]++
		f[crossedAt] += int32(min(highL-lowR, 24))
	}
	if r.played && l.played {
		f[over] += int32(min(max(l.low-r.low, 0), 24) + min(max(l.high-r.high, 0), 24))
	}
}
