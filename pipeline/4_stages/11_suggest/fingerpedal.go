package suggest

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// pedalWithFingers holds the keys of broken chords under a slur as long as the hand can, where no pedal is marked:
// from its stroke each key stays down to the end of the figure. A figure ends where a key returns, a step is made,
// the slur or the measure ends, or the hand cannot hold on (common practice; a matter of the policy).
func pedalWithFingers(in Input, played *playing.Line, line []fingering.Note) {
	if !in.Policy.FingerPedal() || pedalMarked(in.Score) {
		return
	}
	var figure []int // places in the line
	hold := func() {
		if len(figure) >= 3 {
			end := line[figure[len(figure)-1]].End
			for _, k := range figure {
				line[k].End = end
			}
		}
		figure = figure[:0]
	}
	for i := range played.Strokes {
		st := &played.Strokes[i]
		if st.Rank.IsGrace() {
			continue
		}
		k := played.Place(st.Notes[0])
		if len(st.Notes) > 1 || !joinsFigure(in, line, figure, k) {
			hold()
		}
		if len(st.Notes) == 1 && line[k].Slurred {
			figure = append(figure, k)
		}
	}
	hold()
}

func joinsFigure(in Input, line []fingering.Note, figure []int, k int) bool {
	if len(figure) == 0 {
		return true
	}
	n, before := &in.Score.Notes[line[k].ID], &in.Score.Notes[line[figure[len(figure)-1]].ID]
	if n.Measure != before.Measure || len(figure) == fingering.MaxKeys ||
		line[figure[len(figure)-1]].End.Compare(line[k].Onset) != 0 {
		return false
	}
	low, high := line[k].Key, line[k].Key
	for _, f := range figure {
		low, high = min(low, line[f].Key), max(high, line[f].Key)
		// closer notes are a line, not to be blurred
		if d := line[f].Key - line[k].Key; max(d, -d) < effort.ChordStep {
			return false
		}
	}
	// With ease, not at the limit: five fingers lie on the chord.
	return hand.Distance(low, high) <= in.Profile.Comfortable(1, 5)
}

func pedalMarked(s *score.Score) bool {
	return slices.ContainsFunc(s.Directions, func(d score.Direction) bool { return d.Kind == score.Pedal })
}
