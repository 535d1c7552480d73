package mark

import (
	"fingerproof/corpus/score"
)

// side is where a digit stands: outside the system as a rule, right hand above
// and left hand below (FACTS §5.3); between the staves for the inner voice
// where a hand plays two. The digits of a chord are written each at its own
// note, so that engravers stack them in the order of the notes, the highest
// note's digit on top.
func side(in Fingered, i int, who score.Responsibility, inner []bool) score.Placement {
	switch in.Policy.PlaceOf(who) {
	case "engraver":
		return score.PlacementUnset
	case "above":
		return score.Above
	case "below":
		return score.Below
	case "inside":
		return other(outside(in.Playing.Hand(i)))
	}
	if inner[i] {
		return other(outside(in.Playing.Hand(i)))
	}
	return outside(in.Playing.Hand(i))
}

func outside(h score.Hand) score.Placement {
	if h == score.Left {
		return score.Below
	}
	return score.Above
}

func other(p score.Placement) score.Placement {
	if p == score.Below {
		return score.Above
	}
	return score.Below
}

// innerVoices finds the notes of voices that lie inside another voice of the
// same hand, measure by measure: below it in the right hand, above it in the
// left. A third voice between two goes inside as well.
func innerVoices(in Fingered) []bool {
	out := make([]bool, len(in.Score.Notes))
	if !in.Policy.ByVoices() {
		return out
	}
	type place struct {
		part, measure int
		hand          score.Hand
	}
	type span struct{ sum, notes int }
	height := map[place]map[string]span{}
	for i := range in.Score.Notes {
		n := &in.Score.Notes[i]
		if n.Kind != score.Pitched || in.Playing.Hand(i) == score.NoHand || n.Cue || n.Hidden {
			continue
		}
		p := place{n.Part, n.Measure, in.Playing.Hand(i)}
		if height[p] == nil {
			height[p] = map[string]span{}
		}
		s := height[p][n.Voice]
		height[p][n.Voice] = span{s.sum + n.Midi, s.notes + 1}
	}
	for i := range in.Score.Notes {
		n := &in.Score.Notes[i]
		voices := height[place{n.Part, n.Measure, in.Playing.Hand(i)}]
		if in.Playing.Hand(i) == score.NoHand || len(voices) < 2 {
			continue
		}
		own := voices[n.Voice]
		for voice, s := range voices { // any one that lies outside will do
			if voice == n.Voice || own.notes == 0 {
				continue
			}
			// Compared by mean height, without fractions.
			higher := s.sum*own.notes - own.sum*s.notes
			if in.Playing.Hand(i) == score.Left {
				higher = -higher
			}
			out[i] = out[i] || higher > 0
		}
	}
	return out
}
