package page_test

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/policies"
	"fingerproof/reports/page"
	"fingerproof/rules/engine"

	"github.com/stretchr/testify/require"
)

// title is what a hostile or careless score may bear.
const title = `<script>alert("x")</script><img src=x onerror=alert(1)>`

func material() *page.Material {
	doubt, reach := state.Percent(41), state.Percent(13)
	r := &state.Result{
		Piece: "op1",
		Summary: state.Summary{
			Title: title, Score: "op1.musicxml", Measures: 3, Notes: 3, Struck: 3, Hand: "ninth hand (210 mm)",
			Scoring: "two hands",
			Tempo:   state.Tempo{Low: 60, High: 72, Beat: "1", Source: `the word "adagio"`},
			Hands: []state.HandTotal{{
				Hand: score.Right, Notes: 3, Measures: []int64{100, 9000, 0},
				Effort: state.Effort{{Criterion: "stretch", MilliNats: 9100}},
				Widest: &state.Grip{Note: 1, Span: 21150, Reach: reach}}}},
		Redistributions: []state.Redistribution{
			{
				ID: "r1", To: score.Left, Reason: "a grip out of reach", Gain: 2500,
				Notes: []state.RedistributedNote{{N: 1, Finger: 2}},
			},
		},
		Findings: []state.Finding{
			{
				Rule: "grip-out-of-reach", Severity: "warning", Message: "span & more </script>", Measure: "2",
				MeasureIndex: 1, Hand: score.Right, Notes: []int{1}, Fingerprint: "abc",
			},
		},
		Returns: []state.Return{{
			Kind: "transposed", Shift: 2,
			First: state.ReturnPassage{Hand: score.Right, Measure: "1", ToMeasure: "1", Beat: "1"},
			Later: state.ReturnPassage{
				Hand: score.Right, Measure: "2", MeasureIndex: 1, ToMeasure: "2", ToMeasureIndex: 1, Beat: "1", From: 2,
				To: 2,
			},
			Notes: 1, Alike: 1,
		}},
		Notes: []state.Note{
			{
				N: 0, Measure: "1", Pitch: "C4", Midi: 60, Hand: score.Right, Finger: 1, Responsibility: score.Composer,
				Printed: true,
				Source:  []state.Source{{Text: "2", Responsibility: score.Earlier, Witnesses: []string{"B"}}}},
			{
				N: 1, Measure: "2", MeasureIndex: 1, Pitch: "E5", Midi: 76, Hand: score.Right, Finger: 5,
				Confidence: &doubt, OutOfReach: "too wide", Reach: &reach,
				Alternatives: []state.Alternative{{Finger: 4, Regret: 310}},
			},
			{N: 2, Measure: "2", MeasureIndex: 1, Pitch: "C4", Midi: 60, Hand: score.Right, Finger: 1},
		},
	}
	m := &page.Material{
		Music: make([]string, 8), Numbers: []string{"1", "2", "3", "4", "5", "6", "7", "8"},
		Result: r,
		Changes: []page.Change{
			{
				Place: "m. 2, right hand, beat 1", What: "E5, finger", Index: 1, Old: "4", New: "5",
				Cause: "policy: hand",
			},
		},
		Policy: "study", Collection: "T & Co", Tempo: []int{66, 72, 72},
		Pages: []page.PageDigits{{Name: "page 1", Measures: 3, Notes: 3, Digits: 1}},
		More: []page.More{
			{Beat: "1", Address: score.Address{Midi: 60}},
			{
				Beat: "1", Address: score.Address{Measure: 1, Midi: 76}, Reach: 1300,
				Effort: []engine.Effort{{Criterion: "stretch", Cost: 900}},
				Choices: []engine.Choice{
					{Finger: 4, Regret: 310, Passage: []engine.Step{{ID: 1, Finger: 4}, {ID: 2, Finger: 2}}},
				},
			},
			{Beat: "1", Address: score.Address{Measure: 1, Midi: 60}},
		},
	}
	s := &score.Score{Measures: make([]score.Measure, 3)}
	hands := playing.Hands{Piano: make([]bool, 3), Hand: make([]score.Hand, 3), Player: make([]int, 3)}
	for i, n := range r.Notes {
		s.Measures[i].Start = score.Whole(int64(i))
		s.Notes = append(s.Notes, score.Note{Measure: n.MeasureIndex, Midi: n.Midi, TiedFrom: -1, TiedTo: -1})
		hands.Piano[i], hands.Hand[i] = true, n.Hand
	}
	m.Passages = review.Passages(r, playing.New(s, hands), nil)
	return m
}

