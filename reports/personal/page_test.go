package personal_test

import (
	"encoding/json"
	"os"
	"regexp"
	"slices"
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
	require.Equal(t, "personal", q.Kind)
	f := decision.NewFinder(w.Score)
	for what, want := range map[string][]int{"smaller": {2, 2, 3, 4}, "larger": {3, 3, 1, 3}} {
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
	for what, want := range map[string][]int{"own": {3, 1, 3, 1, 3}, "many": {2, 1, 2, 3, 4}, "ask": nil} {
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
		"Personal choices", "costs the hands of this edition more in comfort and memory, and gains them nothing", "For most hands", "supple tenth hand",
		"Reach is not comfort", `data-do="many"`, "the <b>upright</b> ones are the editor's",
		"the rarest of the editor&#39;s digits is printed in",
	} {
		require.Contains(t, string(html), says)
	}
	data := regexp.MustCompile(`(?s)<script type="application/json" id="data">(.*?)</script>`).FindSubmatch(html)
	require.NotNil(t, data)
	require.True(t, json.Valid(data[1]))
}

// The same said of the same notes and digits is told once, with its places; another digit is another matter.
func TestTheSameIsToldOnceWithItsPlaces(t *testing.T) {
	_, p := pieceOf(t)
	again, other := p.Passages[0], p.Passages[0]
	again.Place, again.Rows = "m. 9, right hand", slices.Clone(again.Rows)
	again.Rows[0].Pitch = "E5" // an octave higher
	other.Place, other.Rows = "m. 12, right hand", slices.Clone(other.Rows)
	other.Rows[0].Own = "2"
	require.Equal(t, "E4", p.Passages[0].Rows[0].Pitch)
	q := personal.Gathered(p, again, other)
	require.Equal(t, []string{"m. 9, right hand"}, q[0].Again)
	require.Equal(t, q[0].Place, q[len(q)-2].Same)
	require.Empty(t, q[len(q)-1].Same)
	html, err := personal.Page("Staged", "every note", "staged", []*personal.Piece{p})
	require.NoError(t, err)
	require.Contains(t, string(html), "the same figure with the same digits again, each to be decided by itself")
	require.Contains(t, string(html), `data-kind="same"`)
}

// Digits of the program's among those that differ are said to be so, and stand in italics below the notation.
func TestDigitsThatTheProgramFilledInAreSaidToBeItsOwn(t *testing.T) {
	_, p := pieceOf(t)
	q := &p.Passages[0]
	require.Empty(t, q.Filled())
	q.Theirs = q.Theirs[1:]
	q.Rows[0].Theirs = false
	require.Equal(t, "of the 4 digits that differ 1 is the program's (italic), and part of the effort is theirs", q.Filled())
	html, err := personal.Page("Staged", "every note", "staged", []*personal.Piece{p})
	require.NoError(t, err)
	require.Contains(t, string(html), `<span class="other filled">3</span>`)
	require.Contains(t, string(html), `<span class="other">1</span>`)
	require.Contains(t, string(html), `<span class="other filled">2</span>`, "of the other fingering")
}
