package page

import (
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/hand"
	"fingerproof/rules/lattice"
)

// OtherHand is the effort of the measures when another hand plays: that of the edition's hand as it is fingered, and what
// the least effort of the other hand is more, or less, than the least of the edition's hand. Both are found in the same
// way, so that the curves differ where the hands do, and nowhere else.
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
	var others []hand.Profile
	for _, profile := range []hand.Profile{hand.OctaveHand, hand.NinthHand, hand.TenthHand} {
		if profile != w.Profile {
			others = append(others, profile)
		}
	}
	for i, more := range moreForHands(w, others) {
		other := OtherHand{Name: others[i].Name, Measures: map[handOf][]int64{}}
		for _, h := range w.Result.Summary.Hands {
			if of := more[handOf{h.Hand, h.Part}]; len(of) == len(h.Measures) {
				measures := make([]int64, len(of))
				for m := range measures {
					measures[m] = h.Measures[m] + of[m]
				}
				other.Measures[handOf{h.Hand, h.Part}] = measures
			}
		}
		out = append(out, other)
	}
	return out
}

// moreForHands gives for each of some hands what its least effort is more than that of the edition's hand, by measure, in
// milli-nats.
func moreForHands(w *pipeline.PieceRun, others []hand.Profile) (out []map[handOf][]int64) {
	_ = w.Keep("other hands", "suggest", func() error { // which has no error of its own
		least := suggest.LeastEfforts(w.SuggestInput(), append([]hand.Profile{w.Profile}, others...))
		parts := len(pianoParts(w))
		for _, of := range least[1:] {
			sums := map[handOf][]int64{}
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
				sums[key][n.Measure] += of[i] - least[0][i]
			}
			for _, measures := range sums {
				for m := range measures {
					measures[m] = measures[m] * 1000 / lattice.Nat
				}
			}
			out = append(out, sums)
		}
		return nil
	}, &out)
	return out
}