func TestPieceSaysWhatAnEditorNeeds(t *testing.T) {
	html, err := page.Piece(material())
	require.NoError(t, err)
	text := string(html)
	for _, want := range []string{
		"Pain is a reason to stop", "Reach is not comfort", "not medical advice", // FACTS §1.3
		"ninth hand (210 mm)", "study", "60 to 72 beats a minute", "span &amp; more", `id="m1"`, `href="#m1"`,
		"4, 73 in 100 as likely", "about 15 of 100 adult pianists", "composer&#39;s digit", "0 firm, 0 fair, 1 doubtful",
		"The left hand could take notes here: a grip out of reach.", "m. 2: E5 2", "differs", "earlier, B",
	} {
		require.Contains(t, text, want)
	}
	// The highest note of a chord comes first (FACTS §5.3).
	require.Less(t, strings.LastIndex(text, "<small>E5</small>"), strings.LastIndex(text, "<small>C4</small>"))
}

// Markup in a title or a message stays text, and the page lets no script run but its own.
func TestMarkupInATitleDoesNothing(t *testing.T) {
	html, err := page.Piece(material())
	require.NoError(t, err)
	text := string(html)
	require.NotContains(t, text, title)
	require.NotContains(t, text, "<img")
	require.Equal(t, 2, strings.Count(text, "<script"), "the data and our own script")
	require.Equal(t, 2, strings.Count(text, "</script>"))
	require.Regexp(t, `Content-Security-Policy" content="default-src &#39;none&#39;;[^"]*script-src &#39;sha256-`, text)
}

// The concordance: what returns, how far alike, and why not.
func TestPieceShowsWhatReturns(t *testing.T) {
	m := material()
	r := m.Result
	r.Returns = []state.Return{
		{
			Kind: "exact", First: state.ReturnPassage{Hand: score.Right, Measure: "1", ToMeasure: "1", Beat: "1"},
			Later: state.ReturnPassage{
				Hand: score.Right, Measure: "2", MeasureIndex: 1, ToMeasure: "3", ToMeasureIndex: 2, Beat: "1",
			},
			Notes: 8, Alike: 8,
		},
		{
			Kind: "transposed", Shift: -1,
			First: state.ReturnPassage{Hand: score.Right, Measure: "1", ToMeasure: "1", Beat: "2", From: 1},
			Later: state.ReturnPassage{
				Hand: score.Right, Measure: "2", MeasureIndex: 1, ToMeasure: "2", ToMeasureIndex: 1, Beat: "3",
			},
			Notes: 9, Alike: 8,
			Differ: []state.Difference{{First: 0, Later: 1, Fingers: [2]int{1, 5}, Why: "white & black"}},
		},
	}
	html, err := page.Piece(m)
	require.NoError(t, err)
	text := string(html)
	for _, want := range []string{
		"Passages that return", "exact: 8 of 8 notes alike; transposed: 8 of 9 notes alike",
		"m. 2–3, beat 1, right hand", "transposed down by 1 semitone", "m. 2 E5: 5, first 1 (white &amp; black)",
		"all 8 notes",
	} {
		require.Contains(t, text, want)
	}
	require.Less(
		t, strings.Index(text, "8 of 9 notes<"), strings.Index(text, "all 8 notes"), "what is not alike stands first",
	)
	m.Result.Returns = nil
	bare, err := page.Piece(m)
	require.NoError(t, err)
	require.NotContains(t, string(bare), "Passages that return")
}

