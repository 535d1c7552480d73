package page

import (
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

// The whole score says which parts it leaves out: a song's page must not look as if its voice did not print.
func TestTheScoreSaysWhichPartsItLeavesOut(t *testing.T) {
	parts := []score.Part{{ID: "P1", Name: "Voice"}, {ID: "P2", Name: "Piano"}, {ID: "P3"}}
	require.Empty(t, unshown(parts[1:2], []string{"P2"}))
	said := unshown(parts, []string{"P2"})
	require.Contains(t, said, "Voice and P3")
	require.NotContains(t, said, "Piano")
}
