package page_test

import (
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fingerproof/corpus/shared/browsertest"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/reports/page"

	"github.com/chromedp/cdproto/emulation"
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
		require.NoError(t, chromedp.Run(
			ctx, emulation.SetDeviceMetricsOverride(1366, 768, 1, false),
			chromedp.Navigate((&url.URL{Scheme: "file", Path: file}).String()),
		))
	}
	saved := func() []decision.Decision {
		data, err := os.ReadFile(save(t, ctx, "AB"))
		require.NoError(t, err)
		out, _, err := decision.Parse("decisions/op7-nocturne.AB.yaml", data)
		require.NoError(t, err, string(data))
		return out
	}
	const marks = `[...document.querySelectorAll(".passage")].map((c) => ` +
		`JSON.parse(document.getElementById("data").textContent).passages[c.dataset.number].mark).join(" ")`
	open(nil)
	require.NoError(t, chromedp.Run(ctx, browsertest.Forget()))
	press(t, ctx, "t", "t")
	first, judged := saved(), strings.Fields(text(t, ctx, marks))[:2]
	require.GreaterOrEqual(t, len(first), 2)

	open(first)
	for _, mark := range judged {
		require.NotContains(t, text(t, ctx, marks), mark, "what is decided is not judged again")
	}
	require.Len(t, saved(), len(first), "the browser still knows them")
	require.NoError(t, chromedp.Run(ctx, browsertest.Forget()))
	require.Len(t, saved(), len(first), "another browser does not")
	press(t, ctx, "t", "t", "t")
	third := saved()
	require.Greater(t, len(third), len(first))
	for i, d := range first {
		d.Line, third[i].Line = 0, 0
		require.Equal(t, decision.Entry(d), decision.Entry(third[i]))
	}
}

// People write remarks into the head of a file. What is saved below it again is written as below one without, once, and
// bears the check by which the program knows its head.
func TestTheHeadOfAFileMayHoldRemarks(t *testing.T) {
	ctx := openBrowser(t)
	open := func(decisions []decision.Decision) {
		w := demoRun(t, "op7-nocturne")
		again := &pipeline.PieceRun{
			Piece: w.Piece, Data: w.Data, Policy: w.Policy, Weights: w.Weights, Edition: w.Edition, Decisions: decisions,
		}
		require.NoError(t, pipeline.RunPiece(again))
		html, err := page.Piece(page.Of(again, "remarks"))
		require.NoError(t, err)
		file := filepath.Join(t.TempDir(), "page.html")
		require.NoError(t, os.WriteFile(file, html, 0o644))
		require.NoError(t, chromedp.Run(ctx, chromedp.Navigate((&url.URL{Scheme: "file", Path: file}).String())))
	}
	open(nil)
	require.NoError(t, chromedp.Run(ctx, browsertest.Forget()))
	press(t, ctx, "t", "t")
	plain, err := os.ReadFile(save(t, ctx, "AB"))
	require.NoError(t, err)
	remark := regexp.MustCompile(`(?m)^(when: .*|measures:|  - m\. \S+: .*)$`).ReplaceAll(plain, []byte("$1 # of the day"))
	require.GreaterOrEqual(t, strings.Count(string(remark), " # of the day"), 3)
	all, _, err := decision.Parse("decisions/op7-nocturne.AB.yaml", remark)
	require.NoError(t, err)
	open(all) // and the browser knows them still
	press(t, ctx, "t", "t")
	again, err := os.ReadFile(save(t, ctx, "AB"))
	require.NoError(t, err)
	require.True(t, strings.HasPrefix(string(again), string(remark)), "%s", again)
	added := strings.TrimPrefix(string(again), string(remark))
	require.NotEmpty(t, added)
	require.NotContains(t, added, "    when: ")
	require.Regexp(t, `(?m)^    \d+\*[0-9a-f]{3}: `, added)
	got, _, err := decision.Parse("decisions/op7-nocturne.AB.yaml", again)
	require.NoError(t, err)
	require.Equal(t, len(all)+strings.Count(added, "  - "), len(got))
}
