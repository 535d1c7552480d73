package page_test

import (
	"testing"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/reports/page"

	"github.com/stretchr/testify/require"
)

// A passage beside decided digits says which of its digits came out otherwise than before anything was decided, with both; one
// whose digits are the same says nothing of it.
func TestDigitsThatChangedWithDecisionsAreNamed(t *testing.T) {
	m := page.Of(demoRun(t, "op7-nocturne"), "changed")
	m.InFiles, m.Decided = map[string]int{"AB": 1}, map[string]decision.File{}
	var n int
	for i := range m.Result.Notes {
		if e := &m.Result.Notes[i]; e.Confidence != nil && e.Finger > 0 && len(e.Substitution) == 0 {
			n = i
			break
		}
	}
	e := &m.Result.Notes[n]
	m.Passages = []review.Passage{{Number: 1, Redistribution: -1, Hand: e.Hand, First: e.MeasureIndex, Last: e.MeasureIndex, Notes: []int{e.N}, Strokes: []int{0}, Doubts: []int{e.N}}}
	m.AtFirst = make([][]int, len(m.More))
	m.AtFirst[e.N] = []int{e.Finger}
	html, err := page.Piece(m)
	require.NoError(t, err)
	require.NotContains(t, string(html), "has changed with decisions beside it")
	require.Contains(t, string(html), "the others are suggested as they were before anything was decided")
	m.AtFirst[e.N] = []int{e.Finger%5 + 1}
	html, err = page.Piece(m)
	require.NoError(t, err)
	require.Contains(t, string(html), "Asked because what is suggested has changed with decisions beside it: "+e.Pitch)
}
