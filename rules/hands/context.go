package hands

// A note is also looked at by itself and by what sounds around it, before any
// hand is thought of: where it lies in the compass, how its length compares
// with its neighbours', and which earlier note or moment it goes on from.

// mostBack is how many moments a note looks back for what it goes on from, and
// mostAround how many it looks around.
const (
	mostBack   = 48
	mostAround = 40
)

// link is an earlier note: so many moments back, which of its keys.
type link struct {
	back, key int
}

// describe fills in what each moment and note says by itself.
func describe(moments []moment) {
	for m := range moments {
		here := &moments[m]
		here.same, here.led = make([]link, len(here.keys)), make([]link, len(here.keys))
		here.own = make([][]int16, len(here.keys))
		for k := range here.keys {
			here.sameKeyOf(moments, m, k)
			here.ledFrom(moments, m, k)
		}
		here.likeOf(moments, m)
	}
	var sounding []int // keys, lowest first
	for m := range moments {
		sounding = soundingAt(moments, m, sounding[:0])
		about := [2]around{aroundOf(moments, m, 2*ticks), aroundOf(moments, m, 8*ticks)}
		for k := range moments[m].keys {
			moments[m].describeNote(k, sounding, &about)
		}
	}
}

// sameKeyOf finds where the key went down last.
func (h *moment) sameKeyOf(moments []moment, m, k int) {
	for back := 1; back <= min(m, mostBack); back++ {
		b := &moments[m-back]
		since := h.at - b.at
		if since > 16*ticks {
			return
		}
		for j, key := range b.keys {
			if key != h.keys[k] {
				continue
			}
			class := 2
			if since <= ticks {
				class = 0
			} else if since <= 4*ticks {
				class = 1
			}
			h.same[k] = link{back, j}
			h.sameKey[class] |= 1 << k
			return
		}
	}
}

// ledFrom finds the nearest key, within a fifth, that comes up where this one goes down.
func (h *moment) ledFrom(moments []moment, m, k int) {
	nearest := 8
	class := 0
	for back := 1; back <= min(m, mostBack); back++ {
		b := &moments[m-back]
		if h.at-b.at > 8*ticks {
			break
		}
		for j, key := range b.keys {
			if b.ends[j] != h.at {
				continue
			}
			d := abs(key - h.keys[k])
			same := b.ends[j]-b.at == h.ends[k]-h.at
			rank := d
			if !same {
				rank += 2
			}
			if rank < nearest {
				nearest, h.led[k] = rank, link{back, j}
				class = 0
				if d > 2 {
					class = 1
				}
				if !same {
					class += 2
				}
			}
		}
	}
	if h.led[k].back > 0 {
		h.leads[class] |= 1 << k
	}
}

// likeOf finds the last moment of as many keys and the same lengths, each key
// within a third; the same keys before others.
func (h *moment) likeOf(moments []moment, m int) {
	for back := 1; back <= min(m, mostBack); back++ {
		b := &moments[m-back]
		if h.at-b.at > 16*ticks {
			return
		}
		if len(b.keys) != len(h.keys) || b.rank.IsGrace() != h.rank.IsGrace() {
			continue
		}
		like, exact := true, true
		for k := range h.keys {
			d := abs(h.keys[k] - b.keys[k])
			like = like && d <= 4 && b.ends[k]-b.at == h.ends[k]-h.at
			exact = exact && d == 0
		}
		if !like {
			continue
		}
		if exact {
			h.likeBack, h.likeClass = back, 0
			return
		}
		if h.likeBack == 0 {
			h.likeBack, h.likeClass = back, 1
		}
	}
}
