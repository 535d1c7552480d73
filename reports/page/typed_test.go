package page_test

import (
	"testing"

	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// A digit that an editor typed stays when another choice would change it, also where it is the one suggested.
func TestATypedDigitStaysThoughItIsTheOneSuggested(t *testing.T) {
	ctx := openBrowser(t)
	for _, id := range []string{"op7-nocturne", "op12-1-barcarolle", "op9-3-romance", "op12-2-waltz"} {
		openPage(t, ctx, page.Of(demoRun(t, id), "typed"))
		// A note with a choice that changes another note of its passage, which is no change on the held key.
		found := text(t, ctx, `(() => {
			const d = `+theData+`;
			for (const c of document.querySelectorAll(".passage")) {
				const free = (n) => c.querySelector('.finger[data-note="' + n + '"]:not(:disabled):not(.given)') && !String(d.notes[n].w).includes("-") && !d.notes[n].v && !d.notes[n].l;
				if (d.passages[c.dataset.number].handover || d.passages[c.dataset.number].bare) continue;
				for (const n of d.passages[c.dataset.number].notes) for (const choice of (free(n) && d.choices[n]) || []) {
					const other = choice.p.find(([o, f]) => o !== n && free(o) && f !== d.notes[o].f);
					if (!other) continue;
					c.querySelector(".row").click();
					c.scrollIntoView();
					window.tried = [n, choice.f, other[0], d.notes[other[0]].f];
					return true;
				}
			}
			return false;
		})()`)
		if found != "true" {
			continue
		}
		stand := func(which string) {
			require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`(() => { const k = document.querySelector('.passage.here .finger[data-note="' + window.tried[`+which+`] + '"]'); k.click(); k.focus(); })()`, nil)))
		}
		stand("2")
		press(t, ctx, text(t, ctx, `window.tried[3]`))
		stand("0")
		press(t, ctx, text(t, ctx, `window.tried[1]`))
		require.Equal(t, text(t, ctx, `window.tried[3]`), text(t, ctx, `document.querySelector('.passage.here .finger[data-note="' + window.tried[2] + '"] b').textContent`))
		require.Contains(t, text(t, ctx, said), "What you chose before stays")
		return
	}
	t.Fatal("no choice of the demo collection changes another note")
}
