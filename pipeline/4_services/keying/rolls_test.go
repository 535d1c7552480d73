package keying_test

import (
	"testing"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/keying"

	"github.com/stretchr/testify/require"
)

func TestLinesThatRollChords(t *testing.T) {
	k := twoHands(t)
	k.Passages[0].Rolls = []keying.Roll{{Notes: []int{6, 7}, Reason: "reach"}}
	f := decision.NewFinder(k.Score)
	for line, want := range map[string]decision.Decision{
		"2 r 1 roll":                       {Verb: decision.Take, Direction: decision.Up, Reason: "reach"},
		"2 l 1 roll down":                  {Verb: decision.Take, Direction: decision.Down},
		"2 l 1 roll up: as a harp":         {Verb: decision.Take, Direction: decision.Up, Why: "as a harp"},
		"2 b 1 roll":                       {Verb: decision.Take, Direction: decision.Up},
		"2 l 1 roll no: the hand is large": {Verb: decision.Stet, Why: "the hand is large"},
		"#4 roll":                          {Verb: decision.Take, Direction: decision.Up, Reason: "reach"},
		"#4 roll no":                       {Verb: decision.Stet},
	} {
		all, err := keying.Line(k, f, line)
		require.NoError(t, err, line)
		require.Len(t, all, 1)
		d := all[0]
		require.Equal(t, decision.Roll, d.On)
		require.Len(t, d.Notes, map[bool]int{true: 4, false: 2}[line[2] == 'b'], line)
		d.On, d.By, d.When, d.Notes = "", "", "", nil
		require.Equal(t, want, d, line)
		// It is written and read back as it is.
		text, err := decision.Append("decisions/p.AB.yaml", nil, "p", "AB", nil, all)
		require.NoError(t, err)
		back, _, err := decision.Parse("decisions/p.AB.yaml", text)
		require.NoError(t, err)
		require.Equal(t, all[0].Direction, back[0].Direction)
		require.Equal(t, all[0].Why, back[0].Why)
	}
	for line, want := range map[string]string{
		"2 r roll":   "measure, hand and beat",
		"2 x 1 roll": "or b for both",
		"1 r 1 roll": "no chord is struck on beat 1",
		"2 r 9 roll": "no chord is struck on beat 9",
		"#7 roll":    "no chord of passage #7",
		"#4 up roll": "stands between",
	} {
		_, err := keying.Line(k, f, line)
		require.ErrorContains(t, err, want, line)
	}
	for _, n := range k.Passages[0].Notes {
		k.Fingers[n] = []int{1}
	}
	both, err := keying.Line(k, f, "#4 ok roll down: as a harp")
	require.NoError(t, err)
	require.Len(t, both, 2, "the digits, and the chord that is rolled")
	require.Equal(t, []decision.Subject{decision.Notes, decision.Roll}, []decision.Subject{both[0].On, both[1].On})
	require.Equal(t, decision.Down, both[1].Direction)
	require.Equal(t, "as a harp", both[1].Why)
	k.Passages[0].Rolls = nil
	_, err = keying.Line(k, f, "#4 roll")
	require.ErrorContains(t, err, "none of its chords is found beyond the hand")
	k.Passages[0].Findings = []keying.Found{{Rule: "grip-out-of-reach", Speaks: []int{6, 7}, Notes: []int{6}, Grip: true}}
	rolled, err := keying.Line(k, f, "#4 roll")
	require.NoError(t, err, "its own warning says that it may be rolled")
	require.Len(t, rolled, 1)
	require.Len(t, rolled[0].Notes, 2)
	k.Passages[0].Findings[0].Speaks = []int{4, 7} // a key held and one struck
	_, err = keying.Line(k, f, "#4 roll")
	require.Error(t, err)
	all, err := keying.Line(k, f, "2 r 1 stet grip-out-of-reach: roll")
	require.ErrorContains(t, err, "no finding", "a reason is no roll")
	require.Empty(t, all)
}
