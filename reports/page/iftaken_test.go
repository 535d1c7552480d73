package page_test

import (
	"os"
	"path/filepath"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// What lint finds once digits are taken is asked on the same page, as soon as they are: it can be let stand there, with
// findings of its rule at once, and the next page asks nothing.
func TestWhatLintFindsOfTakenDigitsIsAskedAtOnce(t *testing.T) {
	ctx := openBrowser(t)
	const name = "clementim__o42-clementi-op42-lyt-l45-corelli"
	data, err := os.ReadFile(filepath.Join(shared.Folder(t, filepath.Join("data", "fingered")), name+".mxl"))
	require.NoError(t, err)
	w := &pipeline.PieceRun{
		Piece: &corpus.Piece{ID: name, Score: name + ".mxl", Scoring: corpus.TwoHands, TextDigits: "earlier"}, Data: data,
		Policy: policies.Default(), Weights: pipeline.ShippedWeights(),
	}
	require.NoError(t, pipeline.RunPiece(w))
	openPage(t, ctx, page.Of(w, "if taken"))
	const comes = `Object.entries(` + theData + `.passages).filter(([, p]) => p.then && !p.wants && !p.findings).map(([number]) => number)`
	first := text(t, ctx, comes+`[0]`)
	card := `document.getElementById("p` + first + `")`
	hidden := card + `.querySelector(".finding[hidden]") !== null`
	state := card + `.querySelector(".state").textContent`
	require.NoError(t, chromedp.Run(ctx, chromedp.Evaluate(card+`.querySelector(".row").click()`, nil)))
	require.Equal(t, "true", text(t, ctx, hidden), "not found yet")
	press(t, ctx, "t")
	require.Contains(t, text(t, ctx, said), "Still open here")
	require.Contains(t, text(t, ctx, state), "digits taken; open")
	require.Equal(t, "false", text(t, ctx, hidden))
	press(t, ctx, "s", "o", "k", "\r")
	require.Equal(t, "taken", text(t, ctx, state))
	press(t, ctx, "u", "u")
	require.Equal(t, "true", text(t, ctx, hidden), "open, and not found any more")

	press(t, ctx, "T", "\r")
	for range number(t, ctx, `document.querySelectorAll(".group").length`) {
		if number(t, ctx, `document.querySelectorAll(".group:not(.done)").length`) > 0 {
			press(t, ctx, "g", "o", "k", "\r")
		}
	}
	for range number(t, ctx, undone) {
		press(t, ctx, "N")
		verb := "s" // what is found stands
		if text(t, ctx, theData+`.passages[document.querySelector(".passage.here").dataset.number].wants === true`) == "true" {
			verb = "t" // to take it makes an error: with a reason only
		}
		press(t, ctx, verb, "o", "k", "\r")
	}
	require.Zero(t, number(t, ctx, undone), text(t, ctx, said))
	again := decideAndRun(t, w, save(t, ctx, "AB"))
	require.Empty(t, again.Open)
	require.NotEmpty(t, again.LetStand)
	openPage(t, ctx, page.Of(again, "if taken"))
	require.Empty(t, text(t, ctx, `[...document.querySelectorAll(".passage .row")].map((r) => r.textContent).join()`))
}
