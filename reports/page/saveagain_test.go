package page_test

import (
	"net/url"
	"os"
	"path/filepath"
	"testing"

	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// What a file of decisions holds already stays in it when the page of the next run saves over it, from the same
// browser or from another one; nothing is written twice.
func TestSavingAgainLosesNothing(t *testing.T) {
	ctx := openBrowser(t)
	open := func(decisions []decision.Decision) {
		w := demoRun(t, "op7-nocturne")
		again := &pipeline.PieceRun{
			Piece: w.Piece, Data: w.Data, Policy: w.Policy, Weights: w.Weights, Edition: w.Edition,
			Decisions: decisions,
		}
		require.NoError(t, pipeline.RunPiece(again))
		html, err := page.Piece(page.Of(again, "saved again"))
		require.NoError(t, err)
		file := filepath.Join(t.TempDir(), "page.html")
		require.NoError(t, os.WriteFile(file, html, 0o644))
		require.NoError(t, chromedp.Run(ctx, chromedp.Navigate((&url.URL{Scheme: "file", Path: file}).String())))
	}
	saved := func() []decision.Decision {
		data, err := os.ReadFile(save(t, ctx, "AB"))
		require.NoError(t, err)
		out, _, err := decision.Parse("decisions/op7-nocturne.AB.yaml", data)
		require.NoError(t, err, string(data))
		return out
	}
	const passages = `document.querySelectorAll(".passage").length`
	open(nil)
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate("localStorage.clear()", nil), chromedp.Reload()))
	press(t, ctx, "n", "t", "t")
	first, toJudge := saved(), text(t, ctx, passages)
	require.Len(t, first, 2)

	open(first)
	require.NotEqual(t, toJudge, text(t, ctx, passages), "what is decided is not judged again")
	require.Len(t, saved(), 2, "the browser still knows them")
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate("localStorage.clear()", nil), chromedp.Reload()))
	require.Len(t, saved(), 2, "another browser does not")
	press(t, ctx, "n", "t", "n", "t", "n", "t")
	third := saved()
	require.Greater(t, len(third), 2)
	for i, d := range first {
		d.Line, third[i].Line = 0, 0
		require.Equal(t, decision.Entry(d), decision.Entry(third[i]))
	}

}
