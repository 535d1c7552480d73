package page_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fingerproof/reports/engrave"
	"fingerproof/reports/page"

	"github.com/chromedp/cdproto/emulation"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// What an editor looks at is what the browser prints: the whole score alone, all systems at the paper's full width, no page
// ending within one. A page of the browser is 96 pixels an inch.
func TestTheWholeScorePrintsAsAProof(t *testing.T) {
	ctx := openBrowser(t)
	press_, err := engrave.Open(context.Background(), engrave.Options{
		Package: engrave.FindPackage("../engrave"), CacheDir: filepath.Join(os.TempDir(), "fingerproof-engraver-test"),
	})
	if err != nil {
		t.Skip(err)
	}
	defer press_.Close(context.Background())
	worker, err := press_.Worker(context.Background())
	require.NoError(t, err)
	const millimetre = 96 / 25.4
	for _, id := range []string{"op9-3-romance", "op7-nocturne"} {
		w := demoRun(t, id)
		m := page.Of(w, "proof")
		require.NoError(t, m.DrawScore(context.Background(), worker, w, nil))
		openPage(t, ctx, m)
		press(t, ctx, "v")
		var pdf []byte
		require.NoError(t, chromedp.Run(ctx, chromedp.ActionFunc(func(ctx context.Context) (err error) {
			pdf, _, err = cdppage.PrintToPDF().WithPreferCSSPageSize(true).WithPaperWidth(8.27).WithPaperHeight(11.69).Do(ctx)
			return err
		})))
		pages := bytes.Count(pdf, []byte("/Type /Page\n"))
		// The systems of the proof, at the width that its margins leave of A4, fill these pages: none is lost to words.
		var heights []float64
		require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`[...document.querySelectorAll("#pages svg.engraving")].map((s) => {
			const v = s.viewBox.baseVal; return v.height / v.width })`, &heights)))
		require.Len(t, heights, len(m.Score.Systems))
		need, at := 1, 45*millimetre // title and legend stand above the first
		for _, h := range heights {
			h *= 186 * millimetre
			if at+h > (297-27)*millimetre {
				need, at = need+1, 0
			}
			at += h + 4*millimetre
		}
		require.LessOrEqual(t, pages, need, id)
		require.GreaterOrEqual(t, pages, need-1, id)
		t.Logf("%s: %d systems on %d pages", id, len(heights), pages)

		// On paper nothing else is there, and every system has the same width.
		printed := onPaper(t, ctx, `[...document.querySelectorAll("h1, #judge, #folds, .caution, .desk, nav, #score-title, .legend")]
			.filter((e) => e.getClientRects().length > 0).map((e) => e.id || e.localName).join(" ")`)
		require.NotContains(t, printed, "judge")
		require.Equal(t, "h1", strings.TrimSuffix(printed, " ul"))
		widths := onPaper(t, ctx, `[...new Set([...document.querySelectorAll("#pages svg.engraving")].map((s) => Math.round(s.getBoundingClientRect().width)))].join(" ")`)
		_, err = strconv.Atoi(widths)
		require.NoError(t, err, "one width: %s", widths)

		// The passages print with everything, as before.
		press(t, ctx, "v")
		require.Contains(t, onPaper(t, ctx, `[...document.querySelectorAll("#judge, #score")].filter((e) => e.getClientRects().length > 0).map((e) => e.id).join(" ")`), "judge")
	}
}

// onPaper asks the page as it is laid out for print.
func onPaper(t *testing.T, ctx context.Context, expression string) (out string) {
	t.Helper()
	require.NoError(t, chromedp.Run(
		ctx, emulation.SetEmulatedMedia().WithMedia("print"), chromedp.Evaluate("String("+expression+")", &out),
		emulation.SetEmulatedMedia().WithMedia(""),
	))
	return out
}
