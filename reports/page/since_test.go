package page_test

import (
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"fingerproof/corpus/shared/browsertest"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// A page marks where the page before it asked nothing of the hand, and marks nothing on the first page of a piece.
func TestAPageMarksWhatIsNewSinceThePageBefore(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op7-nocturne")
	file := filepath.Join(t.TempDir(), page.FileName("op7-nocturne"))
	m := page.Of(w, "since")
	whole := m.Passages
	visit := func(passages []review.Passage) int {
		m.Passages = passages
		html, err := page.Piece(m)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(file, html, 0o644))
		require.NoError(t, chromedp.Run(ctx, chromedp.Navigate((&url.URL{Scheme: "file", Path: file}).String())))
		return number(t, ctx, `[...document.querySelectorAll(".passage")].filter((c) => c.textContent.includes("asked nothing of this hand here")).length`)
	}
	visit(whole)
	require.NoError(t, chromedp.Run(ctx, browsertest.Forget()))
	some := whole[:len(whole)/2]
	visit(some)
	require.Zero(t, visit(some), "a page that is read again")
	want := 0
	for _, p := range whole[len(whole)/2:] {
		if p.Redistribution < 0 && p.ReturnOf == 0 && len(p.Doubts)+len(p.Open) > 0 && !slices.ContainsFunc(some, func(o review.Passage) bool {
			return o.Redistribution < 0 && o.Hand == p.Hand && o.First <= p.Last && o.Last >= p.First
		}) {
			want++
		}
	}
	require.NotZero(t, want)
	// The browser remembers the whole page as read before the half of it: what is asked now stood on neither of the two last.
	require.NoError(t, chromedp.Run(ctx, browsertest.Forget()))
	require.Zero(t, visit(some))
	require.Equal(t, want, visit(whole))
	require.Equal(t, want, visit(whole), "a page that is read again says the same")
}
