package page_test

import (
	"testing"

	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// A digit that is keyed moves the mark on, as a row of digits is keyed; and what was decided is undone step by step after the
// page was loaded anew, as long as no other run has made it.
func TestTheMarkGoesOnAndUndoOutlastsThePage(t *testing.T) {
	ctx := openBrowser(t)
	openPage(t, ctx, page.Of(demoRun(t, "op7-nocturne"), "undo"))
	number := text(t, ctx, `(() => { const d = `+theData+`; const c = [...document.querySelectorAll(".passage")].find((c) => { const p = d.passages[c.dataset.number]; return !p.handover && (p.doubts || []).length && p.notes.length > 6; });
		c.querySelector(".row").click(); c.scrollIntoView(); return c.dataset.number; })()`)
	press(t, ctx, "a")
	require.Contains(t, text(t, ctx, said), "The mark is on ")
	at := `(() => { const keys = [...document.querySelectorAll('#p` + number + ` .finger:not(:disabled):not(.given)')]; return String(keys.indexOf(document.activeElement)); })()`
	before := text(t, ctx, at)
	press(t, ctx, "5")
	after := text(t, ctx, at)
	require.NotEqual(t, before, after)
	require.Contains(t, text(t, ctx, said), " now.")
	require.NotEqual(t, "0", text(t, ctx, `String(document.querySelectorAll('#p`+number+` .mark-frame').length + document.querySelectorAll('#p`+number+` .cut').length)`))
	press(t, ctx, "a")
	state := `document.querySelector('#p` + number + ` .state').textContent`
	require.Equal(t, "amended", text(t, ctx, state))
	require.NoError(t, chromedp.Run(ctx, chromedp.Reload(), chromedp.WaitReady("#data")))
	require.Equal(t, "amended", text(t, ctx, state))
	press(t, ctx, "u")
	require.Equal(t, "Undone.", text(t, ctx, said))
	require.NotEqual(t, "amended", text(t, ctx, state))
	press(t, ctx, "u")
	require.Contains(t, text(t, ctx, said), "Nothing to undo")
}
