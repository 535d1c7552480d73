package page_test

import (
	"strings"
	"testing"

	"fingerproof/pipeline/4_services/review"
	"fingerproof/reports/page"

	"github.com/stretchr/testify/require"
)

// A page says that its piece was passed as soon as it is, and a finding in a measure without notes has a list of notes all
// the same: the script goes through it.
func TestAPageIsToldThatItsPieceWasPassed(t *testing.T) {
	m := page.Of(demoRun(t, "op7-nocturne"), "passed")
	m.Passages = append(m.Passages, review.Passage{Number: 900, Redistribution: -1})
	html, err := page.Piece(m)
	require.NoError(t, err)
	require.NotContains(t, string(html), `"notes":null`)
	require.Contains(t, string(html), "<span data-passed>not yet</span>")
	html = page.PassedSince(html, "AB", "2026-03-01")
	require.NotContains(t, string(html), "<span data-passed>not yet</span>")
	require.Equal(t, 2, strings.Count(string(html), "passed for press: 2026-03-01 by AB"), "in its head, and among its facts")
}
