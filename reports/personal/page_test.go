package personal_test

import (
	"encoding/json"
	"os"
	"regexp"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/policies"
	"fingerproof/reports/personal"

	"github.com/stretchr/testify/require"
)

func pieceOf(t *testing.T) (*pipeline.PieceRun, *personal.Piece) {
	t.Helper()
	data, err := os.ReadFile(shared.InProject("rules", "lint", "all", "testdata", "personal-fingering.musicxml"))
	require.NoError(t, err)
	w := &pipeline.PieceRun{
		Piece: &corpus.Piece{ID: "staged", Score: "staged.musicxml", Scoring: corpus.TwoHands, Draft: &corpus.Draft{By: "AB"}},
		Data:  data, DraftData: data, Policy: policies.Default(), Weights: pipeline.ShippedWeights(),
	}
	require.NoError(t, pipeline.RunUntil(w, "beside"))
	return w, personal.Of(w)
}

// What the page would save is read as decisions: each way of deciding gives the passage the digits it shows.
func TestThePageOffersDecisionsThatCanBeRead(t *testing.T) {
	w, p := pieceOf(t)
	require.Len(t, p.Passages, 2)
	q := p.Passages[0]
	require.Equal(t, 0, p.Left)
	require.Equal(t, "personal", q.Kind)
	f := decision.NewFinder(w.Score)
	for what, want := range map[string][]int{"smaller": {2, 3, 4}, "larger": {3, 1, 3}} {
		text := strings.ReplaceAll(q.Entries[what], "why: \"@why@\"", "why: \"as I play it\"")
		read, _, err := decision.Parse("staged.AB.yaml", []byte(decision.Head("staged", "AB")+text))
		require.NoError(t, err, what)
		require.Len(t, read, 2)
		require.Equal(t, decision.Alternative, read[1].On)
		require.Equal(t, what+" hands", read[1].For)
		var fingers []int
		for i := range read[1].Notes {
			fingers = append(fingers, read[1].Notes[i].Fingers...)
		}
		require.Equal(t, want, fingers, what)
	}
	for what, want := range map[string][]int{"own": {3, 1, 3}, "many": {2, 3, 4}, "ask": nil} {
		text := strings.ReplaceAll(q.Entries[what], "why: \"@why@\"", "why: \"as I play it\"")
		require.NotEqual(t, q.Entries[what], text, "the reason has its place")
		read, piece, err := decision.Parse("staged.AB.yaml", []byte(decision.Head("staged", "AB")+text))
		require.NoError(t, err, what)
		require.Equal(t, "staged", piece)
		require.Len(t, read, 1)
		var fingers []int
		for i := range read[0].Notes {
			n, why, _ := f.Find(&read[0].Notes[i])
			require.Contains(t, q.Notes, n, why)
			fingers = append(fingers, read[0].Notes[i].Fingers...)
		}
		require.Equal(t, want, fingers, what)
	}
}

// The page needs no other file, asks nothing of the network, and says what it weighs in words and numbers.
func TestThePageStandsAlone(t *testing.T) {
	_, p := pieceOf(t)
	html, err := personal.Page("Staged", "every note", "staged", []*personal.Piece{p})
	require.NoError(t, err)
	require.NotRegexp(t, `(src|href)="http`, string(html))
	for _, says := range []string{
		"Personal choices", "costs more in comfort and memory, and gains in nothing", "For most hands", "supple tenth hand",
		"Reach is not comfort", `data-do="many"`,
	} {
		require.Contains(t, string(html), says)
	}
	data := regexp.MustCompile(`(?s)<script type="application/json" id="data">(.*?)</script>`).FindSubmatch(html)
	require.NotNil(t, data)
	require.True(t, json.Valid(data[1]))
}
