package page_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/reports/engrave"
	"fingerproof/reports/page"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// Where a decided digit is given anew, the like places that were decided as it was are offered, and changed by one key;
// digits given anew beside each other are one decision in the file.
func TestADigitGivenAnewIsOfferedToItsLikePlaces(t *testing.T) {
	ctx := openBrowser(t)
	music, err := os.ReadFile(filepath.Join(shared.Folder(t, filepath.Join("data", "repertoire")), "polish__anonim-walc.mxl"))
	require.NoError(t, err)
	w := wayOf(t, "walc", music)
	finder := decision.NewFinder(w.Score)
	in := pipeline.InputsOf(w)
	for _, q := range review.All(w.ReviewInput()) {
		if d, ok := review.Take(w.Result, finder, &q, "AB", "2026-03-01"); ok && q.Redistribution < 0 {
			in.Decisions = append(in.Decisions, d)
		}
	}
	text0, err := decision.Append("decisions/walc.AB.yaml", nil, "walc", "AB", finder.Table(), in.Decisions)
	require.NoError(t, err)
	in.Decisions, _, err = decision.Parse("decisions/walc.AB.yaml", text0)
	require.NoError(t, err)
	again := &pipeline.PieceRun{
		Piece: w.Piece, Data: w.Data, Policy: w.Policy, Weights: w.Weights, Edition: w.Edition, Decisions: in.Decisions,
	}
	require.NoError(t, pipeline.RunPiece(again))
	m := page.Of(again, "alike")
	engraver, err := engrave.Open(context.Background(), engrave.Options{
		Package: engrave.FindPackage("../engrave"), CacheDir: filepath.Join(os.TempDir(), "fingerproof-engraver-test"),
	})
	if err != nil {
		t.Skip(err)
	}
	defer engraver.Close(context.Background())
	worker, err := engraver.Worker(context.Background())
	require.NoError(t, err)
	require.NoError(t, m.DrawScore(context.Background(), worker, again, nil))
	require.Empty(t, m.Score.Note)
	openPage(t, ctx, m)
	require.NoError(t, chromedp.Run(ctx, chromedp.SetValue("#initials", "AB", chromedp.ByQuery)))
	press(t, ctx, "v")
	note := text(t, ctx, `(() => {
		const d = `+theData+`, edge = [1, 5];
		const n = Object.keys(d.alike || {}).find((n) => d.says[n] && !d.notes[n].s && d.notes[n].f !== 3 && document.querySelector('#pages .fing[data-startid="#n' + n + '"]'));
		if (n) document.querySelector('#pages .fing[data-startid="#n' + n + '"]').dispatchEvent(new MouseEvent("click", { bubbles: true }));
		return n;
	})()`)
	require.NotEqual(t, "undefined", note, "a decided figure comes again")
	require.Contains(t, text(t, ctx, said), "it, too")
	press(t, ctx, "r")
	require.Contains(t, text(t, ctx, said), "Give another digit first")
	press(t, ctx, "3")
	require.Contains(t, text(t, ctx, said), "The same figure has the digit as it was at m")
	press(t, ctx, "r")
	require.Contains(t, text(t, ctx, said), "too.")
	alike := number(t, ctx, theData+`.alike[`+note+`].length`)
	amended := func() (out int) {
		data, err := os.ReadFile(save(t, ctx, "AB"))
		require.NoError(t, err)
		all, _, err := decision.Parse("decisions/walc.AB.yaml", data)
		require.NoError(t, err)
		require.True(t, strings.HasPrefix(string(data[strings.Index(string(data), "\nwhen"):]), string(text0[strings.Index(string(text0), "\nwhen"):])), "what stood there stands")
		for _, d := range all[len(in.Decisions):] {
			require.Equal(t, decision.Amend, d.Verb)
			for _, n := range d.Notes {
				require.Equal(t, []int{3}, n.Fingers)
				out++
			}
		}
		return out
	}
	require.Equal(t, 1+alike, amended())
	press(t, ctx, "r")
	require.Contains(t, text(t, ctx, said), "Here only")
	require.Equal(t, 1, amended())
}
