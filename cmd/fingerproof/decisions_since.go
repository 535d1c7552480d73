package main

import (
	"slices"

	"fingerproof/pipeline/3_records/decision"
)

// sinceSheet holds what an editor decided since a sheet was printed: what is taken of a passage by its number there leaves
// it as it is.
type sinceSheet struct {
	digits map[int]bool
	left   []string // of these, what a line took
	now    map[int]bool
	same   []string // what a line gives as the editor has decided it
}

// decidedSince compares a piece as it is decided now with how it was when its sheet was printed.
func decidedSince(now, then *decidedPiece, by string) *sinceSheet {
	out := &sinceSheet{digits: map[int]bool{}, now: now.keying(by, now.job.Today).Own}
	if now == then {
		return out
	}
	before := then.keying(by, then.job.Today).Own
	for n, own := range out.now {
		if own && !before[n] {
			out.digits[n] = true
		}
	}
	return out
}

// leave takes out of what is taken the notes that were decided since.
func (s *sinceSheet) leave(f *decision.Finder, decided []decision.Decision) {
	for i := range decided {
		d := &decided[i]
		if d.Verb != decision.Take || d.On != decision.Notes {
			continue
		}
		d.Notes = slices.DeleteFunc(d.Notes, func(ref decision.NoteRef) bool {
			n, _, _ := f.Find(&ref)
			if n < 0 || !s.digits[n] {
				return false
			}
			s.left = append(s.left, "m. "+ref.Printed+" "+ref.Pitch)
			return true
		})
	}
}

// leaveSame takes out of digits that are keyed those that the editor has decided so: they stand in the file.
func (s *sinceSheet) leaveSame(p *decidedPiece, f *decision.Finder, decided []decision.Decision) {
	for i := range decided {
		d := &decided[i]
		if d.Verb != decision.Amend || d.On != decision.Notes || d.Print != "" || d.Why != "" || d.Returns {
			continue
		}
		d.Notes = slices.DeleteFunc(d.Notes, func(ref decision.NoteRef) bool {
			n, _, _ := f.Find(&ref)
			if n < 0 || !s.now[n] || !slices.Equal(p.run.Bound[n].Fingers, ref.Fingers) {
				return false
			}
			s.same = append(s.same, "m. "+ref.Printed+" "+ref.Pitch)
			return true
		})
	}
}

// answersQuery says that decisions give a digit to each note of a query.
func answersQuery(f *decision.Finder, notes []int, add []decision.Decision) bool {
	given := map[int]bool{}
	for i := range add {
		if d := &add[i]; d.Verb == decision.Take || d.Verb == decision.Amend {
			for k := range d.Notes {
				if n, _, _ := f.Find(&d.Notes[k]); n >= 0 {
					given[n] = true
				}
			}
		}
	}
	return !slices.ContainsFunc(notes, func(n int) bool { return !given[n] })
}
