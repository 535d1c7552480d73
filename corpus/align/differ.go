package align

import (
	"cmp"
	"slices"
)

// shifted pairs equal keys struck at other times, in order of time. Several
// rounds let voices that are shifted differently find themselves.
func (r *reading) shifted(far int64) {
	for range 3 {
		x, y := r.alone()
		if len(x) == 0 || len(y) == 0 || !r.shiftRound(x, y, far) {
			return
		}
	}
}

// alone lists the notes that are not yet paired.
func (r *reading) alone() (x, y []int) {
	for i, j := range r.to {
		if j < 0 {
			x = append(x, i)
		}
	}
	for j, i := range r.from {
		if i < 0 {
			y = append(y, j)
		}
	}
	return x, y
}

func (r *reading) shiftRound(x, y []int, far int64) bool {
	pairs := r.nearest(x, y, far)
	if len(x)*len(y) <= shiftCells {
		pairs = r.longestCommon(x, y)
	}
	company := make(map[int64]int)
	for _, p := range pairs {
		company[r.y[p[1]].tick-r.x[p[0]].tick]++
	}
	rows := unbroken(pairs, x, y)
	done := false
	for k, p := range pairs {
		by := r.y[p[1]].tick - r.x[p[0]].tick
		if by <= far && by >= -far || company[by] >= shiftCompany || rows[k] >= unbrokenRow {
			r.pair(p[0], p[1])
			done = true
		}
	}
	return done
}

// unbroken gives for each pair the length of the row it stands in of notes
// that follow each other in both lists without a gap: a cadenza written out
// in full notes here and in grace notes there has no times in common, but it
// is one row of keys.
func unbroken(pairs [][2]int, x, y []int) []int {
	out := make([]int, len(pairs))
	i, j := 0, 0
	lastI, lastJ := -2, -2
	for k, p := range pairs {
		for x[i] != p[0] {
			i++
		}
		for j < len(y) && y[j] != p[1] {
			j++
		}
		if j == len(y) {
			return out // not in order: paired by nearness, where rows do not count
		}
		if i == lastI+1 && j == lastJ+1 {
			out[k] = out[k-1]
			out[k]++
		} else {
			out[k] = 1
		}
		lastI, lastJ = i, j
	}
	length := 0
	for k := len(out) - 1; k >= 0; k-- { // the last of a row knows its length
		length = max(length, out[k])
		first := out[k] == 1
		out[k] = length
		if first {
			length = 0
		}
	}
	return out
}

// longestCommon finds the common row of keys; among rows as long, the one
// whose times differ least.
func (r *reading) longestCommon(x, y []int) [][2]int {
	const pairWorth = 1 << 16
	w := len(y) + 1
	total := make([]int32, (len(x)+1)*w)
	for i := 1; i <= len(x); i++ {
		a := r.x[x[i-1]]
		for j := 1; j <= len(y); j++ {
			best := max(total[(i-1)*w+j], total[i*w+j-1])
			if b := r.y[y[j-1]]; a.midi == b.midi {
				best = max(best, total[(i-1)*w+j-1]+int32(pairWorth-r.apart(a, b)))
			}
			total[i*w+j] = best
		}
	}
	var out [][2]int
	for i, j := len(x), len(y); i > 0 && j > 0; {
		here := total[i*w+j]
		switch {
		case here == total[(i-1)*w+j]:
			i--
		case here == total[i*w+j-1]:
			j--
		default:
			out = append(out, [2]int{x[i-1], y[j-1]})
			i--
			j--
		}
	}
	slices.Reverse(out)
	return out
}

// apart is the distance in time in 1/64 quarters, bounded, with a little for a
// grace note against a full one and for a tie against a stroke.
func (r *reading) apart(a, b item) int {
	d := a.tick - b.tick
	if d < 0 {
		d = -d
	}
	out := int(min(d/(ticksPerQuarter/64), 1<<12))
	if graceClass(a) != graceClass(b) {
		out += 8
	}
	if a.held != b.held {
		out += 16
	}
	return out
}

// nearest pairs equal keys by nearness in time alone: for unmeasured stretches
// too long for a table.
func (r *reading) nearest(x, y []int, far int64) [][2]int {
	if len(x)*len(y) <= shiftCells {
		return nil
	}
	var out [][2]int
	from := 0
	taken := make(map[int]bool)
	for _, i := range x {
		for from < len(y) && r.y[y[from]].tick < r.x[i].tick-far {
			from++
		}
		best := -1
		for k := from; k < len(y) && r.y[y[k]].tick <= r.x[i].tick+far; k++ {
			if r.y[y[k]].midi == r.x[i].midi && !taken[k] &&
				(best < 0 || r.apart(r.x[i], r.y[y[k]]) < r.apart(r.x[i], r.y[y[best]])) {
				best = k
			}
		}
		if best >= 0 {
			taken[best] = true
			out = append(out, [2]int{i, y[best]})
		}
	}
	return out
}

// octaves pairs what is left at equal times and is the same note name.
func (r *reading) octaves() {
	r.nearKeys(func(a, b item) int {
		d := int(a.midi - b.midi)
		if d == 0 || d%12 != 0 {
			return -1
		}
		cost := costOctave + max(d, -d)/2
		if r.staff.of(a.staff) != b.staff {
			cost += costStaff
		}
		return cost
	})
}

// otherKeys pairs what is left at equal times: another key was printed. A
// large interval is believed only on the same staff, where a clef may have
// been misread.
func (r *reading) otherKeys() {
	r.eachSlot(func(x, y []int) { r.monotone(x, y, r.costOfKey) })
}

func (r *reading) costOfKey(a, b item) int {
	d := int(a.midi - b.midi)
	d = max(d, -d)
	same := r.staff.of(a.staff) == b.staff
	if d > 24 || !same && d > 4 {
		return -1
	}
	cost := costPitch + d/2
	if !same {
		cost += costStaff
	}
	if a.dur != b.dur {
		cost += costDur
	}
	return cost
}

// nearKeys pairs the cheapest first, crossing allowed.
func (r *reading) nearKeys(cost func(a, b item) int) {
	type candidate struct{ i, j, cost int }
	r.eachSlot(func(x, y []int) {
		var all []candidate
		for _, i := range x {
			for _, j := range y {
				if c := cost(r.x[i], r.y[j]); c >= 0 {
					all = append(all, candidate{i, j, c})
				}
			}
		}
		slices.SortStableFunc(all, func(a, b candidate) int { return cmp.Compare(a.cost, b.cost) })
		for _, c := range all {
			if r.to[c.i] < 0 && r.from[c.j] < 0 {
				r.pair(c.i, c.j)
			}
		}
	})
}

// cost weighs a reading.
func (r *reading) cost() int {
	total := 0
	for i, j := range r.to {
		if j < 0 {
			total += costAlone
			continue
		}
		a, b := r.x[i], r.y[j]
		d := int(a.midi - b.midi)
		switch {
		case d == 0 && r.slotX[i] == r.slotY[j]:
		case d == 0:
			total += costShift
		case d == 12 || d == -12:
			total += costOctave
		case d%12 == 0:
			total += costOctave + costAlone // two octaves: hardly one mistake
		default:
			total += costPitch + max(d, -d)/2
		}
	}
	for _, i := range r.from {
		if i < 0 {
			total += costAlone
		}
	}
	return total
}
