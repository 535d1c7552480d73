package linewithoutend

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// shifts are how many letters the written notes lie away from what sounds, by the readings of octave lines.
var shifts = map[string]int{"8va": -7, "8vb": 7, "15ma": -14, "15mb": 14}

// without is how many notes one after another that lie better without it end an octave line.
const without = 6

// serves says up to which measure, or from which on, the notes of its staff lie where an octave line without end, or without
// beginning, serves; "" where that is its own measure, or none.
func serves(p *lint.Inspection, i *score.Item) string {
	s := p.Score
	var notes []int
	for n := range s.Notes {
		if x := &s.Notes[n]; x.Part == i.Part && x.Staff == max(i.Staff, 1) && x.Kind == score.Pitched && p.Shows(n) {
			notes = append(notes, n)
		}
	}
	at := s.Measures[i.Measure].Start.Add(i.Onset)
	ends := i.Reading == lint.EndOfLine
	notes = slices.DeleteFunc(notes, func(n int) bool { return ends && at.Less(s.At(n)) || !ends && s.At(n).Less(at) })
	slices.SortStableFunc(notes, func(a, b int) int {
		if ends {
			a, b = b, a
		}
		return s.At(a).Cmp(s.At(b))
	})
	clefs := p.Clefs()
	last, missed := -1, 0
	for _, n := range notes {
		middle, known := clefs.Middle(i.Part, max(i.Staff, 1), s.At(n))
		if !known {
			return ""
		}
		place := lint.Place(s.Notes[n].Pitch) - middle
		helps := beyond(place+shifts[i.Reading]) < beyond(place)
		if ends {
			helps = beyond(place-7) < beyond(place) || beyond(place+7) < beyond(place)
		}
		if helps {
			last, missed = s.Notes[n].Measure, 0
		} else if missed++; missed >= without {
			break
		}
	}
	switch {
	case last < 0 || last == i.Measure:
		return ""
	case ends:
		return "; notes for which it serves stand from m. " + s.Measures[last].Number + " on"
	}
	return "; notes for which it serves stand up to m. " + s.Measures[last].Number
}

// beyond is how many places a note lies outside the staff, of which the middle line is 0.
func beyond(place int) int {
	const edge = 4
	return max(max(place, -place)-edge, 0)
}
