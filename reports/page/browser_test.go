package page_test

import (
	"context"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/shared/browsertest"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/reports/page"

	"github.com/beevik/etree"
	"github.com/chromedp/cdproto/emulation"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

func TestMain(m *testing.M) { browsertest.Main(m) }

func openBrowser(t testing.TB) context.Context { return browsertest.Open(t) }

func text(t *testing.T, ctx context.Context, expression string) string {
	t.Helper()
	return browsertest.Text(t, ctx, expression)
}

func press(t *testing.T, ctx context.Context, keys ...string) {
	t.Helper()
	browsertest.Press(t, ctx, keys...)
}

// demoPages writes the pages of two pieces and the collection's into a folder, and gives it as an address.
func demoPages(t testing.TB) string {
	dir := t.TempDir()
	index := page.NewIndex(&corpus.Collection{Title: "demo", Invented: "All of it is invented."})
	for _, id := range []string{"op7-nocturne", "op9-3-romance"} {
		m := page.Of(demoRun(t, id), "demo")
		html, err := page.Piece(m)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, page.FileName(id)), html, 0o644))
		index.Add(page.EntryOf(m))
	}
	files, err := index.Render()
	require.NoError(t, err)
	for _, f := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, f.Name), f.Data, 0o644))
	}
	return (&url.URL{Scheme: "file", Path: dir}).String()
}

// An editor judges with keys alone, undoes, leaves the page and finds everything there again, and saves a file.
func TestAnEditorDecidesByKeys(t *testing.T) {
	ctx, at := openBrowser(t), demoPages(t)
	require.NoError(t, chromedp.Run(
		ctx, emulation.SetDeviceMetricsOverride(1280, 720, 1, false), chromedp.Navigate(at+"/op7-nocturne.html"),
	))
	require.NoError(t, chromedp.Run(ctx, browsertest.Forget()))
	const count, state = `document.getElementById("count").textContent`, `document.querySelector(".passage.here .state").textContent`
	require.Contains(t, text(t, ctx, count), "0 of ")

	// The first passage is open and in view before any key.
	first := text(t, ctx, `document.querySelector(".passage.here").dataset.number`)
	require.Equal(t, "true", text(
		t, ctx, `document.querySelector(".passage.here").getBoundingClientRect().top < innerHeight / 2`,
	))
	hereOnly := func() { // what goes to like places too is tried by itself
		if text(t, ctx, `String(!!document.querySelector(".passage.here .too:checked"))`) == "true" {
			press(t, ctx, "r")
		}
	}
	hereOnly()
	press(t, ctx, "t") // and on to the next
	require.Contains(t, text(t, ctx, count), "1 of ")
	require.NotEqual(t, first, text(t, ctx, `document.activeElement.dataset.number`))
	press(t, ctx, "u")
	require.Contains(t, text(t, ctx, count), "0 of ")
	require.Equal(t, first, text(t, ctx, `document.activeElement.dataset.number`), "undo leads back")
	press(t, ctx, "t")
	require.Contains(t, text(t, ctx, count), "1 of ")

	// A key decides nothing on a passage that is not seen: it brings it into view.
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`scrollTo(0, document.body.scrollHeight)`, nil)))
	press(t, ctx, "t")
	require.Contains(t, text(t, ctx, count), "1 of ")
	require.Contains(t, text(t, ctx, `document.getElementById("said").textContent`), "in view now")
	hereOnly()

	// A verb that asks for words takes them at once, and a verb behind a reason is not swallowed.
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`scrollTo(0, document.body.scrollHeight)`, nil)))
	press(t, ctx, "q")
	require.Equal(t, "true", text(t, ctx, `document.activeElement.matches(".passage.here .reason")`))
	press(t, ctx, "\x1b")
	press(t, ctx, "y")
	press(t, ctx, "w")
	press(t, ctx, "\r")
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`scrollTo(0, document.body.scrollHeight)`, nil)))
	press(t, ctx, "t")
	require.Contains(t, text(t, ctx, count), "2 of ")
	press(t, ctx, "u")
	require.Contains(t, text(t, ctx, count), "1 of ")

	// Amend: the first doubt gets the finger that is the next best choice, and the passage that follows appears.
	press(t, ctx, "a")
	second := text(t, ctx, `document.querySelector(".passage.here").dataset.number`)
	note := text(t, ctx, `document.activeElement.dataset.note`)
	other := text(t, ctx, `JSON.parse(document.getElementById("data").textContent).choices[`+note+`][0].f`)
	press(t, ctx, other)
	require.Equal(t, "changed, not kept", text(t, ctx, state))
	require.Equal(t, other, text(
		t, ctx, `document.querySelector('.passage.here .finger[data-note="`+note+`"] b').textContent`,
	))
	moved := text(t, ctx, `document.querySelectorAll(".passage.here .finger.changed").length`)
	require.NotEqual(t, "0", moved)
	press(t, ctx, "a")
	require.Contains(t, text(t, ctx, count), "2 of ")

	// A query needs its question: the key leads to the field, and a button asks.
	press(t, ctx, "q")
	require.Equal(t, "reason", text(t, ctx, `document.activeElement.className`))
	press(t, ctx, "w", "h", "o", "?", "Escape")
	require.Equal(t, "who?", text(t, ctx, `document.querySelector(".passage.here .reason").value`))
	press(t, ctx, "q")
	require.Contains(t, text(t, ctx, count), "3 of ")

	// The page is left and opened again; the index counts.
	require.NoError(t, chromedp.Run(ctx, chromedp.Navigate(at+"/index.html")))
	require.Equal(t, "3", text(t, ctx, `document.getElementById("judged").textContent`))
	require.NoError(t, chromedp.Run(ctx, chromedp.Navigate(at+"/op7-nocturne.html")))
	require.Contains(t, text(t, ctx, count), "3 of ")
	require.Equal(t, "amended", text(t, ctx, `document.querySelector("#p`+second+` .state").textContent`))

	file := save(t, ctx, "AB")
	require.Equal(t, "op7-nocturne.AB.yaml", filepath.Base(file))
	checkDecisions(t, file, moved)
}

