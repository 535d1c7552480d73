package proofs

import (
	"os/exec"
	"testing"

	"fingerproof/corpus/shared"

	"github.com/stretchr/testify/require"
)

// An edition that the converter has written anew, record and looks gone: nearly every digit stands where the record has
// it, and none is taken for one that the record does not know.
func TestRecordsFitWhatComesBack(t *testing.T) {
	if _, err := exec.LookPath("musescore3"); err != nil {
		t.Skip("the converter musescore3 (Debian's package of that name) is not installed")
	}
	m := &roundTrips{converter: "musescore3"}
	for _, piece := range []string{"op9-1-chorale", "op7-nocturne"} {
		h, err := m.record(t.Context(), shared.InProject("corpus", "demo", "scores", piece+".musicxml"))
		require.NoError(t, err)
		require.Greater(t, h.Fit, 100, piece)
		require.LessOrEqual(t, h.Lost, h.Fit/50, "%s: the converter keeps the last digit of a substitution only", piece)
		require.Zero(t, h.Unknown, piece)
	}
}
