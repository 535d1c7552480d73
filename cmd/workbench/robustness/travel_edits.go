package robustness

import (
	"math/rand/v2"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
)

// places says where an edit was made, in half measures of the score as it was:
// 2·m for measure m, 2·m+1 for what was put in behind it.
type places []int

// smallEdit changes one measure of a run's score and gives the run to be
// worked out anew; nil where the score has no place for such an edit.
type smallEdit struct {
	name string
	make editor
}

// editor gives the edited run, not worked on yet, and where it was edited.
type editor func(before *pipeline.PieceRun, rng *rand.Rand) (*pipeline.PieceRun, places, error)

var smallEdits = []smallEdit{
	{"pitch", byAlteration(alteration.OtherPitch)},
	{"measure added", byAlteration(alteration.InsertMeasures)},
	{"measure missing", byAlteration(alteration.CutMeasures)},
	{"digit of the text", byAlteration(alteration.ChangeDigit)},
	{"decision", decideOtherwise},
}

// byAlteration edits the text of a score. Alterations of several measures in a row count as one place.
func byAlteration(apply func(*alteration.Draft) bool) editor {
	return func(before *pipeline.PieceRun, rng *rand.Rand) (*pipeline.PieceRun, places, error) {
		original, err := alteration.Of(before.Piece.Score, before.Data, before.Score)
		if err != nil {
			return nil, nil, err
		}
		d := original.Draft(rng)
		if !apply(d) {
			return nil, nil, nil
		}
		_, b, truths, err := d.Finish()
		if err != nil {
			return nil, nil, err
		}
		after := programruns.Of(before.Piece.Score, []byte(d.Text), before.Policy)
		return after, placesOf(truths, before.Score, b.Score), nil
	}
}

// placesOf says where a draft was altered. Measures put in in a row count once, where the first of them was put in.
func placesOf(truths []alteration.Truth, before, after *score.Score) (at places) {
	for _, t := range truths {
		switch {
		case t.Measure && t.A >= 0:
			at = append(at, 2*t.A)
		case t.Measure:
			if len(at) == 0 {
				first := t.B
				for _, o := range truths {
					first = min(first, o.B)
				}
				at = append(at, 2*first-1)
			}
		case t.A >= 0:
			at = append(at, 2*before.Notes[t.A].Measure)
		default:
			at = append(at, 2*after.Notes[t.B].Measure)
		}
	}
	return at
}

// decideOtherwise amends one note to the choice that comes next, or to the
// next finger where there is no other choice.
func decideOtherwise(before *pipeline.PieceRun, rng *rand.Rand) (*pipeline.PieceRun, places, error) {
	var candidates []int
	for i := range before.Score.Notes {
		n, suggested := &before.Score.Notes[i], &before.Suggestion.Notes[i]
		struck := before.Playing.Plays(i) && n.TiedFrom < 0 && n.Kind == score.Pitched
		if struck && suggested.Finger > 0 && suggested.Given == 0 {
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
	after := programruns.Of(before.Piece.Score, before.Data, before.Policy)
	after.Decisions = []decision.Decision{{
		Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-01-01", Notes: []decision.NoteRef{ref},
	}}
	return after, places{2 * before.Score.Notes[n].Measure}, nil
}
