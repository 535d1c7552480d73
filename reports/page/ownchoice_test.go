package page_test

import (
	"strings"
	"testing"

	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// A digit that the editor has chosen stays when another choice of the passage would change it, and it is said.
func TestAChosenDigitStaysWithTheNextChoice(t *testing.T) {
	ctx := openBrowser(t)
	for _, id := range []string{"op7-nocturne", "op12-3-impromptu", "op3-1-scales", "op12-1-barcarolle", "op9-3-romance"} {
		openPage(t, ctx, page.Of(demoRun(t, id), "own choice"))
		// A note whose other finger changes a second note of its passage, for which there is a third finger.
		found := text(t, ctx, `(() => {
			const d = `+theData+`;
			for (const [number, p] of Object.entries(d.passages)) if (!p.handover && document.getElementById("p" + number)) for (const n of p.notes) for (const c of d.choices[n] || [])
				for (const [m, f] of c.p) {
					const other = m !== n && p.notes.includes(m) && !d.notes[m].g && [1, 2, 3, 4, 5].find((g) => g !== f && g !== d.notes[m].f && !(d.choices[m] || []).some((k) => k.f === g));
					if (other && !d.notes[n].g) return [number, m, other, n, c.f].join(" ");
				}
			return "";
		})()`)
		if found == "" {
			continue
		}
		at := strings.Fields(found)
		card := `document.getElementById("p` + at[0] + `")`
		choose := func(note, finger string) {
			require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector('.finger[data-note="`+note+`"]').click();
				`+card+`.querySelector('.choices [data-finger="`+finger+`"]').click();`, nil)))
		}
		require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector(".row").click()`, nil)))
		choose(at[1], at[2])
		choose(at[3], at[4])
		require.Contains(t, text(t, ctx, said), "What you chose before stays")
		digit := func(note string) string {
			return text(t, ctx, card+`.querySelector('.finger[data-note="`+note+`"] b').textContent`)
		}
		require.Equal(t, at[2], digit(at[1]))
		require.Equal(t, at[4], digit(at[3]))
		return
	}
	t.Fatal("no choice of the demo collection changes another note of its passage")
}

// A query and digits that are taken stand side by side, in whichever order they are given: the digits are decided, and the
// question waits for its answer.
func TestAQueryBesideTakenDigits(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op7-nocturne")
	for _, keys := range [][]string{{"t", "q"}, {"q", "t"}} {
		openPage(t, ctx, page.Of(w, "query"))
		card := text(t, ctx, `(() => { const d = `+theData+`;
			const c = [...document.querySelectorAll(".passage")].find((one) => { const p = d.passages[one.dataset.number]; return (p.doubts || []).length && !(p.findings || []).length && !p.handover && !p.then && !one.querySelector(".too"); });
			c.querySelector(".row").click(); c.scrollIntoView(); return "#" + c.id; })()`)
		for _, key := range keys {
			require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`document.querySelector("`+card+` .row").click(); document.querySelector("`+card+`").scrollIntoView()`, nil)))
			if press(t, ctx, key); key == "q" {
				press(t, ctx, "w", "h", "y", "\r")
			}
		}
		require.Equal(t, "taken, queried", text(t, ctx, `document.querySelector("`+card+` .state").textContent`), keys)
		again := decideAndRun(t, w, save(t, ctx, "AB"))
		require.Len(t, again.Decided.Queries, 1, keys)
		require.NotZero(t, again.Result.Summary.Decided)
		require.Empty(t, again.Decided.Overruled, keys)
	}
}

// A digit of the text that is reached by an arrow or clicked takes the keys 1 to 5, not the note whose choices were open.
func TestKeysGoToTheDigitThatIsStoodOn(t *testing.T) {
	ctx := openBrowser(t)
	for _, id := range []string{"op7-nocturne", "op12-1-barcarolle", "op9-3-romance", "op12-2-waltz", "op9-1-chorale"} {
		openPage(t, ctx, page.Of(demoRun(t, id), "stood on"))
		given := text(t, ctx, `(() => {
			for (const c of document.querySelectorAll(".passage")) {
				const keys = [...c.querySelectorAll(".finger:not(:disabled)")], at = keys.findIndex((k, i) => i > 0 && k.classList.contains("stands") && !keys[i - 1].classList.contains("given"));
				if (at < 0 || !`+theData+`.says[keys[at].dataset.note]) continue;
				c.querySelector(".row").click();
				c.scrollIntoView();
				keys[at - 1].click();
				keys[at - 1].focus();
				return keys[at].dataset.note;
			}
			return "";
		})()`)
		if given == "" {
			continue
		}
		const box = `document.querySelector(".passage.here .choices").hidden`
		require.Equal(t, "false", text(t, ctx, box))
		press(t, ctx, "ArrowRight")
		require.Equal(t, given, text(t, ctx, `document.activeElement.dataset.note`))
		require.Equal(t, "true", text(t, ctx, box))
		press(t, ctx, "1", "1") // a digit of the text asks for a second key
		require.Contains(t, text(t, ctx, said), "1 on ")
		require.Contains(t, text(t, ctx, said), "when you save")
		require.Equal(t, given, text(t, ctx, `[...document.querySelectorAll(".passage.here .finger.changed")].map((k) => k.dataset.note).join(" ")`),
			"that digit alone, and it is shown")
		return
	}
	t.Fatal("no digit of the text stands behind one that is asked")
}
