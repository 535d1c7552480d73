package page_test

import (
	"os"
	"slices"
	"strconv"
	"testing"

	"fingerproof/corpus/shared/browsertest"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// "Print the digit" answers a finding that a digit is missing: the next run prints it, also where the passage is taken
// or another finger chosen afterwards.
func TestAMissingDigitIsPrinted(t *testing.T) {
	ctx := openBrowser(t)
	w := demoRun(t, "op7-nocturne")
	in := pipeline.InputsOf(w)
	var err error
	in.Policy, err = policies.ByName("performance") // few digits
	require.NoError(t, err)
	w, err = pipeline.Again(w, in)
	require.NoError(t, err)
	m := page.Of(w, "print")
	// The first unprinted note of a passage, as lint would name it.
	planted := false
	for i := range m.Passages {
		p := &m.Passages[i]
		for k := range w.Result.Notes {
			n := &w.Result.Notes[k]
			if !planted && p.Redistribution < 0 && p.ReturnOf == 0 && !n.Printed && !n.Tied &&
				n.Confidence != nil && slices.Contains(p.Notes, n.N) {
				planted = true
				p.Findings = append(p.Findings, len(m.Result.Findings))
				m.Result.Findings = append(m.Result.Findings, state.Finding{
					Rule: "digit-missing", Severity: "note", Notes: []int{n.N}, MeasureIndex: p.First, Fingerprint: "planted",
				})
			}
		}
	}
	require.True(t, planted)
	openPage(t, ctx, m)
	const line = `[...document.querySelectorAll("p.finding")].find((l) => ` + theData + `.findings[l.dataset.finding].print)`
	note := number(t, ctx, theData+`.findings[`+line+`.dataset.finding].notes[0]`)
	for i := range w.Result.Notes {
		if w.Result.Notes[i].N == note {
			require.False(t, w.Result.Notes[i].Printed)
		}
	}
	print := func() {
		require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`(() => {
			const l = `+line+`, card = l.closest(".passage");
			card.id = "tried";
			if (!card.classList.contains("open")) card.querySelector(".row").click();
			l.querySelector(".put").click();
		})()`, nil)))
	}
	print()
	require.Contains(t, text(t, ctx, said), "1 digit will print")
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`document.querySelector('#tried [data-verb="take"]').click()`, nil)))
	file := save(t, ctx, "AB")
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Contains(t, string(data), "print: always")
	again := decideAndRun(t, w, file)
	for i := range again.Result.Notes {
		if n := &again.Result.Notes[i]; n.N == note {
			require.True(t, n.Printed)
		}
	}
	// Another finger chosen afterwards is the one that prints.
	require.NoError(t, chromedp.Run(ctx, browsertest.Forget()))
	print()
	chosen := text(t, ctx, `(() => {
		const card = document.getElementById("tried"), d = `+theData+`, n = d.notes[`+strconv.Itoa(note)+`];
		card.querySelector('.finger[data-note="`+strconv.Itoa(note)+`"]').click();
		const other = n.f === 1 ? 2 : 1;
		card.querySelector('.choices [data-finger="' + other + '"]').click();
		card.querySelector('[data-verb="amend"]').click();
		return other;
	})()`)
	again = decideAndRun(t, w, save(t, ctx, "AB"))
	for i := range again.Result.Notes {
		if n := &again.Result.Notes[i]; n.N == note {
			require.True(t, n.Printed)
			require.Equal(t, chosen, strconv.Itoa(n.Finger))
		}
	}
}
