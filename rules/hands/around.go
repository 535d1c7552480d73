package hands

import "slices"

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
	sounding := 0
	for _, n := range many {
		sounding += n
	}
	a.keys = make([]int, 0, sounding)
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

// describeNote lists what a note says by itself.
func (h *moment) describeNote(k int, sounding []int, about *[2]around) {
	key := h.keys[k]
	add := func(feature int) { h.own[k] = append(h.own[k], int16(feature)) }
	add(keyAt + min(max(key-21, 0)/4, 21))
	add(rankNear + about[0].tenth(key))
	add(rankFar + about[1].tenth(key))
	add(among + min(k, 3)*4 + min(len(h.keys)-1-k, 3))
	below, above := nearest(sounding, key)
	add(gapAbove + h.gapTo(key+above, above))
	add(gapBelow + h.gapTo(key-below, below))
	add(outer + gapClass(key-sounding[0])*gapClasses + gapClass(sounding[len(sounding)-1]-key))
	add(beside + (h.lengthAgainst(k, k-1)*4+h.lengthAgainst(k, k+1))*3 + nearer(below, above))
	add(lasting + h.lengthClass(k)*3 + min(about[1].tenth(key)*3/10, 2))
	if a := &about[0]; a.highest > a.lowest {
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

// noKey is the distance to a neighbour that is not there.
const noKey = 99

// nearest gives the distances to the nearest of the keys below and above a key.
func nearest(keys []int, key int) (below, above int) {
	below, above = noKey, noKey
	for _, k := range keys {
		if k > key {
			above = min(above, k-key)
		} else if k < key {
			below = min(below, key-k)
		}
	}
	return below, above
}

// nearer says which neighbour lies nearer: 0 the one below, 2 the one above, 1 where they lie alike.
func nearer(below, above int) int {
	switch {
	case below < above:
		return 0
	case below > above:
		return 2
	}
	return 1
}

// gapTo sorts the gap to a neighbouring key, and whether that key is held, not struck.
func (h *moment) gapTo(neighbour, distance int) int {
	switch {
	case distance == noKey:
		return 0
	case slices.Contains(h.keys, neighbour):
		return gapClass(distance)
	}
	return gapClasses + gapClass(distance)
}

// lengthAgainst compares the length of a key with that of another of the moment: 0 none there, 1 alike, 2 shorter, 3
// longer.
func (h *moment) lengthAgainst(k, other int) int {
	switch {
	case other < 0 || other >= len(h.keys):
		return 0
	case h.ends[other] == h.ends[k]:
		return 1
	case h.ends[other] > h.ends[k]:
		return 2
	}
	return 3
}

// lengthClass sorts how long a key of the moment sounds.
func (h *moment) lengthClass(k int) (class int) {
	for c, most := range [5]int64{0, ticks / 4, ticks / 2, ticks, 2 * ticks} {
		if h.ends[k]-h.at > most {
			class = c + 1
		}
	}
	return class
}
