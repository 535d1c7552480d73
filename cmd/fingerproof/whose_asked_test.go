package main

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The question whose digits are is put for one as for many.
func TestTheQuestionWhoseDigitsAre(t *testing.T) {
	require.Equal(t, "a digit stands at 1 note of 1 piece, without the marks of an edition: whose is it? It is taken for the composer's",
		whoseAsked(1, 1, true))
	require.Equal(t, "a digit stands at 1 note of 1 piece: nothing says whose it is, so it is taken for the composer's", whoseAsked(1, 1, false))
	require.Equal(t, "digits stand at 7 notes of 1 piece: so many, and none carries the marks of an edition: whose are they? "+
		"They are taken for the composer's", whoseAsked(7, 1, true))
	require.Contains(t, whoseAsked(91, 2, false), "digits stand at 91 notes of 2 pieces: nothing says whose they are")
}
