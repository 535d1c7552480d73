package page

import (
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/hand"
)

// OtherHand is the effort of the measures when another hand plays, fingered for it.
type OtherHand struct {
	Name     string // octave, ninth, tenth
	Measures map[handOf][]int64
}

// handOf is one hand of one player.
type handOf struct {
	Hand score.Hand
	Part string
}

// otherHands fingers the piece for the named hands that the edition is not fingered for, to set their effort beside
// it.
func otherHands(w *pipeline.PieceRun) (out []OtherHand) {
	_ = w.Keep("other hands", "suggest", func() error { // which has no error of its own
		out = fingerOtherHands(w)
		return nil
	}, &out)
	return out
}

func fingerOtherHands(w *pipeline.PieceRun) (out []OtherHand) {
	for _, profile := range []hand.Profile{hand.OctaveHand, hand.NinthHand, hand.TenthHand} {
		if profile == w.Profile {
			continue
		}
		in := w.SuggestInput()
		in.Profile, in.Bare = profile, true
		s := suggest.Suggest(in)
		other := OtherHand{Name: profile.Name, Measures: map[handOf][]int64{}}
		parts := pianoParts(w)
		for i := range w.Score.Notes {
			if !w.Playing.Plays(i) {
				continue
			}
			n := &w.Score.Notes[i]
			key := handOf{Hand: w.Playing.Hand(i)}
			if len(parts) > 1 {
				key.Part = w.Score.Parts[n.Part].ID
			}
			if other.Measures[key] == nil {
				other.Measures[key] = make([]int64, len(w.Score.Measures))
			}
			for _, e := range s.Notes[i].Effort {
				other.Measures[key][n.Measure] += int64(e.Cost)
			}
		}
		out = append(out, other)
	}
	return out
}