// save presses Save decisions and waits for the file.
func save(t *testing.T, ctx context.Context, initials string) string {
	t.Helper()
	return browsertest.Saved(t, ctx, ".yaml",
		chromedp.Evaluate(`document.getElementById("initials").value = ""`, nil),
		chromedp.SendKeys("#initials", initials, chromedp.ByQuery), chromedp.Click("#save", chromedp.ByQuery),
	)
}

func checkDecisions(t *testing.T, file, moved string) {
	t.Helper()
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	all, piece, err := decision.Parse(file, data)
	require.NoError(t, err, string(data))
	require.Equal(t, "op7-nocturne", piece)
	whole, err := decision.Append(file, nil, piece, "AB", decision.NewFinder(demoRun(t, "op7-nocturne").Score).Table(), all[:1])
	require.NoError(t, err)
	head := func(text string) string {
		return text[strings.Index(text, "\nmeasures:"):strings.Index(text, "\ndecisions:")]
	}
	require.Equal(t, head(string(whole)), head(string(data)), "the measures as the program writes them")
	require.NotContains(t, string(data), "    landmarks: ")
	require.Regexp(t, `(?m)^    \d+\*[0-9a-f]{3}: `, string(data))
	require.Regexp(t, `\d\.\.\S+ by \d`, string(data))
	require.Equal(t, "AB", all[0].By)
	require.Equal(t, "notes", string(all[0].On))
	require.Equal(t, decision.Take, all[0].Verb)
	w := demoRun(t, "op7-nocturne")
	f := decision.NewFinder(w.Score)
	for _, d := range all {
		for i := range d.Notes {
			n, why, _ := f.Find(&d.Notes[i])
			require.GreaterOrEqual(t, n, 0, "%s: %s", d.Place(), why)
			ref := f.Ref(n, nil)
			require.Equal(t, ref.Landmarks, d.Notes[i].Landmarks, "as the program writes them: %s", d.Written)
			require.Equal(t, ref.Around.Music[:8], d.Notes[i].Around.Music)
			require.NotEmpty(t, d.Notes[i].Near)
		}
	}
	for _, n := range all[0].Notes {
		require.NotEmpty(t, n.Fingers)
	}
	amended := all[1]
	require.Equal(t, decision.Amend, amended.Verb)
	shown, err := strconv.Atoi(moved)
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(amended.Notes), shown, "the passage is stored, not the digit alone")
	last := all[len(all)-1]
	require.Equal(t, decision.Query, last.Verb)
	require.Equal(t, "who?", last.Why)
}

func TestTheIndexFiltersSearchesAndSorts(t *testing.T) {
	ctx, at := openBrowser(t), demoPages(t)
	const visible = `[...document.querySelectorAll("#pieces tbody tr:not([hidden])")].map((r) => r.dataset.title).join("|")`
	require.NoError(t, chromedp.Run(
		ctx, chromedp.Navigate(at+"/index.html"), chromedp.SendKeys("#search", "romance", chromedp.ByQuery),
	))
	require.Contains(t, text(t, ctx, visible), "omance")
	require.NotContains(t, text(t, ctx, visible), "|")
	require.Equal(t, "1 of 2 pieces", text(t, ctx, `document.getElementById("shown").textContent`))
	require.NoError(t, chromedp.Run(
		ctx, chromedp.Evaluate(`document.getElementById("search").value = ""`, nil),
		chromedp.SendKeys("#search", "composer", chromedp.ByQuery),
	))
	require.Contains(t, text(t, ctx, visible), "omance", "by responsibility")
	require.NoError(t, chromedp.Run(ctx, chromedp.Click(`th button[data-by="open"]`, chromedp.ByQuery)))
	require.Equal(t, "descending", text(
		t, ctx, `document.querySelector('[data-by="open"]').closest("th").getAttribute("aria-sort")`,
	))
	counts := text(
		t, ctx,
		`[...document.querySelectorAll("#pieces tbody tr")].map((r) => Number(r.dataset.open)).every((n, i, all) => i === 0 || all[i - 1] >= n)`,
	)
	require.Equal(t, "true", counts)
}

