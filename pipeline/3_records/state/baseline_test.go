package state_test

import (
	"testing"

	"fingerproof/pipeline/3_records/state"

	"github.com/stretchr/testify/require"
)

// A finding is known by its music first; its address serves only what is left, and each known finding is found
// again once.
func TestAFindingIsKnownByItsMusicThenByItsAddress(t *testing.T) {
	f := func(music, address, severity string) state.Finding {
		return state.Finding{Rule: "r", Severity: severity, Message: "of " + music, Fingerprint: music, Address: address}
	}
	before := &state.Outcome{
		Piece: "p",
		Findings: []state.Finding{
			f("a", "1", "error"), f("b", "2", "note"), f("c", "3", "note"), f("d", "4", "error"),
		},
		Stets: []state.Stet{{Finding: f("e", "5", "note")}},
	}
	b := state.NewBaseline(state.KnownOf(before))
	// A measure was put in before b, which stands now where c stood; c was corrected; d's severity is another one;
	// a is mended, and at its address stands nothing; e is let stand no more; x is new where nothing was.
	now := &state.Outcome{
		Piece: "p",
		Findings: []state.Finding{
			f("b", "3", "note"), f("c2", "3b", "note"), f("d2", "4", "warning"), f("e", "5", "note"),
			f("x", "9", "error"),
		},
	}
	s := b.Since(now)
	var standing []string
	for i := range now.Findings {
		standing = append(standing, s.Standing(&now.Findings[i]))
	}
	require.Equal(t, []string{"unchanged", "new", "updated", "unchanged", "new"}, standing)
	require.Len(t, s.Absent, 2)
	require.Equal(t, "a", s.Absent[0].Fingerprint)
	require.Equal(t, "c", s.Absent[1].Fingerprint)

	require.Empty(t, b.Since(&state.Outcome{Piece: "p", Problem: "gone"}).Absent,
		"of a piece that failed nothing can be said")
	other := &state.Outcome{Piece: "q", Findings: before.Findings}
	require.Equal(t, "new", b.Since(other).Standing(&other.Findings[0]), "another piece")
}

// Of two faults that are alike the first is mended: the second stands, and is not called gone, though it is the first now of
// its music. Where a measure came before faults that are all alike, none of them is new.
func TestOfFaultsThatAreAlikeTheOneThatStandsIsKnown(t *testing.T) {
	f := func(music, address string) state.Finding {
		return state.Finding{Rule: "r", Severity: "warning", Message: "alike", Fingerprint: music, Address: address}
	}
	b := state.NewBaseline(state.KnownOf(&state.Outcome{Piece: "p", Findings: []state.Finding{f("first", "m. 1"), f("second", "m. 13")}}))
	now := &state.Outcome{Piece: "p", Findings: []state.Finding{f("first", "m. 13")}}
	s := b.Since(now)
	require.Equal(t, "unchanged", s.Standing(&now.Findings[0]))
	require.Len(t, s.Absent, 1)
	require.Equal(t, "m. 1", s.Absent[0].Address)

	now = &state.Outcome{Piece: "p", Findings: []state.Finding{f("first", "m. 2"), f("second", "m. 14")}}
	s = b.Since(now)
	require.Equal(t, "unchanged", s.Standing(&now.Findings[0]))
	require.Equal(t, "unchanged", s.Standing(&now.Findings[1]))
	require.Empty(t, s.Absent)
}
