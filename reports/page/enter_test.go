package page_test

import (
	"os"
	"strings"
	"testing"

	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// verbsOn lists, as "verb on", what a file of decisions holds.
func verbsOn(t *testing.T, file string) (out []string, whole string) {
	t.Helper()
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	_, _, err = decision.Parse("decisions/op7-nocturne.AB.yaml", data)
	require.NoError(t, err, string(data))
	for line := range strings.SplitSeq(string(data), "\n") {
		if entry, is := strings.CutPrefix(line, "  - "); is && !strings.HasPrefix(entry, "m. ") { // a row of the measures
			out = append(out, entry)
		}
	}
	return out, string(data)
}

// findBesideADoubt lets something be found of the first note of a piece whose finger is in doubt.
func findBesideADoubt(w *pipeline.PieceRun) {
	for i := range w.Result.Notes {
		if n := &w.Result.Notes[i]; n.Confidence != nil && *n.Confidence < review.RealDoubt && len(n.Source) == 0 {
			w.Result.Findings = append(w.Result.Findings, state.Finding{
				Rule: "span-beyond-hand", Severity: "note", Message: "a wide grip", Measure: n.Measure, MeasureIndex: n.MeasureIndex,
				Onset: n.Onset, Hand: n.Hand, Notes: []int{n.N}, Fingerprint: "b0a710ad",
			})
			return
		}
	}
}

// Enter behind a reason carries out the verb that asked for it, on passages with findings and without.
func TestEnterCarriesOutWhatAskedForTheReason(t *testing.T) {
	ctx := openBrowser(t)
	open := func(wanted string) {
		for _, id := range []string{"op7-nocturne", "op12-3-impromptu", "op12-1-barcarolle", "op12-2-waltz", "op3-1-scales", "op9-3-romance"} {
			w := demoRun(t, id)
			if wanted == "found" {
				findBesideADoubt(w)
			}
			openPage(t, ctx, page.Of(w, "enter"))
			if text(t, ctx, `(() => {
			const d = `+theData+`, live = (f) => d.findings[f].notes && !d.findings[f].entry;
			const card = [...document.querySelectorAll(".passage")].find((c) => {
				const p = d.passages[c.dataset.number], found = (p.findings || []).filter(live).length > 0;
				const digits = p.notes.some((n) => !d.notes[n].g && d.notes[n].w);
				return !p.handover && !p.bare && digits && `+wanted+`;
			});
			if (!card) return false;
			if (!card.classList.contains("here")) card.querySelector(".row").click();
			card.id = "tried";
			return true;
		})()`) == "true" {
				t.Logf("%s: %s", wanted, id)
				return
			}
		}
		t.Fatalf("no passage of the demo collection: %s", wanted)
	}
	const state = `document.getElementById("tried").querySelector(".state").textContent`
	const focused = `String(document.activeElement.matches("#tried .reason"))`
	verb := func(name string) {
		require.NoError(t, chromedp.Run(ctx, chromedp.Click(`#tried [data-verb="`+name+`"]`, chromedp.ByQuery)))
	}

	for _, wanted := range []string{"found", "!found"} {
		open(wanted)
		verb("query")
		require.Equal(t, "true", text(t, ctx, focused))
		press(t, ctx, "w", "h", "y", "Enter")
		require.Equal(t, "queried", text(t, ctx, state), wanted)
		require.Contains(t, text(t, ctx, said), "queried")
		entries, whole := verbsOn(t, save(t, ctx, "AB"))
		require.NotEmpty(t, entries)
		for _, entry := range entries {
			require.Contains(t, entry, "query: ")
		}
		require.Contains(t, whole, `why: "why"`)
	}

	// A stet after a take lets the finding stand, and the digits stay taken.
	open("found")
	verb("take")
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(`document.querySelector("#tried .row").click()`, nil)))
	verb("stet")
	require.Equal(t, "true", text(t, ctx, focused))
	press(t, ctx, "o", "l", "d", "Enter")
	require.Contains(t, text(t, ctx, said), "let stand")
	require.Equal(t, "taken", text(t, ctx, state))
	require.Contains(t, text(t, ctx, `document.querySelector("#tried .let").textContent`), "Stands: old")
	entries, _ := verbsOn(t, save(t, ctx, "AB"))
	require.Contains(t, entries, "take: notes")
	require.Contains(t, entries, "stet: finding")

	// Leaving a field without Enter asks nothing later: another passage has its own verb.
	open("!found")
	press(t, ctx, "q", "Escape")
	require.Equal(t, "open", text(t, ctx, state))
}

// Enter behind the initials saves; keys are commands again, and none of them is typed into the field.
func TestEnterBehindTheInitialsSaves(t *testing.T) {
	ctx := openBrowser(t)
	openPage(t, ctx, page.Of(demoRun(t, "op9-3-romance"), "initials"))
	const initials = `document.getElementById("initials").value`
	press(t, ctx, "w")
	require.Contains(t, text(t, ctx, said), "initials")
	require.Empty(t, text(t, ctx, initials), "the key that asks is not typed")
	press(t, ctx, "A", "B", "Enter")
	require.Contains(t, text(t, ctx, said), "Saved as op9-3-romance.AB.yaml")
	press(t, ctx, "w")
	require.Equal(t, "AB", text(t, ctx, initials))
	require.Contains(t, text(t, ctx, said), "Saved as op9-3-romance.AB.yaml")
	before := text(t, ctx, `document.querySelector(".passage.here").dataset.number`)
	require.NoError(t, chromedp.Run(ctx, chromedp.Focus("#initials", chromedp.ByQuery)))
	press(t, ctx, "n")
	require.Equal(t, "ABn", text(t, ctx, initials))
	require.Equal(t, before, text(t, ctx, `document.querySelector(".passage.here").dataset.number`), "typed, no command")
}