// One file, no outside address.
func TestPagesAreSelfContained(t *testing.T) {
	html, err := page.Piece(material())
	require.NoError(t, err)
	i := page.NewIndex(&corpus.Collection{Title: "T & Co", Invented: "all invented"})
	i.Add(page.EntryOf(material()))
	i.Add(page.FailedEntry(&corpus.Piece{ID: "op2", Score: "op2.musicxml"}, "cut <off>", ""))
	files, err := i.Render()
	require.NoError(t, err)
	require.Len(t, files, 4)
	for _, f := range append(files, page.File{Name: "op1.html", Data: html}) {
		text := string(f.Data)
		for _, link := range regexp.MustCompile(`(?:href|src)="([^"]*)"`).FindAllStringSubmatch(text, -1) {
			require.Regexp(
				t, `^(#[mpx]\d+|#judge|#glyph-\w+|index(\.\w+)?\.html|op\d\.html(#[mp]\d+)?)$`, link[1], f.Name,
			)
		}
		require.NotContains(t, text, "@import")
		require.NotRegexp(t, `url\((?:["']?https?:)`, text)
		require.NotRegexp(t, `<(?:link|iframe|object|embed|base)\b`, text)
		require.Contains(t, text, `lang="en"`)
		require.Contains(t, text, "prefers-color-scheme: dark")
		require.Contains(t, text, "Pain is a reason to stop", "the caution stands on %s", f.Name)
	}
	index := string(files[0].Data)
	require.Contains(t, index, "cut &lt;off&gt;")
	require.Contains(t, index, "T &amp; Co")
	require.Contains(t, index, "all invented")
	require.Contains(t, index, "1 of them could not be worked on")
	require.Contains(t, index, "grip-out-of-reach", "a rule can be searched for")
	require.Contains(t, string(files[1].Data), "a grip out of reach")
	require.Contains(t, string(files[2].Data), "transposed up by 2 semitones")
	require.Contains(t, string(files[3].Data), "<td>E5, finger</td><td>4</td><td>5</td>")
}

func TestPagesOfPiecesNeverTakeTheNamesOfTheCollections(t *testing.T) {
	require.Equal(t, "op1.html", page.FileName("op1"))
	require.Equal(t, "_index.html", page.FileName("index"))
	require.Equal(t, "_Index.returns.html", page.FileName("Index.returns"))
}

// demoRun takes a piece of the demo collection through the pipeline.
func demoRun(t testing.TB, id string) *pipeline.PieceRun {
	data, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", id+".musicxml"))
	require.NoError(t, err)
	return wayOf(t, id, data)
}

func wayOf(t testing.TB, id string, data []byte) *pipeline.PieceRun {
	w := &pipeline.PieceRun{
		Piece: &corpus.Piece{ID: id, Score: id + ".musicxml", Scoring: corpus.TwoHands}, Data: data,
		Policy: policies.Default(), Weights: pipeline.ShippedWeights(), Edition: id + ".musicxml",
	}
	require.NoError(t, pipeline.RunPiece(w))
	return w
}

// A choice brings the passage that follows from it, up to where both rejoin: the page has what the engine worked out,
// whole.
func TestEveryChoiceBringsItsPassage(t *testing.T) {
	w := demoRun(t, "op7-nocturne")
	m := page.Of(w, "demo")
	html, err := page.Piece(m)
	require.NoError(t, err)
	d := dataOf(t, html)
	choices := 0
	for n, list := range d.Choices {
		for k, c := range list {
			want := w.Suggestion.Notes[n].Choices[k]
			require.Equal(t, int(want.Finger), c.Finger)
			require.Equal(t, want.Regret, c.Cost)
			require.Len(t, c.Passage, len(want.Passage))
			found := false
			for i, s := range want.Passage {
				require.Equal(t, [2]int{s.ID, int(s.Finger)}, c.Passage[i])
				require.Contains(t, d.Notes, s.ID, "every note that a choice reaches is known to the page")
				found = found || s.ID == n && int(s.Finger) == c.Finger
			}
			require.True(t, found, "the note itself is in its passage")
			choices++
		}
	}
	require.Greater(t, choices, 50)
}

// A page of the same piece is the same to the byte.
func TestPagesAreTheSameEveryTime(t *testing.T) {
	first, err := page.Piece(page.Of(demoRun(t, "op9-3-romance"), "demo"))
	require.NoError(t, err)
	again, err := page.Piece(page.Of(demoRun(t, "op9-3-romance"), "demo"))
	require.NoError(t, err)
	require.Equal(t, string(first), string(again))
}
