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

// So is a chord whose fingers lie against the order of its keys: a key that went to the chord's other note (a stranger's trial).
func TestAChordWithFingersAgainstItsKeysIsKeptByASecondKey(t *testing.T) {
	ctx := openBrowser(t)
	for _, id := range []string{"op9-1-chorale", "op7-nocturne", "op12-1-barcarolle", "op9-3-romance"} {
		openPage(t, ctx, page.Of(demoRun(t, id), "against"))
		// A finger that lies beyond that of the other key of a chord of two, and does not change the other.
		finger := text(t, ctx, `(() => {
			const data = `+theData+`, notes = data.notes;
			for (const c of document.querySelectorAll(".passage")) {
				const keys = [...c.querySelectorAll(".finger:not(:disabled):not(.given)")], left = data.passages[c.dataset.number].hand === "L";
				for (const k of keys) for (const l of keys) {
					const a = notes[k.dataset.note], b = notes[l.dataset.note];
					if (!a || !b || a.g || b.g || a.l || a.i !== b.i || a.o !== b.o || a.p === b.p || !/^[1-5]$/.test(a.w) || !/^[1-5]$/.test(b.w) || a.w === b.w) continue;
					if (keys.filter((m) => notes[m.dataset.note] && notes[m.dataset.note].i === a.i && notes[m.dataset.note].o === a.o).length !== 2) continue;
					const f = Number(a.w) > Number(b.w) ? Number(b.w) - 1 : Number(b.w) + 1;
					if (f < 1 || f > 5 || (data.choices[k.dataset.note] || []).some((choice) => choice.f === f)) continue;
					c.querySelector(".row").click();
					c.scrollIntoView();
					k.click();
					k.focus();
					return String(f);
				}
			}
			return "";
		})()`)
		if finger == "" {
			continue
		}
		press(t, ctx, finger)
		before := number(t, ctx, undone)
		press(t, ctx, "a")
		require.Contains(t, text(t, ctx, said), "lies on the wrong side of")
		require.Equal(t, before, number(t, ctx, undone), "nothing is kept yet")
		press(t, ctx, "a")
		require.Contains(t, text(t, ctx, said), "amended")
		return
	}
	t.Fatal("no chord of the demo has two suggested digits with room beyond them")
}
