package proofs

import (
	"errors"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/opendatatest"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/compare"
)

// A score that a converter read and wrote has all of its notes and digits at their places. The converter (MuseScore
// 3.2.3 of Debian 12) keeps the last digit of a substitution only, and loses some slurs and ornaments; it writes
// accidentals where a score leaves them to the engraver, ends lines at notes, and gives some rests another value.
// Where a score has none of these, nothing differs.
func TestRoundTripFindsNothingNew(t *testing.T) {
	if _, err := exec.LookPath("musescore3"); err != nil {
		t.Skip("the converter musescore3 (Debian's package of that name) is not installed")
	}
	lost := map[compare.Kind]bool{
		compare.Substitution: true, compare.Slur: true, compare.Ornament: true, compare.Accidental: true,
		compare.Hairpin: true, compare.Pedal: true, compare.Rest: true,
	}
	read, plain := 0, 0
	for _, file := range opendatatest.SmallScores(t, opendatatest.Choice{Of: 60, Most: 12, Bytes: 9_000}) {
		p, err := roundTrip(t.Context(), "musescore3", t.TempDir(), file)
		if errors.Is(err, errMordent) {
			continue
		}
		require.NoError(t, err, file)
		read++
		require.Equal(t, 100_000, p.Covered, "%s: notes without their counterpart", p.ID)
		for _, c := range p.Changes {
			require.Contains(t, lost, c.Kind, "%s: %s", p.ID, c.At().Words(true))
		}
		s, err := opendata.ReadScore(file)
		require.NoError(t, err)
		if !hasWhatIsLost(s) {
			plain++
			require.Empty(t, p.Changes, p.ID)
		}
	}
	require.Greater(t, read, 5, "too few scores to say anything")
	require.Greater(t, plain, 1, "too few scores without slurs, ornaments and substitutions")
}

// hasWhatIsLost says whether a score has anything that the converter may lose.
func hasWhatIsLost(s *score.Score) bool {
	for i := range s.Notes {
		n := &s.Notes[i]
		if len(n.Slurs) > 0 || len(n.Ornaments) > 0 || len(n.Indications) > 1 {
			return true
		}
	}
	return false
}
