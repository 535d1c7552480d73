package main

import (
	"bytes"
	"testing"

	"fingerproof/corpus"

	"github.com/stretchr/testify/require"
)

// Pages that lack notation are named in the terminal, in the order of the collection.
func TestPagesWithoutNotationAreNamed(t *testing.T) {
	var said bytes.Buffer
	env := &environment{Stderr: &said}
	r := &reviewer{undrawn: map[string]bool{}}
	pieces := []corpus.Piece{{ID: "b"}, {ID: "a"}, {ID: "c"}}
	r.complain(env, pieces)
	require.Empty(t, said.String())
	r.undrawn["a"], r.undrawn["b"] = true, true
	r.complain(env, pieces)
	require.Equal(t, "fingerproof: notation is missing on 2 pages: b and a; each page says why\n"+
		"hint: run again, which tries it once more\n", said.String())
}
