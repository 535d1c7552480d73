package decide_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/edition"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/fingering"

	"github.com/stretchr/testify/require"
)

// What an edition brings along of notes given to the other hand holds, unless an editor's decision speaks of one of its notes; what does not
// fit the score is left out.
func TestAnEditionBringsItsRedistributionsAlong(t *testing.T) {
	s := music(t, scale)
	offer := func(id string, fingers []int, notes ...int) edition.Redistribution {
		return edition.Redistribution{ID: id, To: score.Left, Why: "so", Notes: notes, Fingers: fingers}
	}
	none := offer("no hand", []int{1}, 6)
	none.To = score.NoHand
	brought := &edition.Embedded{Redistributions: []edition.Redistribution{
		offer("late", []int{2, 3}, 6, 7), offer("early", []int{1}, 0), none,
		offer("beyond", []int{1}, 12), offer("before", []int{1}, -1), offer("empty", nil), offer("too few fingers", []int{1}, 2, 3),
		offer("taken already", []int{4, 4}, 7, 8), offer("last", []int{5}, 11),
	}, Declined: [][]int{{1, 2}, {1, 2}, {0, 1}, {12}, {}, {9, 10}}}
	plan := decide.Place(decide.Input{Score: s, Embedded: brought})
	require.Equal(t, []fingering.Redistribution{
		{ID: "early", To: score.Left, Reason: "decided", Decided: true, Why: "so", Notes: []int{0}, Fingers: []fingering.Finger{1}},
		{ID: "late", To: score.Left, Reason: "decided", Decided: true, Why: "so", Notes: []int{6, 7}, Fingers: []fingering.Finger{2, 3}},
		{ID: "last", To: score.Left, Reason: "decided", Decided: true, Why: "so", Notes: []int{11}, Fingers: []fingering.Finger{5}},
	}, plan.Redistributions)
	hands := make([]score.Hand, 12)
	hands[0], hands[6], hands[7], hands[11] = score.Left, score.Left, score.Left, score.Left
	require.Equal(t, hands, plan.Hands)
	require.Equal(t, [][]int{{1, 2}, {9, 10}}, plan.Declined, "once each, of notes that are there and stay in their hand")

	decided := decisionsOn(t, "AB", entry("take: redistribution, when: 2026-01-05, to: R", at(1, 0, "C4", ", finger: 3"))+entry("stet: redistribution, when: 2026-01-05", at(2, 2, "B4", "")))
	plan = decide.Place(decide.Input{Score: s, Decisions: decided, Embedded: brought})
	var ids []string
	for _, r := range plan.Redistributions {
		ids = append(ids, r.ID)
	}
	require.Equal(t, []string{"AB-2026-01-05-1", "taken already", "last"}, ids, "the editor's word comes first, to take and to decline")
	require.Equal(t, score.Right, plan.Hands[0])
	require.Equal(t, [][]int{{6}, {1, 2}, {9, 10}}, plan.Declined)
}

// Of several words the later day counts, of one day the later in the files; several redistributions stand in the order of the music.
func TestTheOrderOfDecisions(t *testing.T) {
	s := music(t, scale)
	day := func(when, finger string) string {
		return entry("amend: notes, when: "+when, at(1, 0, "C4", ", finger: "+finger))
	}
	for text, want := range map[string]int{
		day("2026-01-01", "1") + day("2026-01-02", "2"):                          2,
		day("2026-01-02", "2") + day("2026-01-01", "1"):                          2,
		day("2026-01-01", "1") + day("2026-01-01", "2"):                          2,
		day("2026-01-03", "3") + day("2026-01-01", "1") + day("2026-01-02", "2"): 3,
	} {
		require.Equal(t, want, decide.Place(decide.Input{Score: s, Decisions: decisionsOn(t, "AB", text)}).Digits[0].Finger(), text)
	}
	given := func(measure, onset int, pitch string) string {
		return entry("take: redistribution, when: 2026-01-05, to: L", at(measure, onset, pitch, ""))
	}
	plan := decide.Place(decide.Input{Score: s, Decisions: decisionsOn(t, "AB", given(2, 0, "G4")+given(3, 0, "C4")+given(1, 0, "C4"))})
	require.Equal(t, [][]int{{0}, {4}, {8}}, [][]int{plan.Redistributions[0].Notes, plan.Redistributions[1].Notes, plan.Redistributions[2].Notes})
}
