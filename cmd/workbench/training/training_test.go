package training

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/learned"
)

// Each fold has the network that was taught without it, from the same material as the shipped one.
func TestEachFoldHasItsNetwork(t *testing.T) {
	for fold := range 5 {
		n := NetworkWithout(fold)
		require.Equal(t, fold, n.Group())
		require.Equal(t, learned.Shipped().Attribution(), n.Attribution())
		require.NotEqual(t, learned.Shipped().File(), n.File())
	}
	require.Equal(t, 5, NetworkWithout(-1).Group(), "the shipped one has seen all")
}
