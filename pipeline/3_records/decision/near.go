package decision

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
)

// What is kept of the notes around one: as many on either side, of which at least so many must be there to speak for
// a place.
const (
	nearKept  = 3
	leastNear = 2
	nearReach = 2 // measures
	// enoughNear is how many notes of a decision near one of them help to find it as well as others beside them would:
	// `workbench place-decisions` finds 5 of 15,000 more with two on either side of every one, in files larger by a sixth.
	enoughNear = 6
)

// layRows puts the notes of each staff in the order of time.
func (f *Finder) layRows() {
	type staff struct{ part, number int }
	rows := map[staff]int{}
	f.inRow = make([][2]int, len(f.score.Notes))
	for n := range f.score.Notes {
		f.inRow[n] = [2]int{-1, 0}
		if !f.keyboard(n) {
			continue
		}
		at := staff{f.score.Notes[n].Part, f.score.Notes[n].Staff}
		row, known := rows[at]
		if !known {
			row = len(f.rows)
			rows[at], f.rows = row, append(f.rows, nil)
		}
		f.rows[row] = append(f.rows[row], n)
		f.inRow[n][0] = row
	}
	for _, row := range f.rows {
		slices.SortStableFunc(row, func(a, b int) int { return InTime(f.addresses[a], f.addresses[b]) })
		for k, n := range row {
			f.inRow[n][1] = k
		}
	}
}

// keyboard says that a note is a pitched one of the keyboard parts.
func (f *Finder) keyboard(n int) bool {
	a := f.addresses[n]
	a.Ordinal = 0
	return slices.Contains(f.exact[a], n)
}

// InTime orders addresses by time, grace notes before what they lean on, then by key.
func InTime(a, b score.Address) int {
	return cmp.Or(cmp.Compare(a.Measure, b.Measure), a.Onset.Cmp(b.Onset), compareGrace(a.Grace, b.Grace),
		cmp.Compare(a.Midi, b.Midi), cmp.Compare(a.Ordinal, b.Ordinal))
}

// compareGrace orders the numbers of grace notes at one onset; 0 is what is no grace note.
func compareGrace(a, b int) int {
	if (a == 0) != (b == 0) {
		return cmp.Compare(b, a)
	}
	return cmp.Compare(a, b)
}

// twin says that another note has a note's key at its moment.
func (f *Finder) twin(n int) bool {
	a := f.addresses[n]
	a.Ordinal = 0
	return len(f.exact[a]) > 1
}

// near lists notes of its staff before and after a note.
func (f *Finder) near(n int) (out []Near) {
	f.laid.Do(f.layRows)
	if f.inRow[n][0] < 0 {
		return nil
	}
	row, at := f.rows[f.inRow[n][0]], f.inRow[n][1]
	own := f.addresses[n]
	for _, step := range []int{-1, 1} {
		found := 0
		for k := at + step; k >= 0 && k < len(row) && found < nearKept; k += step {
			a := f.addresses[row[k]]
			if by := a.Measure - own.Measure; by < -nearReach || by > nearReach {
				break
			}
			if a.Measure == own.Measure && a.Onset == own.Onset && a.Grace == own.Grace {
				continue
			}
			found++
			number := f.score.Measures[a.Measure].Number
			out = append(out, Near{
				By: a.Measure - own.Measure, Onset: a.Onset, Grace: a.Grace, Midi: a.Midi,
				Pitch: f.score.Notes[row[k]].Pitch.String(), printed: number, manyNumber: len(f.byNumber[number]) > 1,
				before: step < 0,
			})
		}
	}
	slices.SortStableFunc(out, compareNear)
	return out
}

func compareNear(a, b Near) int { return InTime(a.address(0), b.address(0)) }

// address is where a note near another one stands, if the other stands in a measure.
func (k Near) address(measure int) score.Address {
	return score.Address{Measure: measure + k.By, Onset: k.Onset, Grace: k.Grace, Midi: k.Midi}
}

// nearAgree says that the notes near the one that is meant stand near a note too: those before it or those behind,
// and most of those of its moment; or all that is known of both, whatever was corrected at its moment.
func (f *Finder) nearAgree(n int, ref *NoteRef) bool {
	own := ref.Address()
	own.Measure, own.Ordinal = 0, 0
	var side [3][]bool // before, at its moment, after; nearest first
	for _, k := range ref.Near {
		a := k.address(0)
		key := a.Midi
		a.Midi = own.Midi
		where := InTime(a, own) + 1
		a.Midi = key
		a.Measure += f.addresses[n].Measure
		side[where] = append(side[where], len(f.exact[a]) > 0)
	}
	slices.Reverse(side[0])
	together := 0
	for _, there := range side[1] {
		if there {
			together++
		}
	}
	agrees := func(there []bool) bool {
		there = there[:min(len(there), nearKept)]
		return len(there) >= leastNear && !slices.Contains(there, false)
	}
	before, after := agrees(side[0]), agrees(side[2])
	none := func(there []bool) bool { return len(there) == 0 }
	return 2*together >= len(side[1]) && (before || after) || before && (after || none(side[2])) || after && none(side[0])
}
