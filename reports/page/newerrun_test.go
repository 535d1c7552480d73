package page_test

import (
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared/browsertest"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/reports/page"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// What was judged in the browser and saved is not judged any more where a newer run, which has read the file, asks it
// again; what was not saved, or not put into the folder yet, stays judged.
func TestANewerRunAsksAgainWhatItAsks(t *testing.T) {
	ctx, w, dir := openBrowser(t), demoRun(t, "op12-3-impromptu"), t.TempDir()
	write := func(held string) {
		m := page.Of(w, "newer run")
		if held != "" {
			m.Decided = map[string]decision.File{"AB": {Entries: held}}
		}
		html, err := page.Piece(m)
		require.NoError(t, err)
		index := page.NewIndex(&corpus.Collection{Title: "newer run"})
		index.Add(page.EntryOf(m))
		files, err := index.Render()
		require.NoError(t, err)
		for _, f := range append(files, page.File{Name: page.FileName("op12-3-impromptu"), Data: html}) {
			require.NoError(t, os.WriteFile(filepath.Join(dir, f.Name), f.Data, 0o644))
		}
	}
	visit := func(name string) {
		require.NoError(t, chromedp.Run(ctx, chromedp.Navigate(
			(&url.URL{Scheme: "file", Path: filepath.Join(dir, name)}).String(),
		)))
	}
	const name = "op12-3-impromptu.html"
	onIndex := func() [2]int {
		visit("index.html")
		return [2]int{
			number(t, ctx, `document.getElementById("open").textContent`),
			number(t, ctx, `document.getElementById("judged").textContent`),
		}
	}

	write("")
	require.NoError(t, chromedp.Run(ctx, emulation.SetDeviceMetricsOverride(1366, 768, 1, false)))
	visit(name)
	require.NoError(t, chromedp.Run(ctx, browsertest.Forget()))
	all := number(t, ctx, undone)
	press(t, ctx, "q", "w", "h", "y", "Enter", "q", "o", "r", "Enter")
	require.Equal(t, all-2, number(t, ctx, undone))
	require.Equal(t, [2]int{all - 2, 2}, onIndex())
	visit(name)
	data, err := os.ReadFile(save(t, ctx, "AB"))
	require.NoError(t, err)
	_, held, found := strings.Cut(string(data), "decisions:\n")
	require.True(t, found)
	require.Equal(t, [2]int{all - 2, 2}, onIndex(), "saved, and not run again")

	// Run again without the file: what is in the browser is all there is.
	visit(name)
	require.Equal(t, all-2, number(t, ctx, undone))

	// One more, not saved; then the file is put into the folder, and the run asks all of it again.
	press(t, ctx, "q", "n", "e", "w", "Enter")
	require.Equal(t, all-3, number(t, ctx, undone))
	write(held)
	require.Equal(t, [2]int{all - 1, 1}, onIndex(), "before the page is opened")
	visit(name)
	require.Equal(t, all-1, number(t, ctx, undone))
	require.Contains(t, text(t, ctx, said), "asks again")
	require.Equal(t, [2]int{all - 1, 1}, onIndex(), "and behind it")
	visit(name)
	again, err := os.ReadFile(save(t, ctx, "AB"))
	require.NoError(t, err)
	require.Contains(t, string(again), held, "nothing of the file is lost")
	require.Equal(t, 1, strings.Count(string(again), `why: "why"`), "and nothing is written twice")
	require.Equal(t, 1, strings.Count(string(again), `why: "new"`))

	// An entry that was mended by hand in the file is not what the browser keeps: asked again, it is open.
	write(strings.Replace(string(again)[strings.Index(string(again), "decisions:\n")+len("decisions:\n"):],
		`why: "new"`, `why: "mended"`, 1))
	visit(name)
	require.Equal(t, all, number(t, ctx, undone))
	last, err := os.ReadFile(save(t, ctx, "AB"))
	require.NoError(t, err)
	require.NotContains(t, string(last), `why: "new"`)
}
