package align

import (
	"cmp"
	"slices"
)

// What differences cost when two readings of the same measures are weighed.
const (
	costOctave = 10
	costShift  = 6
	costPitch  = 10 // and half of the interval in semitones
	costStaff  = 8  // another key and another staff
	costDur    = 3  // another key and another duration
	// costStaffMoved is what a staff moved by an octave costs as a whole, to
	// which comes 1 a note.
	costStaffMoved = 12
	costAlone      = 14 // a note without counterpart
)

// farthestShift is how far, in ticks, a single note may stray and still be
// taken for itself; farther ones need shiftCompany notes that stray as far, or
// a row of unbrokenRow notes without a gap.
const (
	farthestShift = ticksPerQuarter
	shiftCompany  = 3
	unbrokenRow   = 4
)

// shiftCells bounds the table in which shifted notes are looked for.
const shiftCells = 1 << 18

// reading is one way to pair the notes of two runs: to[i] is the index in y
// of the counterpart of x[i], or -1.
type reading struct {
	x, y       []item
	slotX      []int32
	slotY      []int32
	to, from   []int32
	staff      staffMap
	unlikeness func(x, y item) int
}

// staffMap is the staff in the other score that the notes of a staff stand on.
type staffMap [8]int8

func (m *staffMap) of(staff int8) int8 {
	if staff < 0 || int(staff) >= len(m) || m[staff] == 0 {
		return staff
	}
	return m[staff]
}

// read pairs the notes of two runs. Two readings are tried, since a change of
// octave and a change of rhythm can look alike: chords first with octaves
// heard as near, or equal keys only and then what is shifted in time.
func read(x, y []item, staff staffMap, unlikeness func(x, y item) int) *reading {
	plain := newReading(x, y, staff, unlikeness)
	plain.chords(false)
	if plain.complete() {
		plain.unisons()
		return plain
	}
	octaves := newReading(x, y, staff, unlikeness)
	octaves.chords(true)
	for _, r := range []*reading{plain, octaves} {
		r.unisons()
		r.shifted(farthestShift)
		r.octaves()
		r.otherKeys()
	}
	best := plain
	if octaves.cost() < plain.cost() {
		best = octaves
	}
	if best.cost() > costStaffMoved {
		best = best.orStaffMoved()
	}
	return best
}

func newReading(x, y []item, staff staffMap, unlikeness func(x, y item) int) *reading {
	r := &reading{x: x, y: y, staff: staff, unlikeness: unlikeness}
	r.to, r.from = make([]int32, len(x)), make([]int32, len(y))
	for i := range r.to {
		r.to[i] = -1
	}
	for j := range r.from {
		r.from[j] = -1
	}
	r.slots()
	return r
}

// slots gives equal numbers to onsets that are equal but for rounding.
func (r *reading) slots() {
	r.slotX, r.slotY = make([]int32, len(r.x)), make([]int32, len(r.y))
	slot, since := int32(-1), int64(0)
	i, j := 0, 0
	for i < len(r.x) || j < len(r.y) {
		var t int64
		fromX := j == len(r.y) || i < len(r.x) && r.x[i].tick <= r.y[j].tick
		if fromX {
			t = r.x[i].tick
		} else {
			t = r.y[j].tick
		}
		if slot < 0 || t-since > tolerance {
			slot++
			since = t
		}
		if fromX {
			r.slotX[i] = slot
			i++
		} else {
			r.slotY[j] = slot
			j++
		}
	}
}

func (r *reading) pair(i, j int) { r.to[i], r.from[j] = int32(j), int32(i) }

func (r *reading) complete() bool {
	return len(r.x) == len(r.y) && !slices.Contains(r.to, -1)
}

// chords pairs the notes of each onset, grace notes among themselves.
func (r *reading) chords(octaves bool) {
	r.eachSlot(func(x, y []int) {
		if octaves {
			r.chordByOctaves(x, y)
		} else {
			r.chordByKeys(x, y)
		}
	})
}

// eachSlot calls f with the unpaired notes of each onset, by rising pitch:
// once for the full notes, once for the grace notes.
func (r *reading) eachSlot(f func(x, y []int)) {
	var x, y [2][]int
	for i, j := 0, 0; i < len(r.x) && j < len(r.y); {
		switch {
		case r.slotX[i] < r.slotY[j]:
			i++
			continue
		case r.slotX[i] > r.slotY[j]:
			j++
			continue
		}
		slot := r.slotX[i]
		for k := range x {
			x[k], y[k] = x[k][:0], y[k][:0]
		}
		for ; i < len(r.x) && r.slotX[i] == slot; i++ {
			if k := graceClass(r.x[i]); r.to[i] < 0 {
				x[k] = append(x[k], i)
			}
		}
		for ; j < len(r.y) && r.slotY[j] == slot; j++ {
			if k := graceClass(r.y[j]); r.from[j] < 0 {
				y[k] = append(y[k], j)
			}
		}
		for k := range x {
			if len(x[k]) > 0 && len(y[k]) > 0 {
				byPitch(x[k], r.x)
				byPitch(y[k], r.y)
				f(x[k], y[k])
			}
		}
	}
}

