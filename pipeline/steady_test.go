package pipeline_test

import (
	"os"
	"path/filepath"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// Who takes a part of what is suggested has changed nothing: every other suggestion stays as it was, and does so too where a part
// was taken beside fingers that an editor chose otherwise. What is taken for returns too is left aside: a return may have been suggested
// otherwise.
func TestTakingAPartMovesNoOtherSuggestion(t *testing.T) {
	folder := shared.Folder(t, filepath.Join("data", "fingered"))
	for _, name := range []string{"clementim__o42-clementi-op42-lyt-l26-handel", "clementim__o42-clementi-op42-lyt-l12-mozart"} {
		data, err := os.ReadFile(filepath.Join(folder, name+".mxl"))
		require.NoError(t, err)
		first := &pipeline.PieceRun{
			Piece: &corpus.Piece{ID: name, Score: name + ".mxl", Scoring: corpus.TwoHands, TextDigits: "earlier"}, Data: data,
			Policy: policies.Default(), Weights: pipeline.ShippedWeights(),
		}
		require.NoError(t, pipeline.RunPiece(first))
		f := decision.NewFinder(first.Score)
		in := pipeline.InputsOf(first)
		before := first
		for sitting := range 3 {
			if sitting == 1 { // another finger at the first digit that is open
				n := before.Open[0]
				in.Decisions = append(in.Decisions, decision.Decision{
					Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-03-01",
					Notes: []decision.NoteRef{f.Ref(n, []int{int(before.Suggestion.Notes[n].Finger)%5 + 1})},
				})
				before, err = pipeline.Again(before, in)
				require.NoError(t, err)
			}
			taken := 0
			for i, p := range review.All(before.ReviewInput()) {
				if i%3 != sitting || p.ReturnOf > 0 || p.Redistribution >= 0 || p.ForReturns {
					continue
				}
				if d, ok := review.Take(before.Result, f, &p, "AB", "2026-03-01"); ok {
					in.Decisions, taken = append(in.Decisions, d), taken+1
				}
			}
			require.Positive(t, taken)
			after, err := pipeline.Again(before, in)
			require.NoError(t, err)
			open := 0
			for n := range after.Suggestion.Notes {
				if after.Bound[n].Finger() == 0 {
					open++
					require.Equal(t, before.Suggestion.Notes[n].Finger, after.Suggestion.Notes[n].Finger, "%s, sitting %d: %s", name, sitting, after.Score.Place(n))
					require.Equal(t, before.Suggestion.Notes[n].Substitution, after.Suggestion.Notes[n].Substitution, after.Score.Place(n))
				}
			}
			require.Positive(t, open)
			before = after
		}
	}
}
