package robustness

import (
	"math/rand/v2"

	"fingerproof/cmd/workbench/mutants"
	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/policies"
)

// places says where an edit was made, in half measures of the score as it was:
// 2·m for measure m, 2·m+1 for what was put in behind it.
type places []int

// smallEdit changes one measure of a way's score and gives the way to be
// worked out anew; nil where the score has no place for such an edit.
type smallEdit struct {
	name string
	make func(before *pipeline.PieceRun, rng *rand.Rand) (*pipeline.PieceRun, places, error)
}

var smallEdits = []smallEdit{
	{"pitch", byMutation(mutants.OtherPitch)},
	{"measure added", byMutation(mutants.InsertMeasures)},
	{"measure missing", byMutation(mutants.CutMeasures)},
	{"digit of the text", byMutation(mutants.ChangeDigit)},
	{"decision", decideOtherwise},
}

func travelled(name string, data []byte, policy *policies.Policy) *pipeline.PieceRun {
	return &pipeline.PieceRun{Piece: &corpus.Piece{ID: name, Score: name, Scoring: corpus.TwoHands}, Data: data, Policy: policy, Weights: pipeline.ShippedWeights()}
}

// byMutation edits the text of a score. Mutations of several measures in a row count as one place.
func byMutation(apply func(*mutants.Mutant) bool) func(*pipeline.PieceRun, *rand.Rand) (*pipeline.PieceRun, places, error) {
	return func(before *pipeline.PieceRun, rng *rand.Rand) (*pipeline.PieceRun, places, error) {
		d, err := mutants.New(before.Piece.Score, before.Data, before.Score, rng)
		if err != nil || !apply(d) {
			return nil, nil, err
		}
		_, b, truths, err := d.Finish()
		if err != nil {
			return nil, nil, err
		}
		var at places
		for _, t := range truths {
			switch {
			case t.Measure && t.A >= 0:
				at = append(at, 2*t.A)
			case t.Measure: // in a row: the first one's place is where they were put in
				if len(at) == 0 {
					first := t.B
					for _, o := range truths {
						first = min(first, o.B)
					}
					at = append(at, 2*first-1)
				}
			case t.A >= 0:
				at = append(at, 2*before.Score.Notes[t.A].Measure)
			default:
				at = append(at, 2*b.Score.Notes[t.B].Measure)
			}
		}
		return travelled(before.Piece.Score, []byte(d.Text), before.Policy), at, nil
	}
}

// decideOtherwise amends one note to the choice that comes next, or to the
// next finger where there is no other choice.
func decideOtherwise(before *pipeline.PieceRun, rng *rand.Rand) (*pipeline.PieceRun, places, error) {
	var candidates []int
	for i := range before.Score.Notes {
		if n := &before.Suggestion.Notes[i]; before.Hands.Piano[i] && before.Score.Notes[i].TiedFrom < 0 && n.Finger > 0 && n.Given == 0 && before.Score.Notes[i].Kind == score.Pitched {
			candidates = append(candidates, i)
		}
	}
	if len(candidates) == 0 {
		return nil, nil, nil
	}
	n := candidates[rng.IntN(len(candidates))]
	now := &before.Suggestion.Notes[n]
	finger := 1 + int(now.Finger)%5
	for _, c := range now.Choices {
		if c.Finger != now.Finger {
			finger = int(c.Finger)
			break
		}
	}
	ref := decision.NewFinder(before.Score).Ref(n, []int{finger})
	after := travelled(before.Piece.Score, before.Data, before.Policy)
	after.Decisions = []decision.Decision{{Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-01-01", Notes: []decision.NoteRef{ref}}}
	return after, places{2 * before.Score.Notes[n].Measure}, nil
}
