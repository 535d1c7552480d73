package page_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus/shared"
	"fingerproof/reports/engrave"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// What is decided of a passage stands in the whole score at once where its music comes again: the digit that was chosen, no mark of
// being open, and the bracket; the page says "nothing is open" while nothing in the score says otherwise (a stranger's trial with this
// score of shared/data/fingered: mm. 37-39 stood there as open). A place that is left out keeps its marks.
func TestTheWholeScoreShowsWhatComesAgainAsDecided(t *testing.T) {
	ctx := openBrowser(t)
	music, err := os.ReadFile(filepath.Join(shared.Folder(t, filepath.Join("data", "fingered")), "clementim__o42-clementi-op42-lyt-l39-beethoven.mxl"))
	require.NoError(t, err)
	w := wayOf(t, "comes", music)
	m := page.Of(w, "comes again")
	engraver, err := engrave.Open(context.Background(), engrave.Options{
		Package: engrave.FindPackage("../engrave"), CacheDir: filepath.Join(os.TempDir(), "fingerproof-engraver-test"),
	})
	if err != nil {
		t.Skip(err)
	}
	defer engraver.Close(context.Background())
	worker, err := engraver.Worker(context.Background())
	require.NoError(t, err)
	require.NoError(t, m.DrawScore(context.Background(), worker, w, nil))
	require.Empty(t, m.Score.Note)
	openPage(t, ctx, m)
	press(t, ctx, "v")
	// A note of a passage, and the one that brings it back; both are drawn as open.
	found := text(t, ctx, `(() => {
		const d = `+theData+`, drawn = (n) => document.querySelector('#pages .fing.asked[data-startid="#n' + n + '"]');
		for (const [number, p] of Object.entries(d.passages)) for (const place of p.also || []) for (const [from, n] of place.s || []) {
			if (!document.getElementById("p" + number) || !drawn(from) || !drawn(n) || d.notes[from].l || d.notes[from].g || !document.querySelector('#p' + number + ' .again')) continue;
			drawn(from).dispatchEvent(new MouseEvent("click", { bubbles: true }));
			document.querySelector('#p' + number + ' .finger[data-note="' + from + '"]').click();
			const other = [...document.querySelectorAll("#p" + number + " .choices [data-finger]")].find((b) => b.getAttribute("aria-pressed") === "false");
			other.click();
			return [number, n, other.dataset.finger, place.f, place.s.length].join(" ");
		}
		return "";
	})()`)
	require.NotEmpty(t, found, "a passage that comes again")
	number_, n, finger := strings.Fields(found)[0], strings.Fields(found)[1], strings.Fields(found)[2]
	there := `document.querySelector('#pages .fing.asked[data-startid="#n` + n + `"]')`
	require.Equal(t, "false", text(t, ctx, there+`.classList.contains("answered")`))
	press(t, ctx, "a")
	require.Equal(t, "true", text(t, ctx, there+`.classList.contains("answered")`))
	require.Equal(t, finger, text(t, ctx, there+`.querySelector("tspan").textContent`))
	bars := number(t, ctx, `document.querySelectorAll("#pages .judged-bar").length`)
	require.Greater(t, bars, 1, "here and there")
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`document.querySelectorAll("#p`+number_+` .again").forEach((b) => b.click())`, nil)))
	require.Equal(t, "false", text(t, ctx, there+`.classList.contains("answered")`), "left out")
	require.NotEqual(t, finger, text(t, ctx, there+`.querySelector("tspan").textContent`))
	require.Less(t, number(t, ctx, `document.querySelectorAll("#pages .judged-bar").length`), bars)
}
