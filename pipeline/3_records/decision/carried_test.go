package decision_test

import (
	"testing"

	"fingerproof/pipeline/3_records/decision"

	"github.com/stretchr/testify/require"
)

// What the program writes of a like place is no reason of an editor's; a sentence of theirs is, however it begins.
func TestWhatCameFromALikePlaceHasNoReasonOfItsOwn(t *testing.T) {
	carried := decision.Decision{Why: decision.CarriedFrom("17a")}
	require.Equal(t, "as in m. 17a", carried.Why)
	require.Empty(t, carried.OwnWhy())
	for _, why := range []string{"as in m. 5, where the bass leaps", "as in m. 5 and 9", "keeps the hand light", ""} {
		require.Equal(t, why, (&decision.Decision{Why: why}).OwnWhy())
	}
}
