package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/pipeline/3_records/decision"

	"github.com/stretchr/testify/require"
)

// Where the file of the last piece cannot be written, those of the pieces before it are as they were, and nothing is
// left for undo to take out.
func TestDecisionsAreAddedToAllPiecesOrToNone(t *testing.T) {
	root := t.TempDir()
	dir := filepath.Join(root, decision.Folder)
	require.NoError(t, os.MkdirAll(dir, 0o755))
	env := &environment{Stdin: strings.NewReader(""), Stdout: &bytes.Buffer{}, Stderr: &bytes.Buffer{}}
	one := []decision.Decision{{
		Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-03-01",
		Notes: []decision.NoteRef{{Printed: "1", Index: -1, Pitch: "C4", Midi: 60, Fingers: []int{1}}},
	}}
	require.NoError(t, addDecisions(context.Background(), env, root, "AB", "first", []addition{{piece: "one", decisions: one}}))
	before := readText(t, dir, "one.AB.yaml")
	// The link leads into a folder that is not there: it reads as no file, and cannot be written.
	require.NoError(t, os.Symlink(filepath.Join(root, "gone", "file"), filepath.Join(dir, "two.AB.yaml")))

	err := addDecisions(context.Background(), env, root, "AB", "second", []addition{
		{piece: "one", decisions: one}, {piece: "fresh", decisions: one}, {piece: "two", decisions: one},
	})
	require.ErrorContains(t, err, "no file of decisions is changed")
	require.Equal(t, before, readText(t, dir, "one.AB.yaml"))
	require.NoFileExists(t, filepath.Join(dir, "fresh.AB.yaml"))
	require.NoError(t, undo(context.Background(), env, dir))
	require.Equal(t, before, readText(t, dir, "one.AB.yaml"), "the batch that was not added is passed over")
	require.NoError(t, undo(context.Background(), env, dir))
	require.NoFileExists(t, filepath.Join(dir, "one.AB.yaml"))
}

// What cannot be put back since somebody wrote it meanwhile is left as it is, and named.
func TestWhatCannotBePutBackIsNamed(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{"a.yaml": "added", "b.yaml": "added, and more by hand"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	added, before := []byte("added"), []byte("before")
	err := replaceBack(dir, []string{"a.yaml", "b.yaml"}, [][]byte{added, added}, [][]byte{before, nil})
	require.ErrorContains(t, err, "not put back: "+filepath.Join(dir, "b.yaml"))
	require.ErrorContains(t, err, "was changed by someone else meanwhile")
	require.Equal(t, "before", readText(t, dir, "a.yaml"))
	require.Equal(t, "added, and more by hand", readText(t, dir, "b.yaml"))
}
