package commentary_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"
	"fingerproof/reports/commentary"

	"github.com/stretchr/testify/require"
)

// beats counts quarters from one.
func beats(_ int, onset score.Fraction) string { return onset.Add(score.Whole(1)).String() }

func TestCommentaryTellsWhatAnEditorAsks(t *testing.T) {
	c := commentary.New(&corpus.Collection{Title: "Pieces <of> mine", Composer: "Nobody"})
	p := &corpus.Piece{
		ID: "a",
		Witnesses: []corpus.Witness{
			{Siglum: "B", Name: "second edition", Numbering: corpus.Old, Responsibility: "composer"},
			{Siglum: "C", Numbering: "modern", Responsibility: "earlier"},
		},
	}
	composers, earlier := score.Composer, score.Earlier
	r := &state.Result{Piece: "a", Summary: state.Summary{Hand: "ninth hand (210 mm)"}, Notes: []state.Note{
		{N: 0, Measure: "1", Pitch: "C#5", Midi: 73, Hand: score.Right, Finger: 3, Agent: "kp", Printed: true,
			Responsibility: composers, Source: []state.Source{
				{Text: "2", Responsibility: composers},
				{Text: "+", Fingers: []int{1}, Responsibility: composers, Witnesses: []string{"B"}, WitnessOnly: true},
			}},
		{N: 1, Measure: "1", Pitch: "Ebb5", Midi: 74, Hand: score.Right, Finger: 4, Printed: true,
			Responsibility: composers, Source: []state.Source{
				{Text: "4", Responsibility: composers, Witnesses: []string{"B", "C"}},
				{Text: "5", Responsibility: earlier, Substitution: true, Witnesses: []string{"C"}, WitnessOnly: true},
				{
					Text: "(3)", Fingers: []int{3}, Responsibility: composers, Alternate: true,
					Witnesses:   []string{"B"},
					WitnessOnly: true,
				},
			}},
		{
			N: 2, Measure: "1", Onset: score.Frac(3, 2), Pitch: "D5", Midi: 74, Hand: score.Right, Finger: 2, Beside: 1,
			Source: []state.Source{{Text: "2", Responsibility: composers}},
		},
		{N: 3, Measure: "1", Onset: score.Frac(3, 2), Pitch: "D5", Midi: 74, Hand: score.Right, Finger: 2, Tied: true},
		{N: 4, Measure: "2", MeasureIndex: 1, Pitch: "C4", Midi: 60, Hand: score.Left, Finger: 1},
		{
			N: 5, Measure: "2", MeasureIndex: 1, Pitch: "C5", Midi: 72, Hand: score.Right, Finger: 1,
			Responsibility: score.Editor,
			Source: []state.Source{
				{Text: "9", Responsibility: composers, Witnesses: []string{"B"}, WitnessOnly: true},
			},
		},
		{N: 6, Measure: "3", MeasureIndex: 2, Pitch: "Bb3", Midi: 58, Hand: score.Left, Finger: 1},
	}, Redistributions: []state.Redistribution{
		{
			To: score.Right, Reason: "decided", Decided: true, Why: "the bass stays",
			Notes: []state.RedistributedNote{{N: 4, Finger: 1}},
		},
		{
			To: score.Right, Reason: "reach", Notes: []state.RedistributedNote{{N: 6, Finger: 1}},
			Around: []state.RedistributedNote{{N: 4, Finger: 5}, {N: 5, Finger: 4}},
		},
	},
		Witnesses: []state.Witness{{Siglum: "B", Digits: 3, Unplaced: 2, Odd: 1}, {Siglum: "C", Digits: 1}},
		Returns: []state.Return{{
			Apart: true, Notes: 5, Alike: 3,
			First: state.ReturnPassage{Hand: score.Left, Measure: "1", ToMeasure: "2", Beat: "1"},
			Later: state.ReturnPassage{Hand: score.Left, Measure: "9", ToMeasure: "10", Beat: "1"}}},
		Findings: []state.Finding{{Rule: "decision-query", Measure: "2", Message: "kp asks: really?"}},
	}
	c.Add(p, r, policies.Default(), beats)
	md := string(c.Markdown())
	for _, want := range []string{
		"Pieces &lt;of> mine: editorial", "Fingered for the ninth hand (210 mm).", "| *3* | italic | the composer's |",
		"B (second edition): fingers numbered + 1 2 3 4, + the thumb; given here as 1 to 5, its digits taken as the composer's; 3 " +
			"digits at notes of the text, 2 on notes that the text does not have; 1 of all are no fingers in its " +
			"numbering",
		"The composer's digits stand on 3 notes: right hand, m. 1.",
		"carried to 1 note of passages that return, where they count as the editor's: right hand, m. 2.",
		"m. 1, right hand, beat 1, C♯5: the composer's 2; ours 3 (kp).",
		"m. 1, right hand, beat 1, C♯5+E𝄫5: text 2+4; B 1+4 or 3; C –+4-5.",
		"m. 2, right hand, beat 1, C5: text no digit; B “9”, which is no finger in its numbering.",
		"m. 1, right hand, beat 5/2, D5: the composer's 2; beside it 1.",
		"m. 2, beat 1: the right hand takes C4 (1). Reason: the bass stays.",
		"m. 3, beat 1: the right hand may take B♭3 (1). Reason: the grip of the left hand goes beyond the hand. " +
			"With it in the right hand: in m. 2 C5 (4). With it in the left hand: in m. 2 C4 (5).",
		"m. 9–10, beat 1, left hand returns from m. 1–2, beat 1, left hand and is fingered for itself: another " +
			"finger on 2 of 5 notes.",
		"m. 2: kp asks: really?", "6 notes struck, 2 digits in print (33 in 100): 2 the composer's", "on 1 note.",
		"| a | 6 | 2 | 2 | 0 | 0 | 0 | 1 |", "Pain is a reason to stop",
	} {
		require.Contains(t, md, want)
	}
	page, err := c.HTML()
	require.NoError(t, err)
	require.NotContains(t, string(page), "<of>")
	require.NotContains(t, strings.ToLower(string(page)), "http")
	require.NotContains(t, string(page), "ZgotmplZ", "a look that the template takes for unsafe")
	require.Contains(t, string(page), "the composer&#39;s 2; ours 3 (kp).")
	require.Contains(t, string(page), `<span style="font-style:italic;">3</span>`)
	require.Equal(t, md, string(c.Markdown()))
}

