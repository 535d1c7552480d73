package page_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus/shared"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// A like place of which a note was decided otherwise with its own passage is not said to have the same digits: the digit that stays
// there is named, in the list and in what is said when the passage is kept (a piece of shared/data/fingered).
func TestALikePlaceNamesWhatStaysOtherwiseThere(t *testing.T) {
	ctx := openBrowser(t)
	music, err := os.ReadFile(filepath.Join(shared.Folder(t, filepath.Join("data", "fingered")), "chopin__067-1-sam-004.mxl"))
	require.NoError(t, err)
	openPage(t, ctx, page.Of(wayOf(t, "stays", music), "stays"))
	found := text(t, ctx, `(() => {
		const d = `+theData+`, card = (number) => document.getElementById("p" + number);
		for (const [number, p] of Object.entries(d.passages)) for (const figure of p.figures || []) for (const place of figure.places) {
			if (!card(number) || place.not) continue;
			for (let k = 0; k < place.n.length; k++) {
				const other = d.at[place.n[k]], chip = other && String(other) !== number && card(other) && card(other).querySelector('.finger[data-note="' + place.n[k] + '"]');
				if (!chip || d.notes[place.n[k]].g || d.notes[place.n[k]].s || !p.notes.includes(figure.n[k])) continue;
				card(other).querySelector(".row").click();
				for (const box of card(other).querySelectorAll(".too:checked")) box.click(); // it decides there only
				chip.click();
				const choice = [...card(other).querySelectorAll(".choices [data-finger]")].find((b) => b.getAttribute("aria-pressed") === "false" && !b.disabled);
				if (!choice) continue;
				choice.click();
				return [number, place.m, d.notes[place.n[k]].p, choice.dataset.finger].join(" ");
			}
		}
		return "";
	})()`)
	require.NotEmpty(t, found, "a like place that is judged with another passage")
	f := strings.Fields(found)
	press(t, ctx, "a")
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`document.querySelector("#p`+f[0]+` .row").click()`, nil)))
	list := text(t, ctx, `document.querySelector("#p`+f[0]+` .like-places li[data-m='`+f[1]+`']").textContent`)
	require.Contains(t, list, f[2]+" "+f[3])
	require.Regexp(t, "stays? there", list)
	require.NotContains(t, list, "the same digits there")
}
