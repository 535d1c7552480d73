package hands

import (
	"slices"

	"fingerproof/corpus/score"
)

// signs are the hand signs of a score by part, staff and measure.
type signs map[signPlace][]score.Direction

type signPlace struct{ part, staff, measure int }

func handSigns(s *score.Score) signs {
	out := signs{}
	for _, d := range s.Directions {
		if d.Kind == score.HandSign && !s.Offered(&d) {
			at := signPlace{d.Part, max(d.Staff, 1), d.Measure}
			out[at] = append(out[at], d)
		}
	}
	return out
}

// at gives the hand that a sign in force names for a note. A sign holds from
// where it stands to the next one, and at most to the end of its measure:
// printed music leaves the return to the reader's sense. It binds the voice it
// names; without one, the notes of its staff, but where a voice of the hand it
// names has crossed over to that staff, that voice is meant and no other.
func (g signs) at(s *score.Score, i int, home func(*score.Note) score.Hand, crossed map[signPlace][]score.Hand) score.Hand {
	n := &s.Notes[i]
	place := signPlace{n.Part, n.Staff, n.Measure}
	hand := score.NoHand
	var latest score.Fraction
	for _, d := range g[place] {
		if n.Onset.Less(d.Onset) || hand != score.NoHand && d.Onset.Less(latest) {
			continue
		}
		if d.Voice != "" && d.Voice != n.Voice {
			continue
		}
		if d.Voice == "" && d.Hand != home(n) && slices.Contains(crossed[place], d.Hand) {
			continue
		}
		hand, latest = d.Hand, d.Onset
	}
	return hand
}

// crossings lists, by place, the hands whose voices live elsewhere and have
// crossed over to it.
func crossings(s *score.Score, home func(*score.Note) score.Hand) map[signPlace][]score.Hand {
	out := map[signPlace][]score.Hand{}
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Kind == score.Pitched && n.HomeStaff != n.Staff {
			at := signPlace{n.Part, n.Staff, n.Measure}
			out[at] = append(out[at], home(n))
		}
	}
	return out
}
