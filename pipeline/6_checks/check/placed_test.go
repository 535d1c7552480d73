package check

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A roll and a redistribution are named by their place and not by the name under which a state keeps them.
func TestRollsAreNamedByTheirPlace(t *testing.T) {
	for _, c := range []struct {
		change Change
		want   string
	}{
		{Change{Kind: Roll, New: "roll32-1-L-53 up: F3 C4 G4"}, "rolled chord: was none, is m. 32, left hand: F3 C4 G4, up"},
		{Change{Kind: Roll, New: "roll32-3/2-R-53 down: F3 C4"}, "rolled chord: was none, is m. 32, right hand: F3 C4, down"},
		{
			Change{Kind: Roll, Old: "QV-2026-11-30-roll-21 up: F3 C4"},
			"rolled chord: was m. 21: F3 C4, up (QV, 2026-11-30), is none",
		},
		{Change{Kind: Redistribution, New: "r8-1/2-L-72-reach2 to L: C5=3 E5=1"}, "redistribution: was none, is m. 8: C5=3 E5=1, to L"},
		{
			Change{Kind: Redistribution, New: "RV-2026-11-30-134 to R: C5=3"},
			"redistribution: was none, is m. 134: C5=3, to R (RV, 2026-11-30)",
		},
	} {
		require.Equal(t, c.want, c.change.Sentence())
	}
}
