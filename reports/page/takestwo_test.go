package page_test

import (
	"testing"

	"fingerproof/reports/page"

	"github.com/stretchr/testify/require"
)

// A chord in which one finger is to take two keys at once is kept only when it is asked for twice: it is a slip, most often.
func TestAChordWithOneFingerTwiceIsKeptByASecondKey(t *testing.T) {
	ctx := openBrowser(t)
	for _, id := range []string{"op9-1-chorale", "op7-nocturne", "op12-1-barcarolle", "op9-3-romance"} {
		openPage(t, ctx, page.Of(demoRun(t, id), "twice"))
		// The finger that the other key of a chord has, where both are suggested.
		other := text(t, ctx, `(() => {
			const data = `+theData+`, notes = data.notes;
			for (const c of document.querySelectorAll(".passage")) {
				const keys = [...c.querySelectorAll(".finger:not(:disabled):not(.given)")];
				for (const k of keys) for (const l of keys) {
					const a = notes[k.dataset.note], b = notes[l.dataset.note];
					if (!a || !b || a.g || b.g || a.i !== b.i || a.o !== b.o || a.p === b.p || String(a.f) === String(b.f) || !/^[1-5]$/.test(b.w || b.f)) continue;
					if ((data.choices[k.dataset.note] || []).some((choice) => String(choice.f) === String(b.w || b.f))) continue; // the other key follows
					c.querySelector(".row").click();
					c.scrollIntoView();
					k.click();
					k.focus();
					return String(b.w || b.f);
				}
			}
			return "";
		})()`)
		if other == "" {
			continue
		}
		press(t, ctx, other)
		require.Contains(t, text(t, ctx, said), "one finger takes two keys there")
		before := number(t, ctx, undone)
		press(t, ctx, "a")
		require.Contains(t, text(t, ctx, said), "Finger "+other+" is to take ")
		require.Equal(t, before, number(t, ctx, undone), "nothing is kept yet")
		press(t, ctx, "a")
		require.Contains(t, text(t, ctx, said), "amended")
		return
	}
	t.Fatal("no chord of the demo has two suggested digits")
}
