package page_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// Findings of one passage get one reason by s, and each its own by e, where the editor wants it: before anything is answered, or
// after one reason was given for all.
func TestEachFindingGetsItsOwnReason(t *testing.T) {
	ctx, w := openBrowser(t), demoRun(t, "op7-nocturne")
	m := page.Of(w, "each")
	k := slices.IndexFunc(m.Passages, func(p review.Passage) bool {
		return p.Redistribution < 0 && p.ReturnOf == 0 && len(p.Rolls) == 0 && len(p.Notes) > 3
	})
	require.GreaterOrEqual(t, k, 0)
	p := &m.Passages[k]
	p.Firm, p.Open, p.Doubts, p.IfTaken, p.Findings, p.Rest, p.Bare = false, nil, nil, nil, nil, nil, true
	for i, n := range p.Notes[:3] {
		at := slices.IndexFunc(w.Result.Notes, func(note state.Note) bool { return note.N == n })
		p.Findings = append(p.Findings, len(w.Result.Findings))
		w.Result.Findings = append(w.Result.Findings, state.Finding{
			Rule: "wide-span", Severity: "note", Message: fmt.Sprintf("span %d is wide", i+1), Notes: []int{n}, Measure: w.Result.Notes[at].Measure,
			MeasureIndex: w.Result.Notes[at].MeasureIndex, Hand: p.Hand, Fingerprint: fmt.Sprintf("%016d", i),
		})
	}
	card := fmt.Sprintf(`document.querySelector('.passage[data-number="%d"]')`, p.Number)
	stand := func() {
		openPage(t, ctx, m)
		require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector(".row").click(); `+card+`.scrollIntoView()`, nil)))
	}
	reasons := func() (out []string) {
		_, whole := verbsOn(t, save(t, ctx, "AB"))
		for _, line := range strings.Split(whole, "\n") {
			if _, why, is := strings.Cut(line, "why: "); is {
				out = append(out, strings.Trim(strings.TrimSuffix(why, "}"), `"`))
			}
		}
		slices.Sort(out)
		return out
	}

	stand()
	press(t, ctx, "e")
	require.Contains(t, text(t, ctx, said), "1 of 3: ")
	require.Contains(t, text(t, ctx, said), "span 1 is wide")
	require.Equal(t, "true", text(t, ctx, `document.activeElement === `+card+`.querySelector(".reason")`))
	press(t, ctx, "o", "n", "e", "Enter", "Enter") // the second stays open
	require.Contains(t, text(t, ctx, said), "3 of 3: ")
	press(t, ctx, "t", "o", "o", "Enter")
	require.Contains(t, text(t, ctx, said), "2 findings answered by themselves; left open: 1.")
	require.Equal(t, "false", text(t, ctx, card+`.classList.contains("done")`))
	press(t, ctx, "e", "m", "i", "d", "Enter")
	require.Equal(t, "true", text(t, ctx, card+`.classList.contains("done")`))
	require.Equal(t, []string{"mid", "one", "too"}, reasons())

	// One reason for all of them, then another for one.
	stand()
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`localStorage.clear()`, nil)))
	stand()
	press(t, ctx, "s", "a", "l", "l", "Enter")
	require.Equal(t, "true", text(t, ctx, card+`.classList.contains("done")`), text(t, ctx, said))
	require.Equal(t, []string{"all", "all", "all"}, reasons())
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector(".row").click(); `+card+`.scrollIntoView()`, nil)))
	press(t, ctx, "e", "Enter")
	require.Contains(t, text(t, ctx, said), "2 of 3: ")
	press(t, ctx, "t", "w", "o", "Enter", "Escape")
	require.Equal(t, []string{"all", "all", "two"}, reasons())
	require.Equal(t, "true", text(t, ctx, card+`.classList.contains("done")`))
}
