package suggest

import "fingerproof/corpus/score"

// signs are the hand signs of a score by part, staff and measure.
type signs map[signPlace][]score.Direction

type signPlace struct{ part, staff, measure int }

func handSigns(s *score.Score) signs {
	out := signs{}
	for _, d := range s.Directions {
		if d.Kind == score.HandSign {
			at := signPlace{d.Part, max(d.Staff, 1), d.Measure}
			out[at] = append(out[at], d)
		}
	}
	return out
}

// at gives the hand that a sign in force names for a note. A sign holds on its
// staff from where it stands to the next one, and at most to the end of its
// measure: printed music leaves the return to the reader's sense.
func (g signs) at(s *score.Score, i int) score.Hand {
	n := &s.Notes[i]
	hand := score.NoHand
	var latest score.Fraction
	for _, d := range g[signPlace{n.Part, n.Staff, n.Measure}] {
		if d.Onset.Cmp(n.Onset) <= 0 && (hand == score.NoHand || latest.Cmp(d.Onset) <= 0) {
			hand, latest = d.Hand, d.Onset
		}
	}
	return hand
}
