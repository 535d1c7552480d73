package all_test

import (
	"slices"
	"testing"

	"fingerproof/pipeline"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The example of a rule is reported in its first measure and not in its second.
func TestExamplesShowTheRule(t *testing.T) {
	for _, r := range all.Rules() {
		e, is := all.ExampleOf(r)
		require.True(t, is, "%s has no example: examples/%s.musicxml, the fault in its first measures and the same put right next", r.Name, r.Name)
		w, err := pipeline.RunExample(r.Name, &e)
		require.NoError(t, err, r.Name)
		in := func(w *pipeline.PieceRun, from, to int) bool {
			return slices.ContainsFunc(w.Remaining, func(f lint.Finding) bool {
				return f.Rule == r.Name && slices.ContainsFunc(append([]int{f.Measure}, f.Again...), func(m int) bool {
					return m >= from && m < to
				})
			})
		}
		assert.True(t, in(w, 0, e.Wrong), "%s is not reported in its example", r.Name)
		right, first := w, e.Wrong
		if e.PutRight != nil { // the fault lies in the piece as a whole
			right, err = pipeline.RunExample(r.Name, e.PutRight)
			require.NoError(t, err, r.Name)
			first = 0
			require.Len(t, right.Score.Measures, e.Right, r.Name)
		}
		assert.False(t, in(right, first, first+e.Right), "%s is reported where it is put right", r.Name)
		if e.PutRight == nil {
			require.Len(t, w.Score.Measures, e.Wrong+e.Right, r.Name)
		}
	}
}
