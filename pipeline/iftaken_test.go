package pipeline_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/pipeline/4_stages/17_inspect"
	"fingerproof/policies"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/impossible-passing"

	"github.com/stretchr/testify/require"
)

// What is called firm can be taken unread: on real scores in which digits stand beside which the engine has little
// choice, taking it all makes no warning of the notes taken that was not there, and no error anywhere; what would make
// one is asked as a doubt that says so. Of passages that stay open lint may speak otherwise than before, since their
// suggestion takes account of what was decided: they are asked with what it says.
func TestTakingFirmPassagesMakesNoWarning(t *testing.T) {
	folder := shared.Folder(t, filepath.Join("data", "fingered"))
	asked, warned := 0, 0
	for _, name := range []string{
		"clementim__o42-clementi-op42-lyt-l26-handel", "clementim__o42-clementi-op42-lyt-l19-triste-raison",
		"clementim__o42-clementi-op42-lyt-l12-mozart", "czernyc__op-821-czerny-op-821-no-002",
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
			for _, f := range p.InText { // what is warned of in the text is in doubt where it is suggested
				warned++
				require.True(t, slices.ContainsFunc(f.Notes, func(n int) bool { return slices.Contains(p.Doubts, n) }), f.Message)
			}
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
	require.Positive(t, warned, "fingers that lint would warn of in the text")
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

// What is beyond the hand once all digits are taken comes out alike, whether it is read off the digits or searched for:
// on real scores, where each note gets the finger suggested for it, or another, which often
// does not fit.
func TestLimitsOfGivenDigitsAreThoseOfTheSearch(t *testing.T) {
	folder := shared.Folder(t, filepath.Join("data", "fingered"))
	sure, beyond := 0, 0
	for _, name := range []string{
		"clementim__o42-clementi-op42-lyt-l26-handel", "beethovenlv__o13-pathetique-2", "clementim__o42-clementi-op42-lyt-l12-mozart",
	} {
		data, err := os.ReadFile(filepath.Join(folder, name+".mxl"))
		if os.IsNotExist(err) {
			continue
		}
		require.NoError(t, err)
		w := &pipeline.PieceRun{
			Piece: &corpus.Piece{ID: name, Score: name + ".mxl", Scoring: corpus.TwoHands}, Data: data,
			Policy: policies.Default(), Weights: pipeline.ShippedWeights(),
		}
		require.NoError(t, pipeline.RunUntil(w, "beside"))
		for _, shift := range []int{0, 2} {
			in := w.SuggestInput()
			in.Decided = make([]suggest.Decided, len(w.Score.Notes))
			for n := range in.Decided {
				if f := int(w.Suggestion.Notes[n].Finger); f > 0 && !w.Suggestion.Notes[n].Tied {
					in.Decided[n].Finger = (f-1+shift)%5 + 1
				}
			}
			searched := suggest.Suggest(in)
			limits, ok := suggest.LimitsOf(in)
			if !ok {
				limits = suggest.LimitsBySearch(in)
			} else {
				sure++
			}
			for n := range searched.Notes {
				require.Equal(t, searched.Notes[n].Pedal, limits.Pedal[n], "%s %d", name, n)
				require.Equal(t, searched.Notes[n].OutOfReach, limits.OutOfReach[n], "%s %d", name, n)
				if limits.OutOfReach[n] != "" {
					beyond++
				}
			}
		}
	}
	require.Positive(t, sure)
	require.Positive(t, beyond)
}

// What comes again with the same digits is meant, but where the digits that come again are suggested: a suggestion repeats a
// slip, too, and the slip is told at both.
func TestWhatIsSuggestedIsNoReasonToLeaveASlipAlone(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "rules", "lint", "all", "testdata", "impossible-passing-again.musicxml"))
	require.NoError(t, err)
	w := &pipeline.PieceRun{
		Piece: &corpus.Piece{ID: "again", Score: "again.musicxml", Scoring: corpus.TwoHands}, Data: data,
		Policy: policies.Default(), Weights: pipeline.ShippedWeights(),
	}
	require.NoError(t, pipeline.RunPiece(w))
	in := w.InspectInput()
	severities := map[string]lint.Severity{impossiblepassing.Rule.Name: lint.Warning}
	told := func() (measures []string) {
		for _, f := range lint.Run(inspect.InspectionOf(in), []*lint.Rule{impossiblepassing.Rule}, severities) {
			measures = append(measures, w.Score.Measures[w.Score.Notes[f.Notes[0]].Measure].Number)
		}
		return measures
	}
	require.Equal(t, []string{"3"}, told(), "what stands in mm. 1 and 5 is meant")
	in.Whose = slices.Clone(in.Whose)
	for n := range w.Score.Notes {
		if w.Score.Measures[w.Score.Notes[n].Measure].Number == "5" {
			in.Whose[n] = slices.Repeat([]score.Responsibility{score.Open}, len(in.Whose[n]))
		}
	}
	require.Equal(t, []string{"1", "3", "5"}, told(), "in m. 5 it is suggested")
}
