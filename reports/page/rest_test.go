package page_test

import (
	"fmt"
	"slices"
	"testing"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// What is found where digits are suggested that nothing else asks is not judged by a reason alone while digits are open in the
// piece: the passage says how many are open, and t takes them.
func TestAReasonAloneDecidesNoDigit(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op7-nocturne")
	m := page.Of(w, "rest")
	k := slices.IndexFunc(m.Passages, func(p review.Passage) bool {
		return p.Redistribution < 0 && p.ReturnOf == 0 && len(p.Rolls) == 0 && len(p.Open) > 1
	})
	require.GreaterOrEqual(t, k, 0)
	p := &m.Passages[k]
	at := slices.IndexFunc(w.Result.Notes, func(n state.Note) bool { return n.N == p.Notes[0] })
	f := len(w.Result.Findings)
	w.Result.Findings = append(w.Result.Findings, state.Finding{
		Rule: "wide-span", Severity: "note", Message: "a wide span", Notes: p.Notes[:1], Measure: w.Result.Notes[at].Measure,
		MeasureIndex: w.Result.Notes[at].MeasureIndex, Hand: p.Hand, Fingerprint: "0123456789abcdef",
	})
	p.Firm, p.Open, p.Doubts, p.IfTaken, p.Findings, p.Rest = false, nil, nil, nil, []int{f}, p.Open
	openPage(t, ctx, m)
	card := fmt.Sprintf(`document.querySelector('.passage[data-number="%d"]')`, p.Number)
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector(".row").click(); `+card+`.querySelector(".reason").value = "meant"; `+
		card+`.querySelector(".let").click()`, nil)))
	require.Contains(t, text(t, ctx, said), "stands")
	require.Equal(t, "false", text(t, ctx, card+`.classList.contains("done")`))
	require.Regexp(t, `^open: \d+ digits?$`, text(t, ctx, card+`.querySelector(".state").textContent`))
	press(t, ctx, "t")
	require.Equal(t, "true", text(t, ctx, card+`.classList.contains("done")`), text(t, ctx, said))
}
