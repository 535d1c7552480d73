package page_test

import (
	"testing"

	"fingerproof/corpus"
	"fingerproof/reports/page"

	"github.com/stretchr/testify/require"
)

// What was not compared does not stand and does not fail to: the index counts apart what this run found, what an earlier run
// found, and what nobody could compare.
func TestTheIndexCountsApartWhatItDidNotCompare(t *testing.T) {
	m := page.Of(demoRun(t, "op3-1-scales"), "passed")
	passed := page.Passed{By: "AB", When: "2026-03-01"}
	indexOf := func(state page.Passed, then ...func(*page.Entry)) string {
		m.Passed = state
		e := page.EntryOf(m)
		for _, do := range then {
			do(e)
		}
		index := page.NewIndex(&corpus.Collection{Title: "passed"})
		index.Add(e)
		files, err := index.Render()
		require.NoError(t, err)
		return string(files[0].Data)
	}
	unlike := passed
	unlike.Unlike = true
	require.Contains(t, indexOf(passed), "<dd>1 of 1 piece stood as it was passed")
	require.Contains(t, indexOf(unlike), "<dd>1 piece passed and not compared: passed with or without --press, unlike the run")
	asEarlier := func(e *page.Entry) { e.AsEarlier("") }
	left := indexOf(passed, asEarlier)
	require.Contains(t, left, "<dd>1 stood so when an earlier run compared, and were not compared now")
	require.Contains(t, left, "2026-03-01 by AB; not compared by this run</td>")
	require.Contains(t, left, "as an earlier run left it, not looked at by this one")
	changed := indexOf(passed, func(e *page.Entry) { e.AsEarlier("the score has changed") })
	require.Contains(t, changed, "<dd>1 stood so when an earlier run compared, and may not any more: marked below</dd>")
	require.Contains(t, changed, "not looked at by this one; since then: the score has changed</span>")
	anew := indexOf(unlike, asEarlier, func(e *page.Entry) { e.PassedBy("CD", "2026-04-01") })
	require.Contains(t, anew, "<dd>1 of 1 piece stood as it was passed", "pass works each piece out anew")
	require.NotContains(t, anew, "earlier run")
}
