package page

import (
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/lattice"
)

// OtherHand is the effort of the measures, as they are fingered, when another hand plays.
type OtherHand struct {
	Name     string // octave, ninth, tenth
	Measures map[handOf][]int64
}

// handOf is one hand of one player.
type handOf struct {
	Hand score.Hand
	Part string
}

// otherHands sets the effort of the named hands that the edition is not fingered for beside its own.
func otherHands(w *pipeline.PieceRun) (out []OtherHand) {
	others := suggest.OtherHands(w.Profile)
	for i, more := range w.Suggestion.MoreForHands {
		other := OtherHand{Name: others[i].Name, Measures: map[handOf][]int64{}}
		sums := byMeasure(w, more)
		for _, h := range w.Result.Summary.Hands {
			of := sums[handOf{h.Hand, h.Part}]
			if len(of) != len(h.Measures) {
				continue
			}
			measures := make([]int64, len(of))
			for m := range measures {
				measures[m] = h.Measures[m] + of[m]*1000/lattice.Nat
			}
			other.Measures[handOf{h.Hand, h.Part}] = measures
		}
		out = append(out, other)
	}
	return out
}

// byMeasure sums what is given by note for each hand of each player, by measure.
func byMeasure(w *pipeline.PieceRun, of []int64) map[handOf][]int64 {
	parts, sums := len(pianoParts(w)), map[handOf][]int64{}
	for i := range w.Score.Notes {
		if !w.Playing.Plays(i) {
			continue
		}
		n := &w.Score.Notes[i]
		key := handOf{Hand: w.Playing.Hand(i)}
		if parts > 1 {
			key.Part = w.Score.Parts[n.Part].ID
		}
		if sums[key] == nil {
			sums[key] = make([]int64, len(w.Score.Measures))
		}
		sums[key][n.Measure] += of[i]
	}
	return sums
}
