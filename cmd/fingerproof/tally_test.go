package main

import (
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"unsafe"

	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/reports/page"

	"github.com/stretchr/testify/require"
)

// What is gathered of a piece for the end of a run (findings, rows of the index) holds nothing of its text in memory, or a
// run would hold all the scores that it has worked on.
func TestWhatIsGatheredHoldsNoScore(t *testing.T) {
	root := t.TempDir() // without a manifest: titles are those of the scores
	score := strings.Replace(readText(t, shared.InProject("corpus", "demo", "scores", "op9-3-romance.musicxml")),
		"<work-title>Three Album Leaves, Op. 9</work-title>", "", 1) // its movement's title is its only one
	require.NoError(t, os.WriteFile(filepath.Join(root, "romance.musicxml"), []byte(score), 0o644))
	env := &environment{Stdout: io.Discard, Stderr: io.Discard, Getenv: func(string) string { return "" }}
	o := &workOptions{workers: 1, today: "2026-03-01"}
	job, err := o.job(root)
	require.NoError(t, err)
	job.Edition = true
	review := newReviewer(t.Context(), env, 0, job, nil)
	job.After = review.piece
	index := page.NewIndex(job.Collection)
	var text string
	gathered, err := o.workThrough(t.Context(), env, job, func(w *pipeline.PieceRun, failed error) error {
		require.NoError(t, failed)
		text = w.Document.Text
		require.NotZero(t, stringsIn(text, reflect.ValueOf(w.Score)), "what is looked for is found")
		index.Add(review.take(w.Piece.ID).Index)
		return nil
	})
	require.NoError(t, err)
	require.NotEmpty(t, gathered.found.outcomes[0].Findings)
	require.Zero(t, stringsIn(text, reflect.ValueOf(gathered.found.outcomes)))
	require.Zero(t, stringsIn(text, reflect.ValueOf(index)))
}

// stringsIn counts the strings of a value that lie in the memory of a text.
func stringsIn(text string, v reflect.Value) (n int) {
	switch v.Kind() {
	case reflect.String:
		s := v.String()
		from := uintptr(unsafe.Pointer(unsafe.StringData(text)))
		if at := uintptr(unsafe.Pointer(unsafe.StringData(s))); s != "" && at >= from && at < from+uintptr(len(text)) {
			n = 1
		}
	case reflect.Pointer:
		if !v.IsNil() {
			n = stringsIn(text, v.Elem())
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			n += stringsIn(text, v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			n += stringsIn(text, v.Field(i))
		}
	case reflect.Map:
		for each := v.MapRange(); each.Next(); {
			n += stringsIn(text, each.Key()) + stringsIn(text, each.Value())
		}
	}
	return n
}
