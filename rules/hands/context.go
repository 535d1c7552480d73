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

// listen fills in what each moment and note says by itself.
func listen(moments []moment) {
	for m := range moments {
		here := &moments[m]
		here.same, here.led = make([]link, len(here.keys)), make([]link, len(here.keys))
		here.speaks = make([][]int16, len(here.keys))
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
			moments[m].speak(k, sounding, &about)
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

// soundingAt lists what sounds at a moment, struck or held on, lowest first.
func soundingAt(moments []moment, m int, out []int) []int {
	here := &moments[m]
	for back := 0; back <= min(m, mostBack); back++ {
		b := &moments[m-back]
		for j, key := range b.keys {
			if back == 0 || b.ends[j] > here.at {
				out = insert(out, key)
			}
		}
	}
	return out
}

func insert(sorted []int, key int) []int {
	sorted = append(sorted, key)
	for i := len(sorted) - 1; i > 0 && sorted[i-1] > sorted[i]; i-- {
		sorted[i-1], sorted[i] = sorted[i], sorted[i-1]
	}
	return sorted
}

// around is what goes down within some time before and after a moment.
type around struct {
	keys            []int // lowest first
	lowest, highest int   // mean of the lowest and of the highest of each moment, in sixteenths of a key
	gapAt, gap      int   // the widest gap between neighbouring keys, and the key below it
}

func aroundOf(moments []moment, m int, time int64) (a around) {
	from, to := m, m
	for from > 0 && m-from < mostAround && moments[m].at-moments[from-1].at <= time {
		from--
	}
	for to+1 < len(moments) && to-m < mostAround && moments[to+1].at-moments[m].at <= time {
		to++
	}
	var many [128]int
	for i := from; i <= to; i++ {
		for _, key := range moments[i].keys {
			many[key&127]++
		}
		a.lowest += moments[i].keys[0] * 16
		a.highest += moments[i].keys[len(moments[i].keys)-1] * 16
	}
	a.lowest /= to - from + 1
	a.highest /= to - from + 1
	last := -1
	for key, n := range many {
		if n == 0 {
			continue
		}
		if last >= 0 && key-last > a.gap {
			a.gap, a.gapAt = key-last, last
		}
		last = key
		for range n {
			a.keys = append(a.keys, key)
		}
	}
	return a
}

// tenth gives the share of keys below a key in tenths; those equal count half.
func (a *around) tenth(key int) int {
	below := 0
	for _, k := range a.keys {
		if k < key {
			below += 2
		} else if k == key {
			below++
		}
	}
	return below * 10 / (2 * len(a.keys))
}

// speak lists what a note says by itself.
func (h *moment) speak(k int, sounding []int, about *[2]around) {
	key, n := h.keys[k], len(h.keys)
	add := func(feature int) { h.speaks[k] = append(h.speaks[k], int16(feature)) }
	add(keyAt + min(max(key-21, 0)/4, 21))
	add(rankNear + about[0].tenth(key))
	add(rankFar + about[1].tenth(key))
	add(among + min(k, 3)*4 + min(n-1-k, 3))
	above, below := 99, 99
	for _, s := range sounding {
		if s > key {
			above = min(above, s-key)
		} else if s < key {
			below = min(below, key-s)
		}
	}
	struck := func(key int) int {
		for _, s := range h.keys {
			if s == key {
				return 0
			}
		}
		return 1
	}
	if above < 99 {
		add(gapAbove + struck(key+above)*gapClasses + gapClass(above))
	} else {
		add(gapAbove)
	}
	if below < 99 {
		add(gapBelow + struck(key-below)*gapClasses + gapClass(below))
	} else {
		add(gapBelow)
	}
	add(outer + gapClass(key-sounding[0])*gapClasses + gapClass(sounding[len(sounding)-1]-key))
	against := func(j int) int {
		if j < 0 || j >= n {
			return 0
		}
		switch {
		case h.ends[j] == h.ends[k]:
			return 1
		case h.ends[j] > h.ends[k]:
			return 2
		}
		return 3
	}
	nearer := 1
	if below < above {
		nearer = 0
	} else if below > above {
		nearer = 2
	}
	add(beside + (against(k-1)*4+against(k+1))*3 + nearer)
	third := min(about[1].tenth(key)*3/10, 2)
	long := 0
	for c, most := range [5]int64{0, ticks / 4, ticks / 2, ticks, 2 * ticks} {
		if h.ends[k]-h.at > most {
			long = c + 1
		}
	}
	add(lasting + long*3 + third)
	a := &about[0]
	if a.highest > a.lowest {
		add(between + min(max(10*(key*16-a.lowest)/(a.highest-a.lowest)+1, 0), 11))
	}
	for i := range about {
		a := &about[i]
		if a.gap < 3 {
			continue
		}
		side := 0
		if key > a.gapAt {
			side = 1
		}
		add(valley + (i*2+side)*6 + min(gapClass(a.gap), 7) - 2)
	}
}
