package all_test

import (
	"slices"
	"testing"

	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// withoutExample are the rules whose fault does not stand in the music of one piece: it lies between the page and
// something beside it, which their documentation tells in words.
var withoutExample = []string{
	"collapses-at-tempo",                                                              // what the engine finds at the tempo
	"redistribution-without-sign",                                                     // a decision
	"decision-contradiction", "decision-query", "decision-stale", "decision-unplaced", // a file of decisions
	"digit-missing",                                                                                               // what the engine makes of the digits around
	"digit-of-witness-lost", "digit-of-witness-moved", "digit-on-note-witness-lacks", "text-differs-from-witness", // a witness
	"digit-of-composer-restyled", "responsibilities-look-alike", "responsibility-unknown", "style-not-in-legend", // the legend
	"parts-read-as-one", // the manifest
	"reach-below-share", // a house style that asks for a share
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
		set := settings(string(e.MusicXML))
		w := &pipeline.PieceRun{
			Piece: &corpus.Piece{ID: r.Name, Score: r.Name + ".musicxml", Scoring: corpus.TwoHands, TextDigits: set.first("digits")},
			Data:  e.MusicXML, Policy: policyOf(t, set.first("policy")), Weights: pipeline.ShippedWeights(), Today: "2026-06-01",
		}
		require.NoError(t, pipeline.RunPiece(w), r.Name)
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
