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

func TestReturnsOfTheDemo(t *testing.T) {
	var out bytes.Buffer
	m := returns{policy: policies.Default(), every: 4}
	require.NoError(t, m.measure(&out, []string{shared.InProject("corpus", "demo")}))
	require.Contains(t, out.String(), "4 scores")
	require.Contains(t, out.String(), "with it: exact")
}
