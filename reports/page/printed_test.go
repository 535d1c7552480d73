package page_test

import (
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// "Print the digit" answers a finding that a digit is missing: the next run prints it, also where the passage is taken
// or another finger chosen afterwards, and the finding is gone.
func TestAMissingDigitIsPrinted(t *testing.T) {
	ctx := openBrowser(t)
	data, err := os.ReadFile(filepath.Join(shared.Folder(t, filepath.Join("data", "fingered")),
		"polish__smietanski-emil-wladyslaw-polka-capricio.mxl"))
	require.NoError(t, err)
	study, err := policies.ByName("study")
	require.NoError(t, err)
	w := &pipeline.PieceRun{
		Piece: &corpus.Piece{ID: "polka", Score: "polka.mxl", Scoring: corpus.TwoHands}, Data: data,
		Policy: study, Weights: pipeline.ShippedWeights(),
	}
	require.NoError(t, pipeline.RunPiece(w))
	openPage(t, ctx, page.Of(w, "print"))
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
	data, err = os.ReadFile(file)
	require.NoError(t, err)
	require.Contains(t, string(data), "print: always")
	again := decideAndRun(t, w, file)
	for i := range again.Result.Notes {
		if n := &again.Result.Notes[i]; n.N == note {
			require.True(t, n.Printed)
		}
	}
	for i := range again.Result.Findings {
		if f := &again.Result.Findings[i]; f.Rule == "digit-missing" {
			require.NotEqual(t, note, f.Notes[0])
		}
	}

	// Another finger chosen afterwards is the one that prints.
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate("localStorage.clear()", nil), chromedp.Reload()))
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
