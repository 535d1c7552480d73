package personal_test

import (
	"net/url"
	"os"
	"path/filepath"
	"testing"

	"fingerproof/corpus/shared/browsertest"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/reports/personal"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

func TestMain(m *testing.M) { browsertest.Main(m) }

// An editor decides by keys alone: one passage is kept with a reason, one is taken for most hands and taken back, then both
// are printed. What is saved is read as decisions.
func TestAnEditorDecidesByKeys(t *testing.T) {
	ctx := browsertest.Open(t)
	_, p := pieceOf(t)
	html, err := personal.Page("Staged", "every note", "staged", []*personal.Piece{p})
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "choices.html")
	require.NoError(t, os.WriteFile(file, html, 0o600))
	require.NoError(t, chromedp.Run(ctx, chromedp.Navigate((&url.URL{Scheme: "file", Path: file}).String()), browsertest.Forget()))
	states := func() string {
		return browsertest.Text(t, ctx, `[...document.querySelectorAll(".state")].map((s) => s.textContent).join(" | ")`)
	}
	browsertest.Press(t, ctx, "r")
	require.NoError(t, chromedp.Run(ctx, chromedp.SendKeys("#p1 .verbs input", "sings better so\r")))
	require.Equal(t, "kept, with a reason | ", states())
	browsertest.Press(t, ctx, "n", "m")
	require.Equal(t, "kept, with a reason | the other fingering", states())
	browsertest.Press(t, ctx, "u")
	require.Equal(t, "kept, with a reason | ", states())
	browsertest.Press(t, ctx, "b")
	require.Equal(t, "kept, with a reason | both, the second for smaller hands", states())
	require.NoError(t, chromedp.Run(ctx, chromedp.SetValue("#initials", "AB")))
	saved, err := os.ReadFile(browsertest.Saved(t, ctx, ".yaml", chromedp.Click("#save")))
	require.NoError(t, err)
	read, piece, err := decision.Parse("staged.AB.yaml", saved)
	require.NoError(t, err, string(saved))
	require.Equal(t, "staged", piece)
	require.Len(t, read, 3)
	require.Equal(t, "sings better so", read[0].Why)
	require.Equal(t, decision.Alternative, read[2].On)
	require.Empty(t, read[2].Why)
}
