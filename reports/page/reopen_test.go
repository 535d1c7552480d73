package page_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus/shared"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// A digit that the files hold as decided is reopened on the page by a key, and only that digit is asked again; another
// finger is given as fast.
func TestADecidedDigitIsReopenedOnThePage(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op9-3-romance")
	note, decided := -1, w
	for passages := 1; note < 0 && passages <= 5; passages++ { // until a passage that is asked shows a digit of those taken
		openPage(t, ctx, page.Of(w, "reopen"))
		for range passages {
			press(t, ctx, "f", "t")
		}
		decided = decideAndRun(t, w, save(t, ctx, "AB"))
		openPage(t, ctx, page.Of(decided, "reopen again"))
		note = number(t, ctx, `Number(Object.keys(`+theData+`.held || {}).find((n) => { const b = document.querySelector('.finger[data-note="' + n + '"]'); return b && !b.disabled; }) ?? -1)`)
	}
	require.GreaterOrEqual(t, note, 0, "a passage shows a decided digit that can be reopened")
	click := fmt.Sprintf(`(() => { const b = document.querySelector('.finger[data-note="%d"]'); b.closest(".passage").querySelector(".row").click(); b.click(); })()`, note)
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(click, nil)))
	require.Contains(t, text(t, ctx, said), "x reopens it")
	require.Contains(t, text(t, ctx, said), "decisions/op9-3-romance.AB.yaml:")
	press(t, ctx, "x")
	require.Contains(t, text(t, ctx, said), "write these initials", "nobody's file is changed by others")
	require.NoError(t, chromedp.Run(ctx, chromedp.SetValue("#initials", "AB", chromedp.ByQuery), chromedp.Evaluate(click, nil)))
	press(t, ctx, "x")
	require.Contains(t, text(t, ctx, said), "Reopened")
	require.Contains(t, text(t, ctx, `document.getElementById("count").textContent`), "1 digit reopened or given anew")
	file := save(t, ctx, "AB")
	_, whole := verbsOn(t, file)
	require.Contains(t, whole, "  - reopen: notes")

	again := decideAndRun(t, w, file)
	require.Empty(t, again.Bound[note].Verb)
	for i := range again.Bound {
		if i != note && !again.Bound[i].Carried && !decided.Bound[i].Carried {
			require.Equal(t, decided.Bound[i], again.Bound[i], "no other digit is touched")
		}
	}
	if slices.Contains(again.Open, note) {
		require.True(t, slices.ContainsFunc(again.Result.Asked, func(a state.Asked) bool {
			return slices.Contains(a.Notes, note) && strings.Contains(a.Said, "AB reopened it on ")
		}), "the page says why it is asked")
	}

	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(click, nil)))
	press(t, ctx, "x", "5")
	file = save(t, ctx, "AB")
	_, whole = verbsOn(t, file)
	require.NotContains(t, whole, "reopen: notes")
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	list, _, err := decision.Parse("decisions/op9-3-romance.AB.yaml", data)
	require.NoError(t, err)
	last := list[len(list)-1]
	require.Equal(t, decision.Amend, last.Verb)
	require.Equal(t, []int{5}, last.Notes[0].Fingers)
}

// Digits of notes that are offered to the other hand are asked once that is decided: taken, nothing is left to ask of them;
// declined, they are asked.
func TestDigitsWaitForTheRedistributionOfTheirNotes(t *testing.T) {
	ctx := openBrowser(t)
	data, err := os.ReadFile(filepath.Join(shared.Folder(t, filepath.Join("data", "fingered")), "clementim__o42-clementi-op42-lyt-l44-paradies.mxl"))
	require.NoError(t, err)
	openPage(t, ctx, page.Of(wayOf(t, "l44", data), "waits"))
	waiting := text(t, ctx, `(() => {
		const card = [...document.querySelectorAll(".passage")].find((c) => c.querySelector(".state").textContent.startsWith("after passage "));
		return card ? card.dataset.number : "";
	})()`)
	require.NotEmpty(t, waiting, "the piece offers notes that a passage asks about")
	card := `document.getElementById("p` + waiting + `")`
	offer := strings.TrimPrefix(text(t, ctx, card+`.querySelector(".state").textContent`), "after passage ")
	require.Equal(t, "true", text(t, ctx, fmt.Sprintf(`[...document.querySelectorAll(".passage")].findIndex((c) => c.id === "p%s") < [...document.querySelectorAll(".passage")].findIndex((c) => c.id === "p%s")`, offer, waiting)), "the offer comes first")
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector(".row").click(); `+card+`.querySelector('[data-verb="take"]').click()`, nil)))
	require.Contains(t, text(t, ctx, said), "judge it first")
	require.Equal(t, "p"+offer, text(t, ctx, `document.querySelector(".passage.here").id`))
	press(t, ctx, "s", "Enter")
	require.NotContains(t, text(t, ctx, card+`.querySelector(".state").textContent`), "after", "declined: the digits are asked")
	press(t, ctx, "u", "t")
	require.NotContains(t, text(t, ctx, card+`.querySelector(".state").textContent`), "after")
	require.Empty(t, text(t, ctx, `[...document.querySelectorAll(".clash:not([hidden])")].filter((c) => c.textContent.includes("Against another")).map((c) => c.textContent).join()`),
		"one decision answers both")
}
