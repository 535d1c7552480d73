package page_test

import (
	"os"
	"strings"
	"testing"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// Each judgement keeps the initials under which it was made: what another editor says of the same passage, in the same sitting,
// goes to a file of its own, and nothing of the first is lost or credited to the second.
func TestEachJudgementKeepsItsInitials(t *testing.T) {
	ctx := openBrowser(t)
	openPage(t, ctx, page.Of(demoRun(t, "op7-nocturne"), "owners"))
	initials := func(now string) {
		require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`(() => { const f = document.getElementById("initials"); f.value = "`+now+`"; f.dispatchEvent(new Event("change")); })()`, nil)))
	}
	read := func(by string) (out []decision.Decision, whole string) {
		data, err := os.ReadFile(save(t, ctx, by))
		require.NoError(t, err)
		out, _, err = decision.Parse("decisions/op7-nocturne."+by+".yaml", data)
		require.NoError(t, err, string(data))
		return out, string(data)
	}
	verbs := func(all []decision.Decision) (out []decision.Verb) {
		for i := range all {
			out = append(out, all[i].Verb)
		}
		return out
	}
	own := func() string {
		return text(t, ctx, `(() => { const b = document.getElementById("own"); return b.hidden ? "" : b.textContent; })()`)
	}
	initials("ED")
	press(t, ctx, "t")
	press(t, ctx, "q")
	press(t, ctx, append(strings.Split("why not 1", ""), "Enter")...)
	press(t, ctx, "p") // back to what was asked
	initials("KO")
	require.Equal(t, "Not saved: 2 judgements of ED. Make KO’s", own())
	press(t, ctx, "t")
	require.Contains(t, text(t, ctx, said), "The query stays ED’s.")
	all, whole := read("KO")
	require.NotContains(t, whole, "why not 1")
	require.NotContains(t, verbs(all), decision.Query)
	require.Contains(t, text(t, ctx, said), "Not in it: 2 judgements of ED; with these initials written")
	all, whole = read("ED")
	require.Equal(t, []decision.Verb{decision.Take, decision.Query}, verbs(all), whole)
	require.Contains(t, whole, "why not 1")
	require.Empty(t, own(), "both are saved")

	// KO asks of what ED took: the digits stay ED's.
	press(t, ctx, "p")
	initials("ED")
	press(t, ctx, "u", "u", "u", "u", "u")
	press(t, ctx, "t", "p")
	initials("KO")
	press(t, ctx, "q")
	press(t, ctx, append(strings.Split("or 2", ""), "Enter")...)
	require.Contains(t, text(t, ctx, said), "its digits stay taken by ED")
	all, whole = read("KO")
	require.Equal(t, []decision.Verb{decision.Query}, verbs(all), whole)
	all, whole = read("ED")
	require.Equal(t, []decision.Verb{decision.Take}, verbs(all), whole)
	require.NotContains(t, whole, "or 2")

	// Initials that were a slip: one button, one step of undo.
	initials("E")
	press(t, ctx, "t")
	initials("ED")
	require.Contains(t, own(), "1 judgement of E. Make ED’s")
	require.NoError(t, chromedp.Run(ctx, chromedp.Click("#own", chromedp.ByQuery)))
	require.Empty(t, own())
	all, _ = read("ED")
	require.Greater(t, len(all), 1)
	require.NotContains(t, verbs(all), decision.Query)
}

// A question stays asked while another finger is chosen, kept or not, and when what is found is let stand.
func TestAQuestionOnThePageIsNotLost(t *testing.T) {
	ctx := openBrowser(t)
	openPage(t, ctx, page.Of(demoRun(t, "op7-nocturne"), "question"))
	press(t, ctx, "q")
	press(t, ctx, append(strings.Split("why not 1", ""), "Enter")...)
	press(t, ctx, "p", "a", "4")
	data, err := os.ReadFile(save(t, ctx, "AB"))
	require.NoError(t, err)
	require.Contains(t, string(data), "why not 1", "the finger is chosen and not kept")
	press(t, ctx, "a")
	data, err = os.ReadFile(save(t, ctx, "AB"))
	require.NoError(t, err)
	require.Equal(t, 1, strings.Count(string(data), "why not 1"))
	require.Contains(t, string(data), "amend: notes")
}
