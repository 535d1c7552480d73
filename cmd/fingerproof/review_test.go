package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"fingerproof/corpus/shared"
	"fingerproof/corpus/shared/browsertest"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
)

// An editor decides on the page and saves; the next run honours it: what was taken and amended is the editor's, what
// was amended stands as amended, and none of it is asked again.
func TestTheNextRunHonoursWhatWasDecidedOnThePage(t *testing.T) {
	ctx := browsertest.Open(t)
	root := t.TempDir()
	const id = "op9-3-romance"
	score, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", id+".musicxml"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(root, id+".musicxml"), score, 0o644))
	before := runOn(t, root, id)

	page := "file://" + filepath.Join(root, "out", "review", id+".html")
	saved := filepath.Join(root, "saved")
	require.NoError(t, os.Mkdir(saved, 0o755))
	var choice struct {
		Note, Finger int
		Passage      [][2]int
	}
	var encoded string
	steps := 0 // to the first passage with a real doubt; a finding may stand before it
	require.NoError(t, chromedp.Run(ctx,
		browser.SetDownloadBehavior(browser.SetDownloadBehaviorBehaviorAllow).WithDownloadPath(saved),
		chromedp.Navigate(page),
		browsertest.Forget(),
		chromedp.Evaluate(`1 + [...document.querySelectorAll(".passage")].findIndex((p) => p.querySelector('[data-verb="amend"]') && p.querySelector(".finger.doubt"))`, &steps)))
	require.Positive(t, steps)
	require.NoError(t, chromedp.Run(ctx,
		chromedp.KeyEvent(strings.Repeat("n", steps)), chromedp.KeyEvent("a"),
		chromedp.Evaluate(`(() => { const data = JSON.parse(document.getElementById("data").textContent), note = document.activeElement.dataset.note, c = data.choices[note][0];
			return JSON.stringify({ Note: Number(note), Finger: c.f, Passage: c.p }); })()`, &encoded)))
	require.NoError(t, json.Unmarshal([]byte(encoded), &choice))
	require.NoError(t, chromedp.Run(ctx,
		chromedp.KeyEvent(string(rune('0'+choice.Finger))), chromedp.KeyEvent("a"), chromedp.KeyEvent("t"),
		chromedp.SendKeys("#initials", "AB", chromedp.ByQuery), chromedp.Click("#save", chromedp.ByQuery)))
	name := id + ".AB.yaml"
	require.Eventually(t, func() bool { _, err := os.Stat(filepath.Join(saved, name)); return err == nil }, 10*time.Second, 50*time.Millisecond)

	// The file is one that the program reads strictly.
	data, err := os.ReadFile(filepath.Join(saved, name))
	require.NoError(t, err)
	decisions, whose, err := decision.Parse(name, data)
	require.NoError(t, err, string(data))
	require.Equal(t, id, whose)
	require.GreaterOrEqual(t, len(decisions), 2)
	require.Equal(t, decision.Amend, decisions[0].Verb)

	require.NoError(t, os.Mkdir(filepath.Join(root, decision.Folder), 0o755))
	require.NoError(t, os.Rename(filepath.Join(saved, name), filepath.Join(root, decision.Folder, name)))
	after := runOn(t, root, id)
	for _, s := range choice.Passage {
		n := noteOf(t, after, s[0])
		require.Equal(t, s[1], n.Finger, "note %d stands as amended", s[0])
		require.Equal(t, "editor", n.Responsibility.String())
		require.Nil(t, n.Confidence, "it is not asked again")
	}
	require.NotEqual(t, choice.Finger, noteOf(t, before, choice.Note).Finger)
	decided, carried := 0, false
	for _, d := range decisions {
		for _, ref := range d.Notes {
			if !editorsAt(before, ref) {
				decided++
			}
		}
		carried = carried || d.Returns
	}
	theirs := editors(after) - editors(before)
	if carried {
		require.Greater(t, theirs, decided, "and what was judged once for its returns holds there too")
	} else {
		require.Equal(t, decided, theirs, "every decided note, and no other, is the editor's")
	}
	for _, f := range after.Findings {
		require.NotContains(t, f.Rule, "unplaced")
		require.NotContains(t, f.Message, "unplaced")
	}
}

func runOn(t *testing.T, root, id string) *state.Result {
	t.Helper()
	var stdout, stderr bytes.Buffer
	env := &environment{Stdin: strings.NewReader(""), Stdout: &stdout, Stderr: &stderr, Getenv: func(string) string { return "" }}
	status := execute(context.Background(), env, []string{"run", root, "--out", filepath.Join(root, "out"), "--excerpts", "0", "--fail-on", "never"})
	require.Contains(t, []int{exitClean, exitDiffers}, status, stderr.String())
	data, err := os.ReadFile(filepath.Join(root, "out", "results", id+".json"))
	require.NoError(t, err)
	r, err := state.Decode(data)
	require.NoError(t, err)
	return r
}

func editors(r *state.Result) (n int) {
	for i := range r.Notes {
		if r.Notes[i].Responsibility.String() == "editor" && !r.Notes[i].Tied {
			n++
		}
	}
	return n
}

// editorsAt says that the digit of a note is the editor's. Lines of music give the number of a measure as printed, no index.
func editorsAt(r *state.Result, ref decision.NoteRef) bool {
	return slices.ContainsFunc(r.Notes, func(n state.Note) bool {
		return n.Measure == ref.Printed && n.Onset == ref.Onset && n.Midi == ref.Midi && n.Grace == ref.Grace && n.Responsibility.String() == "editor"
	})
}

func noteOf(t *testing.T, r *state.Result, n int) *state.Note {
	t.Helper()
	for i := range r.Notes {
		if r.Notes[i].N == n {
			return &r.Notes[i]
		}
	}
	t.Fatalf("note %d is not in the results", n)
	return nil
}
