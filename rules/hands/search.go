package hands

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
)

// one is where one hand is.
type one struct {
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
	left   uint32 // keys of this moment that the left hand struck, a bit each
	hand   [2]one // right, left
	before *course
	sum    features // only kept while fitting
}

// width is how many courses are followed at once.
const width = 40

// search gives the cheapest course. Where given is not nil only its divisions
// are followed (fitting).
func search(notes []Note, moments []moment, w *weights, start course, given []uint32) *course {
	beam := []*course{&start}
	for m := range moments {
		var next []*course
		for _, c := range beam {
			if given != nil {
				next = append(next, c.play(&moments[m], given[m], w))
				continue
			}
			for _, left := range divisions(&moments[m]) {
				next = append(next, c.play(&moments[m], left, w))
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

// divisions lists the ways to divide the keys of a moment: the lower ones to
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
func (c *course) play(m *moment, left uint32, w *weights) *course {
	out := &course{left: left, hand: c.hand, before: c}
	var f features
	for h := range 2 {
		out.hand[h].let(m.at)
		out.hand[h].strike(m, left, h, &f)
	}
	between(c, out, m, left, &f)
	out.cost = c.cost
	for i := range f {
		out.cost += int64(f[i]) * int64(w[i])
	}
	if w.fitting() {
		out.sum = c.sum
		for i := range f {
			out.sum[i] += f[i]
		}
	}
	return out
}

// let takes off the keys that have come up.
func (o *one) let(at int64) {
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
