package musicxml

import "fingerproof/corpus/score"

// staves is one more than the highest number of a staff.
const staves = 17

// staffEnds follows how far each staff of a measure is filled, to note the one
// that lacks something while another fills the measure.
type staffEnds struct {
	end   [staves]score.Fraction
	used  [staves]bool   // a note or rest stands there
	full  [staves]bool   // a rest for the whole measure, whatever its written length
	of    map[string]int // the staff a voice stands on
	last  int            // the staff of the last note: what a shift without a staff goes by
	cross bool           // a voice goes from staff to staff: then none can be held to be short
}

// note follows a note or rest to its end.
func (s *staffEnds) note(n *score.Note, wholeMeasure bool) {
	if s.of == nil {
		s.of = map[string]int{}
	}
	if before, seen := s.of[n.Voice]; seen && before != n.Staff {
		s.cross = true
	}
	s.of[n.Voice], s.last = n.Staff, n.Staff
	s.used[n.Staff] = true
	s.full[n.Staff] = s.full[n.Staff] || wholeMeasure
	s.end[n.Staff] = score.Max(s.end[n.Staff], n.Onset.Add(n.Duration))
}

// forward follows a shift of position to where it leads.
func (s *staffEnds) forward(staff int, to score.Fraction) {
	if staff < 1 || staff >= staves {
		staff = s.last
	}
	s.end[staff] = score.Max(s.end[staff], to)
}

// short gives a staff that ends before a measure does, and where; 0 for none.
func (s *staffEnds) short(length score.Fraction) (staff int, end score.Fraction) {
	if s.cross {
		return 0, end
	}
	for i := 1; i < staves; i++ {
		if s.used[i] && !s.full[i] && s.end[i].Less(length) {
			return i, s.end[i]
		}
	}
	return 0, end
}
