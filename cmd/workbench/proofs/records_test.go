package proofs

import (
	"os/exec"
	"path/filepath"
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

// The rolls of an edition come back through the converter as the edition's, by the word beside them: a song with chords
// beyond the hand, most of which the composer rolls.
func TestRollsOfAnEditionComeBack(t *testing.T) {
	song := filepath.Join(shared.Folder(t, "data"), "engraved",
		"Faisst,_Clara_Mathilda_2_Lieder,_Op.8_1_Die_Insel_der_Vergessenheit_lc6164267.mxl")
	if _, err := exec.LookPath("musescore3"); err != nil {
		t.Skip("the converter musescore3 (Debian's package of that name) is not installed")
	}
	m := &roundTrips{converter: "musescore3"}
	h, err := m.record(t.Context(), song)
	require.NoError(t, err)
	require.Positive(t, h.rolls)
	require.Equal(t, h.rolls, h.rollsBack)
}
