package review_test

import (
	"testing"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"

	"github.com/stretchr/testify/require"
)

// Two places of one finding may have the same note for their anchor: it is named once, since a decision that named it twice
// would lose one of the two.
func TestANoteOfTwoPlacesIsNamedOnce(t *testing.T) {
	r := toJudge()
	f := state.Finding{At: []int{5, 9, 9}, Notes: []int{5}}
	require.Equal(t, []int{5, 9}, review.StandsBy(r.ByNumber(), r, &f))
}
