package page_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"fingerproof/corpus/shared"
	"fingerproof/reports/engrave"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// The finger that stands there is chosen, and a keeps the passage: as suggested. And the words of a query that is taken back are no
// reason of what is decided next: a stranger's trial had "Does the 3 belong to C4?" printed as the reason of a digit.
func TestWhatIsChosenAsItStandsIsKeptAndAQuestionIsNoReason(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op7-nocturne")
	m := page.Of(w, "as chosen")
	number := -1
	for i := range m.Passages {
		p := &m.Passages[i]
		if p.Redistribution < 0 && !p.Firm && !p.Bare && p.ReturnOf == 0 && len(p.Findings)+len(p.IfTaken) == 0 && len(p.Doubts) > 0 {
			number = p.Number
			break
		}
	}
	require.Positive(t, number)
	openPage(t, ctx, m)
	card := fmt.Sprintf(`document.getElementById("p%d")`, number)
	stateOf := card + `.querySelector(".state").textContent`
	back := func() {
		require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector(".row").click()`, nil)))
	}
	back()
	press(t, ctx, "a")
	require.NotContains(t, text(t, ctx, stateOf), "taken")
	finger := text(t, ctx, card+`.querySelector('.choices [data-finger][aria-pressed="true"]').dataset.finger`)
	press(t, ctx, finger, "a")
	require.Contains(t, text(t, ctx, stateOf), "taken")
	back()
	press(t, ctx, "x")
	require.NotContains(t, text(t, ctx, stateOf), "taken")
	press(t, ctx, "q", "w", "h", "y", "Enter")
	require.Contains(t, text(t, ctx, stateOf), "quer")
	back()
	press(t, ctx, "x")
	require.Empty(t, text(t, ctx, card+`.querySelector(".reason").value`))
	press(t, ctx, "t")
	require.NoError(t, chromedp.Run(ctx, chromedp.SetValue("#initials", "AB", chromedp.ByQuery)))
	data, err := os.ReadFile(save(t, ctx, "AB"))
	require.NoError(t, err)
	require.Contains(t, string(data), "take: notes")
	require.NotContains(t, string(data), "why: ")
}

// A measure in which only a return stands leads to the passage with which it is judged, and says so; a group of findings whose
// passages are queried is asked no more.
func TestAMeasureThatComesAgainLeadsToItsPassage(t *testing.T) {
	ctx := openBrowser(t)
	music, err := os.ReadFile(filepath.Join(shared.Folder(t, filepath.Join("data", "fingered")), "chopin__067-1-sam-004.mxl"))
	require.NoError(t, err)
	m := page.Of(wayOf(t, "comes", music), "measures")
	openPage(t, ctx, m)
	measure := text(t, ctx, `(() => {
		const d = `+theData+`, inside = (m) => [...document.querySelectorAll(".passage")].some((c) => c.offsetParent && Number(c.dataset.first) <= m && Number(c.dataset.last) >= m);
		for (const p of Object.values(d.passages)) for (const place of p.also || []) if (!inside(place.f)) return d.places[place.f];
		return "";
	})()`)
	require.NotEmpty(t, measure)
	require.NoError(t, chromedp.Run(ctx, chromedp.SetValue("#measure", measure, chromedp.ByQuery), chromedp.Focus("#measure", chromedp.ByQuery)))
	press(t, ctx, "Enter")
	require.Contains(t, text(t, ctx, said), "m. "+measure+" is judged in passage ")
	require.Contains(t, text(t, ctx, said), "whose music comes again there")
}

// In the picture of a passage digits of the other hand stay italic, as suggested, when it is taken: nobody has decided those.
func TestDigitsOfTheOtherHandStayAsTheyAre(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op3-2-thirds")
	engraver, err := engrave.Open(context.Background(), engrave.Options{
		Package: engrave.FindPackage("../engrave"), CacheDir: filepath.Join(os.TempDir(), "fingerproof-engraver-test"),
	})
	if err != nil {
		t.Skip(err)
	}
	defer engraver.Close(context.Background())
	worker, err := engraver.Worker(context.Background())
	require.NoError(t, err)
	m := page.Of(w, "own")
	require.NoError(t, m.Draw(context.Background(), worker, w, 5))
	openPage(t, ctx, m)
	chosen := text(t, ctx, `(() => {
		for (const c of document.querySelectorAll(".passage:not(.handover)")) {
			const other = [...c.querySelectorAll(".fing.added:not(.own):not(.decided)")], own = [...c.querySelectorAll(".fing.added.own:not(.decided)")];
			if (!other.length || !own.length || !c.querySelector(".finger.doubt")) continue;
			c.querySelector(".row").click();
			c.scrollIntoView();
			return c.id;
		}
		return "";
	})()`)
	require.NotEmpty(t, chosen, "a picture with digits of both hands")
	style := func(which string) string {
		return text(t, ctx, `getComputedStyle(document.querySelector("#`+chosen+` .fing.added`+which+`:not(.decided)")).fontStyle`)
	}
	require.Equal(t, "italic", style(".own"))
	press(t, ctx, "t")
	require.Equal(t, "normal", style(".own"))
	require.Equal(t, "italic", style(":not(.own)"))
}
