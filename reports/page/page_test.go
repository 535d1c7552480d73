package page_test

import (
	"errors"
	"regexp"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/state"
	"fingerproof/reports/page"

	"github.com/stretchr/testify/require"
)

func result() *state.Result {
	doubt, reach := state.Percent(41), state.Percent(13)
	return &state.Result{
		Piece: "op1",
		Summary: state.Summary{Title: `<script>alert("x")</script>`, Score: "op1.musicxml", Measures: 3, Notes: 3, Hand: "ninth hand (210 mm)", Scoring: "two hands",
			Tempo: state.Tempo{Low: 60, High: 72, Beat: "1", Source: `the word "adagio"`},
			Hands: []state.HandTotal{{Hand: score.Right, Notes: 3, Measures: []int64{100, 9000, 0}, Effort: state.Effort{{Criterion: "stretch", MilliNats: 9100}},
				Widest: &state.Grip{Note: 1, Span: 21150, Reach: reach}}}},
		Findings: []state.Finding{{Rule: "grip-out-of-reach", Severity: "warning", Message: "span & more", Measure: "2", MeasureIndex: 1, Hand: score.Right}},
		Notes: []state.Note{
			{N: 0, Measure: "1", Pitch: "C4", Midi: 60, Hand: score.Right, Finger: 1, Responsibility: score.Composer, Printed: true},
			{N: 1, Measure: "2", MeasureIndex: 1, Pitch: "E5", Midi: 76, Hand: score.Right, Finger: 5, Confidence: &doubt, OutOfReach: "too wide", Alternatives: []state.Alternative{{Finger: 4, Regret: 310}}},
			{N: 2, Measure: "2", MeasureIndex: 1, Pitch: "C4", Midi: 60, Hand: score.Right, Finger: 1},
		},
	}
}

func TestPieceSaysWhatAnEditorNeeds(t *testing.T) {
	html, err := page.Piece(result(), "study")
	require.NoError(t, err)
	text := string(html)
	for _, want := range []string{
		"Pain is a reason to stop", "Reach is not comfort", "not medical advice", // FACTS §7
		"ninth hand (210 mm)", "study", "60 to 72 beats a minute", "span &amp; more", `id="m1"`, `href="#m1"`,
		"4 costs more by 0.31", "about 15 of 100 adult pianists", "composer&#39;s digit", "0 firm, 0 fair, 1 doubtful",
	} {
		require.Contains(t, text, want)
	}
	require.NotContains(t, text, "<script>", "markup in a title does nothing")
	// The highest note of a chord comes first (FACTS §5.2).
	require.Less(t, strings.Index(text, "<small>E5</small>"), strings.LastIndex(text, "<small>C4</small>"))
}

// The concordance: what returns, how far alike, and why not.
func TestPieceShowsWhatReturns(t *testing.T) {
	r := result()
	r.Returns = []state.Return{
		{Kind: "exact", First: state.Passage{Hand: score.Right, Measure: "1", ToMeasure: "1", Beat: "1"}, Later: state.Passage{Hand: score.Right, Measure: "2", MeasureIndex: 1, ToMeasure: "3", ToMeasureIndex: 2, Beat: "1"}, Notes: 8, Alike: 8},
		{Kind: "transposed", Shift: -1, First: state.Passage{Hand: score.Right, Measure: "1", ToMeasure: "1", Beat: "2", From: 1}, Later: state.Passage{Hand: score.Right, Measure: "2", MeasureIndex: 1, ToMeasure: "2", ToMeasureIndex: 1, Beat: "3"},
			Notes: 9, Alike: 8, Differ: []state.Difference{{First: 0, Later: 1, Fingers: [2]int{1, 5}, Why: "white & black"}}},
	}
	html, err := page.Piece(r, "study")
	require.NoError(t, err)
	text := string(html)
	for _, want := range []string{"Passages that return", "exact: 8 of 8 notes alike; transposed: 8 of 9 notes alike", "m. 2–3, beat 1, right hand", "transposed down by 1 semitone", "m. 2 E5: 5, first 1 (white &amp; black)", "all 8 notes"} {
		require.Contains(t, text, want)
	}
	require.Less(t, strings.Index(text, "8 of 9 notes<"), strings.Index(text, "all 8 notes"), "what is not alike stands first")
	bare, err := page.Piece(result(), "study")
	require.NoError(t, err)
	require.NotContains(t, string(bare), "Passages that return")
}

// One file, no outside address.
func TestPagesAreSelfContained(t *testing.T) {
	html, err := page.Piece(result(), "study")
	require.NoError(t, err)
	i := page.NewIndex(&corpus.Collection{Title: "T & Co", Invented: "all invented"})
	i.Add(result())
	i.Fail(&corpus.Piece{ID: "op2", Score: "op2.musicxml"}, errors.New("cut <off>"))
	index, err := i.Render()
	require.NoError(t, err)
	for _, text := range []string{string(html), string(index)} {
		for _, link := range regexp.MustCompile(`(?:href|src)="([^"]*)"`).FindAllStringSubmatch(text, -1) {
			require.Regexp(t, `^(#m\d+|index\.html|op\d\.html)$`, link[1])
		}
		require.NotContains(t, text, "@import")
		require.NotRegexp(t, `url\((?:["']?https?:)`, text)
		require.Contains(t, text, `lang="en"`)
		require.Contains(t, text, "prefers-color-scheme: dark")
	}
	require.Contains(t, string(index), "cut &lt;off&gt;")
	require.Contains(t, string(index), "T &amp; Co")
	require.Contains(t, string(index), "all invented")
	require.Contains(t, string(index), "1 of them could not be read")
}
