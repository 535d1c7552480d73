package page_test

import (
	"testing"

	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// An entry that let a finding stand which is not found any more asks nothing, and is taken out on the page by one button.
func TestEntriesThatHoldForNothingAreTakenOutOnThePage(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op9-3-romance")
	text0, err := decision.Append("decisions/op9-3-romance.AB.yaml", nil, "op9-3-romance", "AB", nil, []decision.Decision{{
		Verb: decision.Stet, On: decision.Finding, Rule: "measure-does-not-add-up", Why: "meant", By: "AB", When: "2026-01-01",
		Notes: []decision.NoteRef{decision.NewFinder(w.Score).Ref(w.Result.Notes[0].N, nil)},
	}})
	require.NoError(t, err)
	in := pipeline.InputsOf(w)
	in.Decisions, _, err = decision.Parse("decisions/op9-3-romance.AB.yaml", text0)
	require.NoError(t, err)
	again, err := pipeline.Again(w, in)
	require.NoError(t, err)
	openPage(t, ctx, page.Of(again, "gone"))
	const group = `document.querySelector('.group[data-rule="gone"]')`
	require.Contains(t, text(t, ctx, group+`.textContent`), "1 finding let stand and not found any more")
	before := number(t, ctx, undone)
	require.NoError(t, chromedp.Run(ctx, chromedp.SetValue("#initials", "AB", chromedp.ByQuery),
		chromedp.Evaluate(group+`.querySelector(".let-group").click()`, nil)))
	require.Contains(t, text(t, ctx, said), "taken out when you save")
	require.Equal(t, before, number(t, ctx, undone), "nothing was asked, and nothing is judged")
	entries, _ := verbsOn(t, save(t, ctx, "AB"))
	require.Empty(t, entries)
}
