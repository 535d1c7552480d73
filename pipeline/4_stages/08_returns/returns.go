// Package returns is the stage that finds the passages which come back in the
// lines of each hand.
package returns

import (
	"fmt"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/parallel"
)

// Input is everything the stage looks at.
type Input struct {
	Score   *score.Score
	Playing *playing.Playing
	// Differ are the measures that the manifest declares to be fingered for themselves.
	Differ []corpus.Measures
	File   string // of the score, for errors
}

// Output is what comes back.
type Output struct {
	Returns []parallel.Return
	// Same is parallel to Returns: the notes of each whose music is the same all round, on which decisions go on.
	Same  []parallel.Return
	Apart []bool // notes declared to be fingered for themselves, parallel to Score.Notes; nil: none
}

// Find looks for passages that come back, exactly, transposed or mirrored.
func Find(in Input) (out Output, err error) {
	if out.Apart, err = apart(in); err != nil {
		return out, err
	}
	out.Returns = parallel.Find(in.Score, in.Playing)
	out.Same = parallel.Same(in.Score, in.Playing, out.Returns)
	return out, nil
}

// apart marks the notes of measures that the manifest declares to be fingered for themselves.
func apart(in Input) ([]bool, error) {
	if len(in.Differ) == 0 {
		return nil, nil
	}
	out := make([]bool, len(in.Score.Notes))
	for _, r := range in.Differ {
		from, to, ok := r.In(in.Score)
		if !ok {
			return nil, fmt.Errorf("%s: returns_differ names %s, which the score does not have\n"+
				"hint: measures by their printed numbers, the first one first", in.File, r)
		}
		for i := range in.Score.Notes {
			if m := in.Score.Notes[i].Measure; m >= from && m <= to {
				out[i] = true
			}
		}
	}
	return out, nil
}
