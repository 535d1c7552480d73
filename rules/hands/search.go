package hands

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
)

// handState is where one hand is.
type handState struct {
	played    bool
	low, high int   // keys struck last
	at        int64 // when
	end       int64 // when the last of them comes up
	dur       int64 // how long the shortest of them sounds
	step      int64 // time between its last two strokes
	run       int   // slow middle of what it played, in sixteenths of a key
	heldKey   [6]int8
	heldEnd   [6]int64
	held      int
}

// course is one way both hands may have come.
type course struct {
	cost   int64
	left   uint32       // keys of this moment that the left hand struck, a bit each
	hand   [2]handState // right, left
	before *course
}

// memory is which of the notes that those of a moment go on from were the left
// hand's: a bit for each note.
type memory struct {
	same, led, like uint32
}

// width is how many courses are followed at once.
const width = 40

// search gives the cheapest course from start on.
func search(moments []moment, w *weights, start *course) *course {
	beam := []*course{start}
	var next []*course
	for m := range moments {
		here := &moments[m]
		divided := divisions(here)
		alone := make([]int64, len(here.keys)) // what it costs to give a note to the left
		for k := range here.keys {
			alone[k] = here.bias[k]
			for _, f := range here.own[k] {
				alone[k] += int64(w[f])
			}
		}
		next = next[:0]
		for _, c := range beam {
			was := c.remember(here)
			for _, left := range divided {
				t := tally{w: w}
				o := c.play(here, left, &was, &t)
				o.cost = c.cost + t.cost
				for k := range alone {
					if left>>k&1 == 1 {
						o.cost += alone[k]
					}
				}
				next = append(next, o)
			}
		}
		slices.SortStableFunc(next, func(a, b *course) int { return cmp.Compare(a.cost, b.cost) })
		beam = beam[:0:0]
		for _, c := range next {
			if len(beam) == width {
				break
			}
			if !slices.ContainsFunc(beam, func(b *course) bool { return b.hand == c.hand }) {
				beam = append(beam, c)
			}
		}
	}
	return beam[0]
}

// follow adds up what a given division of each moment is made of, and gives the course it leads to.
func (c *course) follow(moments []moment, given []uint32, sum *features) *course {
	var none weights
	for m := range moments {
		here := &moments[m]
		was := c.remember(here)
		c = c.play(here, given[m], &was, &tally{w: &none, sum: sum})
		for k := range here.keys {
			if given[m]>>k&1 == 1 {
				for _, f := range here.own[k] {
					sum[f]++
				}
			}
		}
	}
	return c
}

// remember looks up which hand struck what the notes of the next moment go on from.
func (c *course) remember(m *moment) (was memory) {
	deepest := m.likeBack
	for k := range m.keys {
		deepest = max(deepest, m.same[k].back, m.led[k].back)
	}
	at := c
	for back := 1; back <= deepest && at != nil; back++ {
		for k := range m.keys {
			if m.same[k].back == back {
				was.same |= at.left >> m.same[k].key & 1 << k
			}
			if m.led[k].back == back {
				was.led |= at.left >> m.led[k].key & 1 << k
			}
		}
		if m.likeBack == back {
			was.like = at.left
		}
		at = at.before
	}
	return was
}

// divisions lists the divided to divide the keys of a moment: the lower ones to
// the left, or, for what it costs, to the right.
func divisions(m *moment) []uint32 {
	all := uint32(1)<<len(m.keys) - 1
	var fixed, left uint32
	for k, h := range m.known {
		if h != score.NoHand {
			fixed |= 1 << k
		}
		if h == score.Left {
			left |= 1 << k
		}
	}
	out := make([]uint32, 0, 2*len(m.keys)+2)
	add := func(d uint32) {
		d = d&^fixed | left
		if !slices.Contains(out, d) {
			out = append(out, d)
		}
	}
	for s := 0; s <= len(m.keys); s++ {
		add(uint32(1)<<s - 1)
	}
	for s := 1; s < len(m.keys); s++ {
		add(all &^ (uint32(1)<<s - 1))
	}
	return out
}

// play divides the keys of a moment and says where the hands are then.
func (c *course) play(m *moment, left uint32, was *memory, t *tally) *course {
	out := &course{left: left, hand: c.hand, before: c}
	for h := range 2 {
		out.hand[h].let(m.at)
	}
	for h := range 2 {
		out.hand[h].strike(m, left, h, &c.hand[1-h], t)
	}
	out.divide(m, left, was, t)
	return out
}

// let takes off the keys that have come up.
func (o *handState) let(at int64) {
	k := 0
	for i := range o.held {
		if o.heldEnd[i] > at {
			o.heldKey[k], o.heldEnd[k] = o.heldKey[i], o.heldEnd[i]
			k++
		}
	}
	for i := k; i < o.held; i++ {
		o.heldKey[i], o.heldEnd[i] = 0, 0
	}
	o.held = k
}
