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

// withoutExample are the rules whose fault lies in the piece as a whole, and so cannot stand in one measure and be put
// right in the next.
var withoutExample = []string{
	"collapses-at-tempo",          // the fingering of a passage, which a return beside it changes
	"parts-read-as-one",           // its parts
	"responsibilities-look-alike", // its legend
}

// The example of a rule is reported in its first measure and not in its second.
func TestExamplesShowTheRule(t *testing.T) {
	for _, r := range all.Rules() {
		e, is := all.ExampleOf(r)
		if !is {
			assert.Contains(t, withoutExample, r.Name, "%s has no example", r.Name)
			continue
		}
		require.NotContains(t, withoutExample, r.Name)
		w, err := pipeline.RunExample(r.Name, &e)
		require.NoError(t, err, r.Name)
		in := func(from, to int) bool {
			return slices.ContainsFunc(w.Remaining, func(f lint.Finding) bool {
				return f.Rule == r.Name && slices.ContainsFunc(append([]int{f.Measure}, f.Again...), func(m int) bool {
					return m >= from && m < to
				})
			})
		}
		assert.True(t, in(0, e.Wrong), "%s is not reported in its example", r.Name)
		assert.False(t, in(e.Wrong, e.Wrong+e.Right), "%s is reported where it is put right", r.Name)
		require.Len(t, w.Score.Measures, e.Wrong+e.Right, r.Name)
	}
}
