package commentary

import (
	"testing"

	"fingerproof/corpus/printwords"
	"fingerproof/pipeline/4_stages/14_redistribute"

	"github.com/stretchr/testify/require"
)

// A reason without words would stand in print as the policy's key.
func TestEveryReasonOfARedistributionHasWords(t *testing.T) {
	require.NotEmpty(t, redistribute.Reasons)
	for _, reason := range redistribute.Reasons {
		require.True(t, printwords.Has("reason."+reason), reason)
	}
}