func byPitch(of []int, items []item) {
	slices.SortStableFunc(of, func(a, b int) int {
		return cmp.Or(cmp.Compare(items[a].midi, items[b].midi), cmp.Compare(items[a].rank, items[b].rank))
	})
}

func graceClass(it item) int {
	if it.rank.IsGrace() {
		return 1
	}
	return 0
}

func (r *reading) chordByKeys(x, y []int) {
	for i, j := 0, 0; i < len(x) && j < len(y); {
		switch d := r.x[x[i]].midi - r.y[y[j]].midi; {
		case d < 0:
			i++
		case d > 0:
			j++
		default:
			r.pair(x[i], y[j])
			i++
			j++
		}
	}
}

// chordByOctaves pairs equal keys and keys some octaves apart without crossing,
// as cheaply as it can: C3 C4 against C4 C5 is a chord moved by an octave, not
// a C3 that turned into a C5.
func (r *reading) chordByOctaves(x, y []int) {
	r.monotone(x, y, func(a, b item) int {
		switch d := int(a.midi - b.midi); {
		case d == 0:
			return 0
		case d%12 == 0 && d <= 24 && d >= -24:
			return costOctave
		}
		return -1
	})
}

// monotone pairs two rows without crossing at the least cost, where cost
// gives -1 for a pair that must not be.
func (r *reading) monotone(x, y []int, cost func(a, b item) int) {
	w := len(y) + 1
	total := make([]int32, (len(x)+1)*w)
	step := make([]byte, len(total))
	for k := range total {
		i, j := k/w, k%w
		if k == 0 {
			continue
		}
		best, how := int32(1<<30), byte(0)
		if i > 0 && j > 0 {
			if c := cost(r.x[x[i-1]], r.y[y[j-1]]); c >= 0 {
				best, how = total[k-w-1]+int32(c), 'p'
			}
		}
		if i > 0 && total[k-w]+costAlone < best {
			best, how = total[k-w]+costAlone, 'x'
		}
		if j > 0 && total[k-1]+costAlone < best {
			best, how = total[k-1]+costAlone, 'y'
		}
		total[k], step[k] = best, how
	}
	for k := len(total) - 1; k > 0; {
		switch step[k] {
		case 'p':
			r.pair(x[k/w-1], y[k%w-1])
			k -= w + 1
		case 'x':
			k -= w
		default:
			k--
		}
	}
}

// unisons sorts out which of several equal keys at once is which: by what
// else they have in common.
func (r *reading) unisons() {
	for i := 0; i < len(r.x); i++ {
		end := i + 1
		for end < len(r.x) && r.slotX[end] == r.slotX[i] {
			end++
		}
		r.unisonsOf(i, end)
		i = end - 1
	}
}

func (r *reading) unisonsOf(from, to int) {
	first, _ := slices.BinarySearch(r.slotY, r.slotX[from])
	last := first
	for last < len(r.y) && r.slotY[last] == r.slotX[from] {
		last++
	}
	for i := from; i < to; i++ {
		xs, ys := r.same(r.x[i], from, to, first, last)
		if len(xs) == 0 || xs[0] != i || len(xs) == 1 && len(ys) == 1 {
			continue
		}
		r.repair(xs, ys)
	}
}

// same lists the notes equal to a note in key and kind of two onsets, those
// paired with another key excepted.
func (r *reading) same(like item, from, to, first, last int) (xs, ys []int) {
	for i := from; i < to; i++ {
		if r.x[i].midi == like.midi && graceClass(r.x[i]) == graceClass(like) &&
			(r.to[i] < 0 || r.y[r.to[i]].midi == like.midi) {
			xs = append(xs, i)
		}
	}
	for j := first; j < last; j++ {
		if r.y[j].midi == like.midi && graceClass(r.y[j]) == graceClass(like) &&
			(r.from[j] < 0 || r.x[r.from[j]].midi == like.midi) {
			ys = append(ys, j)
		}
	}
	return xs, ys
}

func (r *reading) repair(xs, ys []int) {
	for _, i := range xs {
		if j := r.to[i]; j >= 0 {
			r.to[i], r.from[j] = -1, -1
		}
	}
	type candidate struct{ i, j, cost int }
	var all []candidate
	for _, i := range xs {
		for _, j := range ys {
			all = append(all, candidate{i, j, r.unlikeness(r.x[i], r.y[j])})
		}
	}
	slices.SortStableFunc(all, func(a, b candidate) int { return cmp.Compare(a.cost, b.cost) })
	for _, c := range all {
		if r.to[c.i] < 0 && r.from[c.j] < 0 {
			r.pair(c.i, c.j)
		}
	}
}
