package page_test

import (
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/reports/page"

	"github.com/stretchr/testify/require"
)

// A page says that its piece was passed as soon as it is, and a finding in a measure without notes has a list of notes all
// the same: the script goes through it.
func TestAPageIsToldThatItsPieceWasPassed(t *testing.T) {
	m := page.Of(demoRun(t, "op7-nocturne"), "passed")
	m.Passages = append(m.Passages, review.Passage{Number: 900, Redistribution: -1})
	m.Score.Systems = []string{`<svg class="engraving"><g class="fing asked altered" data-startid="#n1"></g></svg>`}
	m.Changes = []page.Change{{N: 1, Cause: "decisions"}}
	html, err := page.Piece(m)
	require.NoError(t, err)
	require.NotContains(t, string(html), `"notes":null`)
	require.Contains(t, string(html), `class="fing asked altered"`)
	require.Contains(t, string(html), "A frame: differs from what was last passed")
	require.Contains(t, string(html), "<span data-passed>not yet</span>")
	html = page.PassedSince(html, "AB", "2026-03-01")
	require.NotContains(t, string(html), "<span data-passed>not yet</span>")
	require.Equal(t, 3, strings.Count(string(html), "passed for press: 2026-03-01 by AB"), "in its head, above its score, and among its facts")
	require.Contains(t, string(html), `class="fing asked"`, "it stands as it was passed")
	require.NotContains(t, string(html), "A frame: differs")
}

// In a piece that stands as it was passed nothing is called open but what would print: a finding on which nobody has said a
// word is said as just that, in the index and on its page. Once something differs it is open again.
func TestWhatNobodySaidAWordOnInAPieceThatWasPassed(t *testing.T) {
	m := page.Of(demoRun(t, "op7-nocturne"), "passed")
	m.Result.Findings = append(m.Result.Findings, state.Finding{Rule: "wide-span", Severity: "note"})
	m.Passages = []review.Passage{
		{Number: 1, Findings: []int{len(m.Result.Findings) - 1}, Redistribution: -1, Notes: []int{0}}, {Number: 2, Redistribution: -1, Notes: []int{1}},
	}
	indexOf := func(passed page.Passed) string {
		m.Passed = passed
		index := page.NewIndex(&corpus.Collection{Title: "passed"})
		index.Add(page.EntryOf(m))
		files, err := index.Render()
		require.NoError(t, err)
		return string(files[0].Data)
	}
	as := indexOf(page.Passed{By: "AB", When: "2026-03-01"})
	require.Contains(t, as, `<span class="open-count">0</span>`)
	require.Contains(t, as, "1 finding on which nobody has said a word; 1 passage in doubt where no digit prints")
	require.Contains(t, as, "in them 1 finding on which nobody has said a word")
	for _, other := range []page.Passed{{}, {By: "AB", When: "2026-03-01", Differs: true}} {
		changed := indexOf(other)
		require.Contains(t, changed, `<span class="open-count">2</span>`)
		require.NotContains(t, changed, "nobody has said a word")
	}
	m.Passages[0].Open = []int{0} // passed anyway, with an open digit
	require.Contains(t, indexOf(page.Passed{By: "AB", When: "2026-03-01"}), `<span class="open-count">1</span>`)
}
