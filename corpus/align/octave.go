package align

import "slices"

// orStaffMoved tries whether one staff as a whole was moved by an octave (a
// forgotten octave sign, a clef with an 8): chords of octaves would otherwise
// find half of their keys in place.
func (r *reading) orStaffMoved() *reading {
	best, cost := r, r.cost()
	var seen [8]bool
	for _, it := range r.x {
		if it.staff < 0 || it.staff > 7 || seen[it.staff] {
			continue
		}
		seen[it.staff] = true
		for _, by := range []int16{12, -12} {
			x := slices.Clone(r.x)
			count := 0
			for i := range x {
				if x[i].staff == it.staff {
					x[i].midi += by
					x[i].moved = by
					count++
				}
			}
			slices.SortFunc(x, inTime)
			t := newReading(x, r.y, r.staff, r.unlikeness)
			t.chords(false)
			t.unisons()
			for i := range x { // what did not move with the staff is read as it is written
				if t.to[i] < 0 && x[i].moved != 0 {
					x[i].midi, x[i].moved = x[i].midi-x[i].moved, 0
				}
			}
			t.shifted(farthestShift)
			t.octaves()
			t.otherKeys()
			if c := t.cost() + costStaffMoved + count; c < cost {
				best, cost = t, c
			}
		}
	}
	best.uncross()
	return best
}

// uncross exchanges the counterparts of two notes of one moment that would
// each have the other's key: nothing moved there.
func (r *reading) uncross() {
	for i := range r.x {
		for k := i + 1; k < len(r.x) && r.slotX[k] == r.slotX[i]; k++ {
			p, q := r.to[i], r.to[k]
			if p >= 0 && q >= 0 && r.slotY[p] == r.slotX[i] && r.slotY[q] == r.slotX[i] &&
				r.written(i) != r.y[p].midi && r.written(i) == r.y[q].midi && r.written(k) == r.y[p].midi {
				r.pair(i, int(q))
				r.pair(k, int(p))
			}
		}
	}
}

// written is the key of a note of the old score where the reading moved its
// staff.
func (r *reading) written(i int) int16 { return r.x[i].midi - r.x[i].moved }
