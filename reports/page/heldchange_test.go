package page_test

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// The first finger of a change on the held key is another fingering than the change: who chooses it amends the note.
func TestTheFirstFingerOfAChangeAloneIsAnotherFingering(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op7-nocturne")
	openPage(t, ctx, page.Of(w, "held change"))
	found := strings.Fields(text(t, ctx, `(() => { const d = `+theData+`;
		for (const [number, p] of Object.entries(d.passages)) if (!p.handover && (p.doubts || []).length && document.getElementById("p" + number))
			for (const n of p.notes) if (!d.notes[n].g && !d.notes[n].s && d.notes[n].w === String(d.notes[n].f)) return [number, n, d.notes[n].f].join(" ");
		return ""; })()`))
	require.Len(t, found, 3)
	number, note, finger := found[0], found[1], found[2]
	for i := range w.Result.Notes {
		if n := &w.Result.Notes[i]; strconv.Itoa(n.N) == note {
			n.Substitution = []int{n.Finger%5 + 1}
		}
	}
	openPage(t, ctx, page.Of(w, "held change"))
	key := `document.querySelector('#p` + number + ` .finger[data-note="` + note + `"]')`
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`document.querySelector("#p`+number+` .row").click(); `+key+`.click()`, nil)))
	before := text(t, ctx, key+`.querySelector("b").textContent`)
	require.Len(t, []rune(before), 3, "as 4–5")
	press(t, ctx, finger)
	require.Equal(t, finger, text(t, ctx, key+`.querySelector("b").textContent`))
	require.Contains(t, text(t, ctx, key+`.querySelector(".spoken").textContent`), "changed from "+before)
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(key+`.click()`, nil))) // the mark has gone on
	press(t, ctx, finger)
	require.Contains(t, text(t, ctx, said), "already, by what you chose", "the same key again changes nothing, and costs nothing")
	press(t, ctx, "a")
	data, err := os.ReadFile(save(t, ctx, "AB"))
	require.NoError(t, err)
	amended, taken, _ := strings.Cut(string(data), "- take: notes")
	require.Contains(t, amended, "- amend: notes")
	require.Contains(t, amended, "="+finger)
	require.NotContains(t, taken, strings.ReplaceAll(before, "–", "-"), "what was given up is not taken")
	// Back to the suggestion by its button.
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(key+`.click(); document.querySelector('#p`+number+` .choices [data-finger="`+strings.ReplaceAll(before, "–", "-")+`"]').click()`, nil)))
	require.Equal(t, before, text(t, ctx, key+`.querySelector("b").textContent`))
}

// The note on which the cursor stands is the one that the line at the foot speaks of; and the passage of a measure is where
// the keys work once it was asked for.
func TestTheLineSpeaksOfTheNoteAndTheMeasureLeadsToItsPassage(t *testing.T) {
	ctx := openBrowser(t)
	openPage(t, ctx, page.Of(demoRun(t, "op7-nocturne"), "line"))
	number := text(t, ctx, `(() => { const d = `+theData+`; const c = [...document.querySelectorAll(".passage")].slice(1).find((c) => { const p = d.passages[c.dataset.number]; return !p.handover && (p.doubts || []).length && p.notes.length > 3; });
		const field = document.getElementById("measure"); field.focus(); field.value = d.places[Number(c.dataset.first)]; return c.dataset.number; })()`)
	press(t, ctx, "\r")
	require.Contains(t, text(t, ctx, said), "is judged in passage")
	here := `document.querySelector(".passage.here")`
	inside := `(() => { const c = ` + here + `, o = document.getElementById("p` + number + `"); return String(Number(c.dataset.first) <= Number(o.dataset.first) && Number(c.dataset.last) >= Number(o.dataset.first)); })()`
	require.Equal(t, "true", text(t, ctx, inside))
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`document.getElementById("measure").focus()`, nil)))
	press(t, ctx, "\r")
	require.Contains(t, text(t, ctx, said), "is judged in passage", "asked for once more")
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`document.querySelector("#p`+number+` .row").click(); document.querySelector("#p`+number+`").scrollIntoView()`, nil)))
	press(t, ctx, "a")
	require.Contains(t, text(t, ctx, said), "arrows go from note to note")
	for range 2 {
		press(t, ctx, "ArrowRight")
		require.Equal(t, text(t, ctx, `(() => { const n = `+theData+`.notes[document.activeElement.dataset.note]; return "m. " + n.m + ", beat " + n.b + ", " + n.p; })()`),
			strings.SplitN(text(t, ctx, said), ":", 2)[0])
	}
}
