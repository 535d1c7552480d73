package suggestions

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/rules/parallel"
)

// Exact repeats within a piece agree in at least 0.98 of the notes: a sample of the engraved songs; `workbench
// returns` measures all.
func TestExactReturnsAreFingeredAlike(t *testing.T) {
	folder := shared.Folder(t, "data/engraved")
	c, err := corpus.Open(folder)
	require.NoError(t, err)
	var got alike
	for i := range c.Pieces {
		if i%45 != 0 {
			continue
		}
		w := programruns.OfFile(c.Path(c.Pieces[i].Score), policies.Default())
		if w.Data == nil || pipeline.RunPiece(w) != nil {
			continue
		}
		got.add(w)
	}
	exact := got[0][0]
	require.Greater(t, exact[1], 300, "too little returns to say anything")
	require.GreaterOrEqual(t, 100*exact[0], 98*exact[1], got.String())
}

// A measure that a hand plays again beside the same strokes has the same fingers, in at least 0.97 of a sample of the engraved songs
// free of digits; 'workbench like-measures' measures all.
func TestMeasuresPlayedAgainAreFingeredAlike(t *testing.T) {
	folder := shared.Folder(t, "data/engraved")
	c, err := corpus.Open(folder)
	require.NoError(t, err)
	m := likeMeasures{policy: policies.Default()}
	var sum [2]int
	for i := range c.Pieces {
		if i%45 != 0 {
			continue
		}
		w := programruns.OfFile(c.Path(c.Pieces[i].Score), policies.Default())
		if w.Data == nil || programruns.UpTo(w, "suggest") != nil {
			continue
		}
		counts, _ := m.count(w, nil)
		for g, n := range counts {
			if g.kind == parallel.Exact && g.beside && !g.given {
				sum[0], sum[1] = sum[0]+n.measures[0], sum[1]+n.measures[1]
			}
		}
	}
	require.Greater(t, sum[1], 50, "too few measures to say anything")
	require.GreaterOrEqual(t, 100*sum[0], 97*sum[1], "%d of %d", sum[0], sum[1])
}

func TestReturnsOfTheDemo(t *testing.T) {
	var out bytes.Buffer
	m := returns{policy: policies.Default(), every: 4}
	require.NoError(t, m.measure(&out, []string{shared.InProject("corpus", "demo")}))
	require.Contains(t, out.String(), "4 scores")
	require.Contains(t, out.String(), "with it: exact")
}
