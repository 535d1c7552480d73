package page_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// The fingers of a trill are chosen on its note, as those of any other note are, and hold in the next run.
func TestTheFingersOfASignAreChosen(t *testing.T) {
	ctx := openBrowser(t)
	data, err := os.ReadFile(filepath.Join("..", "..", "corpus", "demo", "scores", "op3-5-trills.musicxml"))
	require.NoError(t, err)
	bare := regexp.MustCompile(`(?s)\s*<fingering[^>]*>[^<]*</fingering>`).ReplaceAll(data, nil)
	w := wayOf(t, "op3-5-trills", bare)
	openPage(t, ctx, page.Of(w, "signs"))
	note := text(t, ctx, `(() => {
		const d = `+theData+`;
		for (const key of document.querySelectorAll(".finger:not(:disabled)")) if (d.notes[key.dataset.note].l) {
			key.closest(".passage").querySelector(".row").click();
			key.click();
			return key.dataset.note;
		}
		return "";
	})()`)
	require.NotEmpty(t, note, "a trill is judged")
	n, err := strconv.Atoi(note)
	require.NoError(t, err)
	was := w.Result.Notes[0]
	for _, one := range w.Result.Notes {
		if one.N == n {
			was = one
		}
	}
	require.Len(t, was.Fingers, 2, "before")
	want := []int{1, 4}
	if was.Fingers[0] == 1 && was.Fingers[1] == 4 {
		want = []int{2, 4}
	}
	given := strconv.Itoa(want[0]) + "-" + strconv.Itoa(want[1])
	set := func(value string) {
		require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`(() => {
			const field = document.querySelector(".passage.here .sign-row");
			field.value = "`+value+`";
			field.dispatchEvent(new Event("change"));
		})()`, nil)))
	}
	set("7-1")
	require.Contains(t, text(t, ctx, said), "fingers in the order of playing")
	set("1-2-3-4")
	require.Contains(t, text(t, ctx, said), "2 or 3 fingers")
	set(given)
	require.Equal(t, given, text(t, ctx, `document.querySelector('.finger[data-note="`+note+`"] b').textContent`))
	press(t, ctx, "a")
	again := decideAndRun(t, w, save(t, ctx, "AB"))
	for _, one := range again.Result.Notes {
		if one.N == n {
			require.Equal(t, want, one.Fingers)
			require.Equal(t, want[0], one.Finger)
			require.Empty(t, one.Substitution, "it is no change on the held key")
			require.Equal(t, "AB", one.Agent)
		}
	}
}
