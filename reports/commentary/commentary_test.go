package commentary_test

import (
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/state"
	"fingerproof/policies"
	"fingerproof/reports/commentary"

	"github.com/stretchr/testify/require"
)

func TestCommentaryTellsWhatAnEditorAsks(t *testing.T) {
	c := commentary.New(&corpus.Collection{Title: "Pieces <of> mine", Composer: "Nobody"})
	p := &corpus.Piece{ID: "a", Witnesses: []corpus.Witness{{Siglum: "B", Numbering: corpus.Old, Responsibility: "composer"}}}
	r := &state.Result{Piece: "a", Notes: []state.Note{
		{N: 0, Measure: "1", Pitch: "C#5", Hand: score.Right, Finger: 3, Printed: true, Responsibility: score.Composer, Source: []state.Source{
			{Text: "2", Responsibility: score.Composer}, {Text: "+", Fingers: []int{1}, Responsibility: score.Composer, Witnesses: []string{"B"}, WitnessOnly: true}}},
		{N: 1, Measure: "2", Pitch: "C4", Hand: score.Left, Finger: 1},
	}, Redistributions: []state.Redistribution{{To: score.Right, Reason: "span", Decided: true, Notes: []state.RedistributedNote{{N: 1, Finger: 1}}}},
		Returns:  []state.Return{{Apart: true}},
		Findings: []state.Finding{{Rule: "decision-query", Measure: "2", Message: "kp asks: really?"}},
	}
	c.Add(p, r, policies.Default())
	md := string(c.Markdown())
	for _, want := range []string{
		"Pieces &lt;of> mine", "| italic | the composer's |", "B: fingers numbered + 1 2 3 4", "m. 1, right hand, C♯5: the composer's 2; ours 3.",
		"m. 1, right hand, C♯5: text 2; B 1.", "m. 2: the right hand takes C4 (1) (decided): span.", "is fingered for itself", "m. 2: kp asks: really?",
		"2 notes, 1 of them with a digit in print (50 %): 1 the composer's", "Pain is a reason to stop",
	} {
		require.Contains(t, md, want)
	}
	page, err := c.HTML()
	require.NoError(t, err)
	require.NotContains(t, string(page), "<of>")
	require.NotContains(t, strings.ToLower(string(page)), "http")
	require.Contains(t, string(page), "the composer&#39;s 2; ours 3.")
	require.Equal(t, md, string(c.Markdown()))
}
