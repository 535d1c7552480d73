package page_test

import (
	"context"
	"os"
	"slices"
	"strings"
	"testing"

	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/reports/page"

	"github.com/stretchr/testify/require"
)

func queries(w *pipeline.PieceRun) int {
	n := 0
	for i := range w.Result.Findings {
		if w.Result.Findings[i].Rule == "decision-query" {
			n++
		}
	}
	return n
}

// standOn opens the passage of which a finding speaks.
func standOn(t *testing.T, ctx context.Context, rule string) {
	require.Equal(t, "true", text(t, ctx, `(() => {
		const d = `+theData+`;
		const card = [...document.querySelectorAll(".passage")].find((c) => (d.passages[c.dataset.number].findings || []).some((f) => d.findings[f].rule === "`+rule+`"));
		if (card) card.querySelector(".row").click();
		return !!card;
	})()`))
}

// What an editor asks is answered on the page of the next run: by taking the digits, or in words, on the same day and by
// another editor too; then nothing is asked any more.
func TestAQueryIsAnsweredOnThePage(t *testing.T) {
	ctx := openBrowser(t)
	openPage(t, ctx, page.Of(demoRun(t, "op7-nocturne"), "asks"))
	press(t, ctx, "q")
	press(t, ctx, append(strings.Split("why not 1", ""), "Enter")...)
	asked := decideAndRun(t, demoRun(t, "op7-nocturne"), save(t, ctx, "AB"))
	require.Equal(t, 1, queries(asked))
	require.Len(t, asked.Decided.Queries, 1)

	openPage(t, ctx, page.Of(asked, "asks again"))
	standOn(t, ctx, "decision-query")
	press(t, ctx, "t")
	require.NotContains(t, text(t, ctx, `document.getElementById("said").textContent`), "stays open")
	taken := decideAndRun(t, asked, save(t, ctx, "AB"))
	require.Zero(t, queries(taken))
	require.Empty(t, taken.Decided.Queries)
	require.False(t, slices.ContainsFunc(taken.Result.Findings, func(f state.Finding) bool { return f.Rule == "decision-stale" }))

	openPage(t, ctx, page.Of(asked, "asks in words"))
	standOn(t, ctx, "decision-query")
	press(t, ctx, "s")
	press(t, ctx, append(strings.Split("the thumb turns", ""), "Enter")...)
	require.Contains(t, text(t, ctx, said), "the digits here are still open", "an answer in words decides no digit")
	words, err := os.ReadFile(save(t, ctx, "CD"))
	require.NoError(t, err)
	require.NotContains(t, string(words), "  - take: notes")
	press(t, ctx, "t")
	saved, err := os.ReadFile(save(t, ctx, "CD"))
	require.NoError(t, err)
	whole := string(saved)
	require.Contains(t, whole, `why: "the thumb turns"`)
	require.Contains(t, whole, "  - take: notes")
	in := pipeline.InputsOf(asked)
	decisions, _, err := decision.Parse("decisions/op7-nocturne.CD.yaml", saved)
	require.NoError(t, err)
	in.Decisions = append(slices.Clone(asked.Decisions), decisions...)
	answered, err := pipeline.Again(asked, in)
	require.NoError(t, err)
	require.Zero(t, queries(answered))
	require.Empty(t, answered.Decided.Queries)
}

// Letters that are typed as a reason behind s are no commands, whatever s is pressed on.
func TestStetAlwaysAsksWhy(t *testing.T) {
	ctx := openBrowser(t)
	openPage(t, ctx, page.Of(demoRun(t, "op7-nocturne"), "why"))
	require.Equal(t, "true", text(t, ctx, `(() => {
		const card = [...document.querySelectorAll(".passage")].find((c) => c.querySelector('[data-verb="stet"]'));
		card.querySelector(".row").click();
		return true;
	})()`))
	before := number(t, ctx, undone)
	press(t, ctx, "s")
	press(t, ctx, strings.Split("turns", "")...)
	require.Equal(t, before, number(t, ctx, undone), "nothing is decided before Enter")
	require.Equal(t, "turns", text(t, ctx, `document.activeElement.value`))
	press(t, ctx, "Enter")
	require.Equal(t, before, number(t, ctx, undone), "the text's digits stand, the others are open")
	require.Contains(t, text(t, ctx, said), "the other digits here are still open")
	require.Contains(t, text(t, ctx, `document.querySelector(".passage.here .state").textContent`), "open: ")
	press(t, ctx, "t")
	require.Less(t, number(t, ctx, undone), before)
	verbs, whole := verbsOn(t, save(t, ctx, "AB"))
	require.Equal(t, []string{"stet: notes", "take: notes"}, verbs[:2], whole)
	require.Contains(t, whole, `why: "turns"`)
}
