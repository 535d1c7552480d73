package state

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Notes are found by their numbers, be they close or far apart, and what has no note is nil.
func TestNotesAreFoundByNumber(t *testing.T) {
	for _, numbers := range [][]int{{0, 1, 2, 5}, {3, 900_000_000}, {}} {
		r := Result{}
		for _, n := range numbers {
			r.Notes = append(r.Notes, Note{N: n})
		}
		at := r.ByNumber()
		for i, n := range numbers {
			require.Same(t, &r.Notes[i], at.Of(n))
		}
		for _, n := range []int{-1, 4, 77} {
			require.Nil(t, at.Of(n))
		}
	}
}
