package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// fullDisk takes some bytes and no more.
type fullDisk struct{ room int }

func (d *fullDisk) Write(p []byte) (int, error) {
	n := min(len(p), d.room)
	if d.room -= n; n < len(p) {
		return n, errors.New("no space left on device")
	}
	return n, nil
}

// No command ends as if it had said what it could not say, wherever the disk fills.
func TestAFullDiskIsNamedByEveryCommand(t *testing.T) {
	root, write := keepingCollection(t)
	write("decisions/figures.AB.yaml",
		"piece: figures\nby: AB\ndecisions:\n  - {query: notes, when: 2026-03-01, why: so, notes: [{measure: 1, onset: 0, pitch: C4}]}\n")
	score := filepath.Join(root, "figures.musicxml")
	write("other.xml", figurePiece(5))
	for _, args := range [][]string{
		{"run", root, "--excerpts", "0"}, {"pass", root, "--anyway", "a test"}, // what those below need
		{}, {"--help"}, {"run", "--help"}, {"help", "lint"},
		{"policy", "show"}, {"policy", "show", "--json"}, {"policy", "verify", "study"}, {"policy", "schema"},
		{"version"}, {"licences"}, {"handbook"}, {"handbook", "editor"},
		{"explain"}, {"explain", "--list"}, {"explain", "span-beyond-hand"}, {"explain", score, "1"}, {"explain", root, "figures", "1", "--page", "-"},
		{"decisions", "show", "figures", "--in", root}, {"decisions", "template", "figures", "--in", root}, {"decisions"},
		{"lint", score}, {"lint", score, "--report", "json=-"}, {"lint", score, "--report", "summary=-", "--report", "commentary=-"},
		{"run", root, "--excerpts", "0", "--report", "sarif=-"}, {"run", root, "--excerpts", "0", "--press"},
		{"diff", score, filepath.Join(root, "other.xml")}, {"diff", score, score},
		{"check", root}, {"check", root, "--report", "json=-"}, {"check", root, "--policy", "performance"},
		{"pass", root, "--by", "CD", "--anyway", "again"},
		{"take-back", filepath.Join(root, "out", "edition", "figures.musicxml"), filepath.Join(root, "out", "edits", "figures.musicxml.json")},
		{"init", filepath.Join(root, "fresh")},
	} {
		require.NoError(t, os.MkdirAll(filepath.Join(root, "fresh"), 0o755))
		run := func(room int) (int, string) {
			var said bytes.Buffer
			env := &environment{Stdin: strings.NewReader(""), Stdout: &fullDisk{room}, Stderr: &said, Getenv: func(string) string { return "" }}
			return execute(context.Background(), env, args), said.String()
		}
		_, whole, _ := command(args...)
		require.NoError(t, os.RemoveAll(filepath.Join(root, "fresh")))
		require.NoError(t, os.MkdirAll(filepath.Join(root, "fresh"), 0o755))
		if len(whole) == 0 {
			continue // it says nothing there
		}
		if args = append([]string(nil), args...); len(args) > 2 && args[0] == "pass" {
			args[3] = "EF" // else it would be passed as it is, by the first
		}
		status, said := run(0)
		require.Equal(t, exitFailed, status, "%v: %s", args, said)
		require.Contains(t, said, "no space left on device", args)
	}
}
