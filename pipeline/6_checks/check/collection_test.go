package check_test

import (
	"testing"

	"fingerproof/pipeline/6_checks/check"

	"github.com/stretchr/testify/require"
)

// A key of the house style is told once. A piece of which fingers or digits come of it was passed with the old value, too: it
// counts among those of which that is said.
func TestAKeyIsSaidOfAllPiecesThatWerePassedWithTheOld(t *testing.T) {
	const cause = "policy: hand"
	head := check.Change{Kind: check.Heading, Pitch: "hand", Old: "ninth", New: "octave", Cause: cause}
	finger := check.Change{Kind: check.Fingers, Pitch: "C4", Old: "1", New: "2", Cause: cause}
	of := func(changes ...check.Change) check.Piece { return check.Piece{Changes: changes} }
	out := check.WithCollection([]check.Piece{of(head), of(finger), of(finger, finger)})
	require.Equal(t, check.TheCollection, out[0].ID)
	require.Empty(t, out[0].Notices, "all were")
	out = check.WithCollection([]check.Piece{of(head), of(finger), of()})
	require.Equal(t, []string{"hand: it was ninth when 2 of 3 pieces passed"}, out[0].Notices)
}
