package redistribute

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Each reason has a sentence of its own.
func TestEveryReasonHasWords(t *testing.T) {
	said := map[string]string{}
	for _, reason := range Reasons {
		words := reasonWords(reason, "right hand", "left hand")
		require.NotEmpty(t, words, reason)
		require.Empty(t, said[words], "%s says what %s says", reason, said[words])
		said[words] = reason
	}
	require.Len(t, said, len(troubled)+len(ForTheMusic))
}