func TestHostileTitlesRunNothing(t *testing.T) {
	ctx := openBrowser(t)
	html, err := page.Piece(material())
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "x.html")
	require.NoError(t, os.WriteFile(file, html, 0o644))
	alerted := false
	chromedp.ListenTarget(ctx, func(event any) {
		if _, ok := event.(*cdppage.EventJavascriptDialogOpening); ok {
			alerted = true
		}
	})
	require.NoError(t, chromedp.Run(ctx, chromedp.Navigate("file://"+file)))
	require.Equal(t, title, text(t, ctx, "document.title"))
	require.Contains(t, text(t, ctx, `document.getElementById("count").textContent`), "0 of ", "our own script runs")
	require.False(t, alerted)
}

// Printed, the page keeps its numbers and unfolds; both papers and both modes.
func TestPagesPrint(t *testing.T) {
	ctx, at := openBrowser(t), demoPages(t)
	pages := map[string]int{}
	for _, mode := range []string{"summary", "everything"} {
		for _, paper := range []string{"A4", "Letter"} {
			var pdf []byte
			require.NoError(t, chromedp.Run(ctx, chromedp.Navigate(
				at+"/op7-nocturne.html?print="+mode+"&paper="+paper,
			), chromedp.ActionFunc(func(ctx context.Context) (err error) {
				pdf, _, err = cdppage.PrintToPDF().WithPreferCSSPageSize(true).Do(ctx)
				return err
			})))
			require.Contains(t, string(pdf[:5]), "%PDF-")
			size := map[string]string{"A4": "[0 0 594.95996 841.91998]", "Letter": "[0 0 612 792]"}[paper]
			require.Contains(t, string(pdf), "/MediaBox "+size)
			pages[mode] = strings.Count(string(pdf), "/Type /Page\n")
		}
	}
	require.Positive(t, pages["summary"])
	require.Greater(t, pages["everything"], pages["summary"])
}

// At 320 CSS pixels nothing but music and tables scrolls sideways (WCAG 2.2, 1.4.10).
func TestNarrowWindowsReflow(t *testing.T) {
	ctx, at := openBrowser(t), demoPages(t)
	for _, name := range []string{"index.html", "op7-nocturne.html", "index.returns.html"} {
		require.NoError(t, chromedp.Run(
			ctx, emulation.SetDeviceMetricsOverride(320, 640, 1, true), chromedp.Navigate(at+"/"+name),
		))
		require.Equal(t, "320", text(t, ctx, "document.documentElement.scrollWidth"), name)
	}
}

// A work of half an hour opens whole and stays under ten megabytes; how soon, the log says (-v).
func TestALongWorkOpensWhole(t *testing.T) {
	if testing.Short() {
		t.Skip("a work of half an hour takes some seconds to finger")
	}
	ctx := openBrowser(t)
	w := longWay(t, "op7-nocturne", 24) // 24 times 25 measures, a slow piece
	last := &w.Score.Measures[len(w.Score.Measures)-1]
	require.Greater(t, w.Tempo.Micros(last.Start), int64(30*60*1_000_000), "half an hour")
	html, err := page.Piece(page.Of(w, "demo"))
	require.NoError(t, err)
	require.Less(t, len(html), 9_000_000, "and room for a dozen pictures")
	file := filepath.Join(t.TempDir(), "long.html")
	require.NoError(t, os.WriteFile(file, html, 0o644))
	var took float64
	require.NoError(t, chromedp.Run(
		ctx, chromedp.Navigate("file://"+file),
		chromedp.Evaluate(`performance.getEntriesByType("navigation")[0].loadEventEnd`, &took),
	))
	require.Equal(t, strconv.Itoa(len(w.Score.Measures)), text(t, ctx, `document.querySelectorAll(".measure").length`))
	t.Logf("%d notes, %.1f MB, open after %.0f ms", w.Result.Summary.Notes, float64(len(html))/1e6, took)
}

// longWay takes a piece whose measures stand several times over through the pipeline.
func longWay(t *testing.T, id string, times int) *pipeline.PieceRun {
	t.Helper()
	data, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", id+".musicxml"))
	require.NoError(t, err)
	document := etree.NewDocument()
	require.NoError(t, document.ReadFromBytes(data))
	for _, part := range document.FindElements("//part") {
		for range times - 1 {
			for _, m := range part.SelectElements("measure")[:25] {
				part.AddChild(m.Copy())
			}
		}
		for i, m := range part.SelectElements("measure") {
			m.CreateAttr("number", strconv.Itoa(i+1))
			for _, e := range m.FindElements(".//*[@id]") {
				e.RemoveAttr("id")
			}
			m.RemoveAttr("id")
		}
	}
	long, err := document.WriteToBytes()
	require.NoError(t, err)
	return wayOf(t, id, long)
}