// Where several play, each player's hands are told apart.
func TestPlayers(t *testing.T) {
	c := commentary.New(&corpus.Collection{})
	note := func(n int, part string, h score.Hand, finger int) state.Note {
		return state.Note{
			N: n, Part: part, Measure: "3", MeasureIndex: 2, Pitch: "C5", Midi: 72, Hand: h, Finger: finger,
			Source: []state.Source{{Text: "2", Responsibility: score.Composer}},
		}
	}
	c.Add(
		&corpus.Piece{ID: "a"},
		&state.Result{
			Piece: "a",
			Notes: []state.Note{
				note(0, "P9", score.Right, 3), note(1, "P9", score.Left, 2), note(2, "P1", score.Right, 4),
			},
		},
		policies.Default(), beats,
	)
	md := string(c.Markdown())
	for _, want := range []string{
		"on 3 notes: player 1, right hand, m. 3; player 1, left hand, m. 3; player 2, right hand, m. 3.",
		"m. 3, player 1, right hand, beat 1, C5: the composer's 2; ours 3.",
		"m. 3, player 2, right hand, beat 1, C5: the composer's 2; ours 4.",
	} {
		require.Contains(t, md, want)
	}
}

// A redistribution that was decided without a reason, a return fingered alike after all, a grace note, and what is
// printed by whose it is; of an edition for press.
func TestForPress(t *testing.T) {
	c := commentary.New(&corpus.Collection{})
	note := func(n int, part string, whose score.Responsibility) state.Note {
		return state.Note{
			N: n, Part: part, Measure: "3", MeasureIndex: 2, Pitch: "C5", Midi: 72, Hand: score.Right, Finger: 3,
			Printed: whose != score.Open, Responsibility: whose,
		}
	}
	grace := note(3, "P1", score.Editor)
	grace.Grace, grace.Source = 1, []state.Source{{Text: "2", Responsibility: score.Composer}}
	c.Add(
		&corpus.Piece{ID: "a"},
		&state.Result{
			Piece: "a", Summary: state.Summary{Hand: "ninth hand (210 mm)", Press: true},
			Notes: []state.Note{
				note(0, "P1", score.Earlier), note(1, "P2", score.Editor), note(2, "P2", score.Open), grace,
			},
			Redistributions: []state.Redistribution{
				{To: score.Left, Decided: true, Notes: []state.RedistributedNote{{N: 1, Finger: 2}}},
			},
			Returns: []state.Return{{
				First: state.ReturnPassage{Measure: "1", ToMeasure: "1", Beat: "1", Hand: score.Right},
				Later: state.ReturnPassage{Measure: "3", ToMeasure: "3", Beat: "1", Hand: score.Right},
				Apart: true, Notes: 4, Alike: 4,
			}},
		},
		policies.Default(), beats,
	)
	md := string(c.Markdown())
	for _, want := range []string{
		"Fingered for the ninth hand (210 mm). For press: only digits that were decided are printed.",
		"m. 3, beat 1: the left hand of player 2 takes C5 (2). Reason: decided by the editor.",
		"m. 3, player 1, right hand, grace note at beat 1, C5: the composer's 2; ours 3.",
		"m. 3, beat 1, right hand returns from m. 1, beat 1, right hand and is fingered for itself, note for note " +
			"with " +
			"the same fingers all the same.",
		"| a | 4 | 3 | 0 | 1 | 2 | 1 |",
	} {
		require.Contains(t, md, want)
	}
}

// A folder without a manifest has no title; two styles of one name are told
// apart, and each piece names its own.
func TestHeadingsAndStyles(t *testing.T) {
	c := commentary.New(&corpus.Collection{})
	for k, text := range []string{
		"extends: performance\n", "extends: performance\nmarks: {editor: {colour: \"#AA0000\"}, open: {size: 7.5}}\n",
	} {
		path := filepath.Join(t.TempDir(), []string{"policy.yaml", "second.yaml"}[k])
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		p, err := policies.Load(path)
		require.NoError(t, err)
		c.Add(&corpus.Piece{ID: "a"}, &state.Result{Piece: "a", Notes: []state.Note{
			{Printed: true, Finger: 1, Responsibility: score.Editor}, {N: 1, Printed: true, Finger: 1, Responsibility: score.Open},
		}}, p, nil)
	}
	c.Fail(&corpus.Piece{ID: "b"}, errors.New("no score\nhint: none"))
	md := string(c.Markdown())
	require.True(t, strings.HasPrefix(md, "# Editorial commentary\n"), md[:60])
	for _, want := range []string{
		"(performance)", "(performance, second.yaml)", "House style: performance\n",
		"House style: performance, second.yaml\n", "Nothing to remark.", "Could not be worked on: no score\n",
	} {
		require.Contains(t, md, want)
	}
	page, err := c.HTML()
	require.NoError(t, err)
	require.Contains(t, string(page), `style="font-style:italic;font-size:small;color:#AA0000;"`)
	require.Contains(t, string(page), `style="font-style:italic;font-size:7.5pt;"`)
}
