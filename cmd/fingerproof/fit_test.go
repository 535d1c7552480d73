package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// command runs the program and gives its status and what it said.
func command(args ...string) (status int, stdout, stderr string) {
	var out, err bytes.Buffer
	env := &environment{Stdin: strings.NewReader(""), Stdout: &out, Stderr: &err, Getenv: func(string) string { return "" }}
	status = execute(context.Background(), env, args)
	return status, out.String(), err.String()
}

// figurePiece is a piece of five-finger figures from a key on, four measures of the right hand.
func figurePiece(octave int) string {
	var b strings.Builder
	b.WriteString(`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">`)
	for m := range 4 {
		fmt.Fprintf(&b, `<measure number="%d">`, m+1)
		if m == 0 {
			b.WriteString(`<attributes><divisions>2</divisions><time><beats>3</beats><beat-type>4</beat-type></time></attributes>`)
		}
		for _, step := range "CDEFED" {
			fmt.Fprintf(&b, `<note><pitch><step>%c</step><octave>%d</octave></pitch><duration>1</duration><voice>1</voice><type>eighth</type></note>`, step, octave)
		}
		b.WriteString(`</measure>`)
	}
	b.WriteString(`</part></score-partwise>`)
	return b.String()
}

// An editor who avoids the thumb decides the pieces one after the other; the weights follow, check names them as the
// cause of what changes in a piece that was passed before, and a file for other weights is refused.
func TestAHouseFitsItsOwnHand(t *testing.T) {
	root := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(root, name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(root, name), []byte(text), 0o644))
	}
	manifest := "title: Figures\npieces:\n"
	for p := range 9 {
		id := fmt.Sprintf("piece%d", p)
		manifest += fmt.Sprintf("  - {id: %s, score: %s.musicxml}\n", id, id)
		write(id+".musicxml", figurePiece(3+p%3))
	}
	write("collection.yaml", manifest)

	status, _, said := command("fit", root)
	require.Equal(t, exitFailed, status)
	require.Contains(t, said, "0 digits decided in")
	require.Contains(t, said, "hint:")

	// All pieces are passed as suggested; then eight of nine are decided.
	status, _, said = command("run", root, "--excerpts", "0", "--fail-on", "never", "--today", "2026-03-01")
	require.Equal(t, exitClean, status, said)
	status, _, said = command("pass", root, "--piece", "piece8", "--by", "AB", "--today", "2026-03-01", "--anyway", "trial")
	require.Equal(t, exitClean, status, said)
	for p := range 8 {
		var notes strings.Builder
		for m := range 4 {
			for i, step := range "CDEFED" {
				fmt.Fprintf(&notes, "      - {measure: %d, onset: %d/2, pitch: %c%d, finger: %d}\n", m+1, i, step, 3+p%3, []int{2, 3, 4, 5, 4, 3}[i])
			}
		}
		write(fmt.Sprintf("decisions/piece%d.AB.yaml", p), fmt.Sprintf("piece: piece%d\nby: AB\ndecisions:\n  - amend: notes\n    when: 2026-03-02\n    notes:\n%s", p, notes.String()))
	}

	status, printed, said := command("fit", root, "--dry", "--today", "2026-03-03")
	require.Equal(t, exitClean, status, printed+said)
	require.Contains(t, printed, "192 decided digits in 8 pieces")
	require.NoFileExists(t, filepath.Join(root, "house-hand.json"))
	status, printed, said = command("fit", root, "--today", "2026-03-03")
	require.Equal(t, exitClean, status, printed+said)
	require.Contains(t, printed, "house_hand: house-hand.json")
	first, err := os.ReadFile(filepath.Join(root, "house-hand.json"))
	require.NoError(t, err)
	require.Contains(t, string(first), `"piece": "piece7"`)
	require.NotContains(t, string(first), `"piece": "piece8"`, "an open piece is fitted to by nothing")

	// The piece that was not decided follows, and check says why.
	status, printed, said = command("check", root, "--piece", "piece8", "--today", "2026-03-03")
	require.Equal(t, exitClean, status, printed+said)
	write("collection.yaml", "house_hand: house-hand.json\n"+manifest)
	status, printed, said = command("check", root, "--piece", "piece8", "--today", "2026-03-03")
	require.Equal(t, exitDiffers, status, printed+said)
	require.Contains(t, printed, "cause weights")

	// Fitting again starts from the program's weights, not from what was fitted before.
	status, _, said = command("fit", root, "--today", "2026-03-03")
	require.Equal(t, exitClean, status, said)
	again, err := os.ReadFile(filepath.Join(root, "house-hand.json"))
	require.NoError(t, err)
	require.Equal(t, string(first), string(again))

	write("house-hand.json", strings.Replace(string(first), `"base": "`, `"base": "00`, 1))
	status, _, said = command("lint", root)
	require.Equal(t, exitFailed, status)
	require.Contains(t, said, "house-hand.json")
	require.Contains(t, said, "belong to another table")
	require.NoError(t, os.Remove(filepath.Join(root, "house-hand.json")))
	status, _, said = command("lint", root)
	require.Equal(t, exitFailed, status)
	require.Contains(t, said, "names house_hand house-hand.json, which is not there")
}
