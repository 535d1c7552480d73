package decide_test

import (
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/edition"
	"fingerproof/pipeline/4_stages/05_decide"

	"github.com/stretchr/testify/require"
)

func TestAChordIsDecidedToBeRolled(t *testing.T) {
	note := scoretest.Note
	sign := func(s string) string { return "<notations>" + s + "</notations>" }
	s := scoretest.Piano(t, note("C3", 4, 5, 2, "")+note("E4", 4, 5, 2, "<chord/>")+
		note("D3", 4, 5, 2, sign("<arpeggiate/>"))+note("F4", 4, 5, 2, "<chord/>"+sign("<arpeggiate/>"))+
		note("E3", 4, 5, 2, sign(`<non-arpeggiate type="bottom"/>`))+note("G4", 4, 5, 2, "<chord/>"+sign(`<non-arpeggiate type="top"/>`)))
	place := func(text string) *decide.Placed {
		return decide.Place(decide.Input{Score: s, Decisions: decisionsOn(t, "AB", text)})
	}
	plan := place("  - {take: roll, when: 2026-01-05, direction: down, why: a lute, notes: [m. 1: 0 C3+E4]}\n")
	require.Len(t, plan.Rolls, 1)
	require.Equal(t, []int{0, 1}, plan.Rolls[0].Notes)
	require.True(t, plan.Rolls[0].Down && plan.Rolls[0].Decided)
	require.Equal(t, "a lute", plan.Rolls[0].Why)
	require.Equal(t, []score.Rolling{score.RolledDown, score.RolledDown, score.Struck}, plan.Rolling[:3])

	// The later word holds, whichever it is.
	no := "  - {stet: roll, when: 2026-01-06, notes: [m. 1: 0 C3+E4]}\n"
	yes := "  - {take: roll, when: 2026-01-07, notes: [m. 1: 0 C3+E4]}\n"
	plan = place(yes + no) // in the order of their days
	require.Len(t, plan.Rolls, 1)
	require.False(t, plan.Rolls[0].Down)
	require.Empty(t, plan.Unrolled)
	plan = place("  - {take: roll, when: 2026-01-05, notes: [m. 1: 0 C3+E4]}\n" + no)
	require.Empty(t, plan.Rolls)
	require.Equal(t, [][]int{{0, 1}}, plan.Unrolled)
	require.False(t, plan.Rolling[0].Rolls())

	// What the composer has said is not ours to decide.
	for text, why := range map[string]string{
		"  - {take: roll, when: 2026-01-05, notes: [m. 1: 1 D3+F4]}\n": "rolled already",
		"  - {stet: roll, when: 2026-01-05, notes: [m. 1: 1 D3+F4]}\n": "not ours to take away",
		"  - {take: roll, when: 2026-01-05, notes: [m. 1: 2 E3+G4]}\n": "the text has a bracket",
	} {
		plan = place(text)
		require.Empty(t, plan.Rolls)
		require.Len(t, plan.Idle, 1, text)
		require.Contains(t, plan.Idle[0].Message, why)
	}

	// What an edition brings along holds where no decision speaks of it.
	carried := &edition.Embedded{Rolls: []edition.Roll{{ID: "x", By: "CD", Notes: []int{0, 1}}}}
	plan = decide.Place(decide.Input{Score: s, Embedded: carried})
	require.Equal(t, "CD", plan.Rolls[0].By)
	plan = decide.Place(decide.Input{Score: s, Embedded: carried, Decisions: decisionsOn(t, "AB", no)})
	require.Empty(t, plan.Rolls)
}
