package decide_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"

	"github.com/stretchr/testify/require"
)

// A redistribution and the passage that fingers its notes for the hand that had them stand side by side on a page:
// whichever is taken first, the redistribution's digit holds, and the rest of the passage stays.
func TestARedistributionReplacesWhatWasTakenForTheFormerHand(t *testing.T) {
	s := music(t, scale)
	passage := entry("take: notes, when: 2026-01-05", at(2, 0, "G4", ", finger: 4"), at(2, 1, "A4", ", finger: 5"))
	handed := entry("take: redistribution, when: 2026-01-05, to: L", at(2, 1, "A4", ", finger: 1"))
	for i, text := range []string{passage + handed, handed + passage} {
		plan := decide.Place(decide.Input{Score: s, Decisions: decisionsOn(t, "AB", text)})
		require.Equal(t, decide.Digit{Verb: decision.Take, Fingers: []int{1}, By: "AB", Entry: 2 - i}, plan.Digits[5])
		require.Equal(t, 4, plan.Digits[4].Finger())
		require.Equal(t, score.Left, plan.Hands[5])
		require.Empty(t, plan.Contradictions)
	}
	// Taken by another editor, on an earlier day, it gives way too.
	earlier := entry("take: notes, when: 2026-01-02", at(2, 1, "A4", ", finger: 5"))
	plan := decide.Place(
		decide.Input{Score: s, Decisions: append(decisionsOn(t, "CD", earlier), decisionsOn(t, "AB", handed)...)})
	require.Equal(t, 1, plan.Digits[5].Finger())
	require.Empty(t, plan.Contradictions)
	// A redistribution without a digit leaves the note to the search.
	bare := entry("take: redistribution, when: 2026-01-05, to: L", at(2, 1, "A4", ""))
	plan = decide.Place(decide.Input{Score: s, Decisions: decisionsOn(t, "AB", passage+bare)})
	require.Equal(t, decide.Digit{}, plan.Digits[5])
}

// What an editor writes for the hand that has the note now is the last word; what another editor wrote is a
// contradiction.
func TestAnAmendmentBehindARedistributionStands(t *testing.T) {
	s := music(t, scale)
	handed := entry("take: redistribution, when: 2026-01-05, to: L", at(2, 1, "A4", ", finger: 1"))
	amended := entry("amend: notes, when: 2026-01-05", at(2, 1, "A4", ", finger: 2"))
	plan := decide.Place(decide.Input{Score: s, Decisions: decisionsOn(t, "AB", handed+amended)})
	require.Equal(t, 2, plan.Digits[5].Finger())
	plan = decide.Place(decide.Input{Score: s, Decisions: decisionsOn(t, "AB", amended+handed)})
	require.Equal(t, 1, plan.Digits[5].Finger(), "the redistribution was the later word")
	plan = decide.Place(
		decide.Input{Score: s, Decisions: append(decisionsOn(t, "CD", amended), decisionsOn(t, "AB", handed)...)})
	require.Equal(t, decide.Digit{}, plan.Digits[5])
	require.Equal(t, [2]string{"2", "1"}, plan.Contradictions[0].Digits)
	require.Equal(t, score.Left, plan.Hands[5], "which hand plays it is not disputed")
	// Taken on a later day, what is suggested is for the hand that has the note now.
	later := entry("take: notes, when: 2026-02-01", at(2, 1, "A4", ", finger: 3"))
	plan = decide.Place(decide.Input{Score: s, Decisions: decisionsOn(t, "AB", handed+later)})
	require.Equal(t, 3, plan.Digits[5].Finger())
}

// What was taken of the grips that a redistribution changes is open again; what was amended stays, and so does what
// is taken behind it.
func TestGripsThatARedistributionChangesAreOpenAgain(t *testing.T) {
	s := music(t, scale)
	s.Notes[4].Onset, s.Notes[6].Onset = s.Notes[5].Onset, s.Notes[5].Onset // G4 A4 B4 struck together
	before := entry("take: notes, when: 2026-01-05", at(2, 1, "G4", ", finger: 1"), at(2, 3, "C5", ", finger: 4")) +
		entry("amend: notes, when: 2026-01-05", at(2, 1, "B4", ", finger: 3"))
	handed := entry("take: redistribution, when: 2026-01-05, to: L", at(2, 1, "A4", ", finger: 1"))
	plan := decide.Place(decide.Input{Score: s, Decisions: decisionsOn(t, "AB", before+handed)})
	require.Equal(t, []int{0, 1, 3, 4}, []int{
		plan.Digits[4].Finger(), plan.Digits[5].Finger(), plan.Digits[6].Finger(), plan.Digits[7].Finger(),
	})
	plan = decide.Place(decide.Input{Score: s, Decisions: decisionsOn(t, "AB", handed+before)})
	require.Equal(t, 1, plan.Digits[4].Finger())
}
