package pipeline_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// What is called firm can be taken unread: on real scores in which digits stand beside which the engine has little
// choice, taking it all makes no warning of the notes taken that was not there, and no error anywhere; what would make
// one is asked as a doubt that says so. Of passages that stay open lint may speak otherwise than before, since their
// suggestion takes account of what was decided: they are asked with what it says.
func TestTakingFirmPassagesMakesNoWarning(t *testing.T) {
	folder := shared.Folder(t, filepath.Join("data", "fingered"))
	asked := 0
	for _, name := range []string{
		"clementim__o42-clementi-op42-lyt-l26-handel", "clementim__o42-clementi-op42-lyt-l19-triste-raison",
		"clementim__o42-clementi-op42-lyt-l12-mozart",
	} {
		data, err := os.ReadFile(filepath.Join(folder, name+".mxl"))
		if os.IsNotExist(err) {
			continue
		}
		require.NoError(t, err)
		w := &pipeline.PieceRun{
			Piece: &corpus.Piece{ID: name, Score: name + ".mxl", Scoring: corpus.TwoHands, TextDigits: "earlier"}, Data: data,
			Policy: policies.Default(), Weights: pipeline.ShippedWeights(),
		}
		require.NoError(t, pipeline.RunPiece(w))
		f := decision.NewFinder(w.Score)
		in := pipeline.InputsOf(w)
		taken := map[int]bool{}
		for _, p := range review.All(w.ReviewInput()) {
			asked += len(p.IfTaken)
			if !p.Firm {
				continue
			}
			require.Empty(t, p.IfTaken)
			if d, ok := review.Take(w.Result, f, &p, "AB", "2026-03-01"); ok {
				in.Decisions = append(in.Decisions, d)
				for _, n := range p.Notes {
					taken[n] = true
				}
			}
		}
		require.NotEmpty(t, in.Decisions, name)
		again, err := pipeline.Again(w, in)
		require.NoError(t, err)
		require.LessOrEqual(t, warningsOf(again, taken), warningsOf(w, taken), name)
		require.LessOrEqual(t, again.Result.Summary.Severities.Error, w.Result.Summary.Severities.Error, name)
	}
	require.Positive(t, asked, "taken whole, these pieces get findings")
}

// warningsOf counts the warnings that speak of one of the notes.
func warningsOf(w *pipeline.PieceRun, notes map[int]bool) (count int) {
	for _, f := range w.Result.Findings {
		if f.Severity == "warning" && slices.ContainsFunc(f.Notes, func(n int) bool { return notes[n] }) {
			count++
		}
	}
	return count
}
