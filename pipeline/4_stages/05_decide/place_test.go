package decide_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/fingering"

	"github.com/stretchr/testify/require"
)

func at(measure, onset int, pitch, more string) string {
	return fmt.Sprintf("{measure: %d, onset: %d, pitch: %s%s}", measure, onset, pitch, more)
}

func entry(head string, notes ...string) string {
	return "  - {" + head + ", notes: [" + strings.Join(notes, ", ") + "]}\n"
}

// Digits hold note by note: where one note of an entry is gone the others stand, and it alone is kept and told. A finding
// stands by any of its notes; all else holds for all of its notes or for none.
func TestDigitsStandThoughANoteOfTheirEntryIsGone(t *testing.T) {
	s := music(t, scale)
	d := decisionsOn(t, "AB", entry("amend: notes, when: 2026-01-05", at(1, 0, "C4", ", finger: 1"), at(2, 0, "C4", ", finger: 2"), at(2, 1, "A4", ", finger: 3")))
	plan := decide.Place(decide.Input{Score: s, Decisions: d})
	require.Len(t, plan.Unplaced, 1)
	require.Equal(t, &d[0].Notes[1], plan.Unplaced[0].Ref)
	require.Equal(t, 2, plan.Placed)
	require.Equal(t, 1, plan.Digits[0].Finger())
	require.Equal(t, 3, plan.Digits[5].Finger(), "each note has its own digit still")
	require.Zero(t, plan.Digits[4].Finger(), "and what stands where the lost one stood has none")
	for _, whole := range []string{"query: notes, when: 2026-01-05, why: so", "take: redistribution, when: 2026-01-05, to: L"} {
		d := decisionsOn(t, "AB", entry(whole, at(1, 0, "C4", ""), at(2, 0, "C4", "")))
		plan := decide.Place(decide.Input{Score: s, Decisions: d})
		require.Len(t, plan.Unplaced, 1, whole)
		require.Zero(t, plan.Placed, whole)
		require.Empty(t, plan.Queries)
		require.Empty(t, plan.Stets)
		require.Equal(t, score.NoHand, plan.Hands[0])
	}
	stet := decisionsOn(t, "AB", entry("stet: finding, when: 2026-01-05, why: so, rule: wide-span", at(1, 0, "C4", ""), at(2, 0, "C4", "")))
	plan = decide.Place(decide.Input{Score: s, Decisions: stet})
	require.Empty(t, plan.Unplaced)
	require.Equal(t, []int{0}, plan.Stets[0].Notes)
	twice := decisionsOn(t, "AB", entry("amend: notes, when: 2026-01-05", at(1, 0, "C4", ", finger: 1"), at(1, 0, "C4", ", finger: 2")))
	plan = decide.Place(decide.Input{Score: s, Decisions: twice})
	require.Contains(t, plan.Unplaced[0].Why, "another of the same decision means already")
	require.Zero(t, plan.Placed, "one of the two is wrong, and which one nobody knows")
	whole := decisionsOn(t, "AB", entry("amend: notes, when: 2026-01-05, print: always, returns: true", at(1, 0, "C4", ", finger: 1-2"), at(2, 1, "A4", ", finger: 3")))
	plan = decide.Place(decide.Input{Score: s, Decisions: whole})
	require.Equal(t, 2, plan.Placed)
	require.Equal(t, decide.Digit{Verb: decision.Amend, Fingers: []int{1, 2}, By: "AB", Always: true, Returns: true, Entry: 1}, plan.Digits[0])
	require.Equal(t, decide.Digit{}, plan.Digits[1])
	require.Empty(t, decide.Place(decide.Input{Score: s}).Queries)
}

// Who asked answers by deciding the notes later in his file; another editor by deciding them on a later day, or in words.
func TestAQueryIsAnswered(t *testing.T) {
	s := music(t, scale)
	asked := entry("query: notes, when: 2026-01-05, why: why so", at(1, 0, "C4", ""), at(1, 1, "D4", ""))
	both := func(verb, when string) string {
		return entry(verb+": notes, when: "+when, at(1, 0, "C4", ", finger: 1"), at(1, 1, "D4", ", finger: 2"))
	}
	words := entry("stet: finding, when: 2026-01-05, why: since it is, rule: decision-query", at(1, 0, "C4", ""))
	open := func(all ...[]decision.Decision) int {
		plan := decide.Place(decide.Input{Score: s, Decisions: slices.Concat(all...), Today: "2026-03-01"})
		return len(plan.Queries)
	}
	ab := func(entries string) []decision.Decision { return decisionsOn(t, "AB", entries) }
	cd := func(entries string) []decision.Decision { return decisionsOn(t, "CD", entries) }
	require.Equal(t, 1, open(ab(asked)))
	require.Equal(t, 1, open(ab(both("take", "2026-01-05")+asked)), "what was decided before is what is asked about")
	require.Equal(t, 0, open(ab(asked+both("take", "2026-01-05"))))
	require.Equal(t, 0, open(ab(asked+both("amend", "2026-01-06"))))
	require.Equal(t, 1, open(ab(asked+entry("take: notes, when: 2026-01-05", at(1, 0, "C4", ", finger: 1")))), "half is no answer")
	require.Equal(t, 1, open(ab(asked), cd(both("take", "2026-01-05"))), "on one day nobody knows who was first")
	require.Equal(t, 1, open(ab(asked), cd(both("take", "2026-01-04"))))
	for when, by := range map[string]string{"2026-01-05": "CD", "2026-01-04": ""} { // and it is said why it is no answer
		plan := decide.Place(decide.Input{Score: s, Decisions: slices.Concat(ab(asked), cd(both("amend", when)))})
		require.Equal(t, by, plan.Queries[0].SameDay)
	}
	require.Equal(t, 0, open(ab(asked), cd(both("take", "2026-01-06"))))
	require.Equal(t, 0, open(ab(asked), cd(words)))
	require.Equal(t, 0, open(ab(asked+words)))
	require.Equal(t, 1, open(ab(asked+entry("query: notes, when: 2026-01-05, why: and here", at(1, 0, "C4", ""))), cd(words)), "one answer, one query")
	late := entry("query: notes, when: 2026-01-06, why: again", at(1, 0, "C4", ""))
	require.Equal(t, 1, open(ab(late), cd(words)), "no answer comes before its question")
	plan := decide.Place(decide.Input{Score: s, Decisions: slices.Concat(ab(asked), cd(words))})
	require.Empty(t, plan.Stets, "the answer lets no finding stand")
	plan = decide.Place(decide.Input{Score: s, Decisions: cd(words)})
	require.Len(t, plan.Stets, 1, "of a query that is gone it is said")
}

// What is asked of a finding of the text is answered by a word on that finding; digits beside it say nothing of it. Of a finding
// of fingers digits are an answer.
func TestAQueryOnAFindingIsAnsweredByWordsOnIt(t *testing.T) {
	s := music(t, scale)
	digits := func(when string) []decision.Decision {
		return decisionsOn(t, "CD", entry("take: notes, when: "+when, at(1, 0, "C4", ", finger: 1")))
	}
	stet := func(rule, when string) []decision.Decision {
		return decisionsOn(t, "CD", entry("stet: finding, when: "+when+", why: so, rule: "+rule, at(1, 0, "C4", "")))
	}
	for rule, byDigits := range map[string]int{"measure-does-not-add-up": 1, "span-beyond-hand": 0} {
		asked := decisionsOn(t, "AB", entry("query: finding, when: 2026-01-05, why: rests here, rule: "+rule, at(1, 0, "C4", "")))
		place := func(more []decision.Decision) []decide.Asked {
			return decide.Place(decide.Input{Score: s, Decisions: slices.Concat(asked, more), Today: "2026-03-01"}).Queries
		}
		require.Len(t, place(digits("2026-01-06")), byDigits, rule)
		require.Empty(t, place(stet(rule, "2026-01-06")), rule)
		require.Len(t, place(stet("unlikely-finger", "2026-01-06")), 1, "a word on something else")
		require.Equal(t, "CD", place(stet(rule, "2026-01-05"))[0].SameDay)
		require.Equal(t, map[int]string{0: "CD", 1: ""}[byDigits], place(digits("2026-01-05"))[0].SameDay, rule)
	}
}

// A stet leaves a digit to the text; where none stands it is idle, and told. A finding let stand expires after its day.
func TestWhatIsLetStand(t *testing.T) {
	s := music(t, scale)
	s.Notes[5].Indications = []score.Indication{{Fingers: []int{3}}}
	d := decisionsOn(t, "AB", entry("stet: notes, when: 2026-01-05", at(2, 1, "A4", ""))+entry("stet: notes, when: 2026-01-06", at(1, 0, "C4", ""))+
		entry("stet: finding, when: 2026-01-07, until: 2026-02-01, why: so, rule: wide-span", at(1, 1, "D4", ""))+
		entry("stet: finding, when: 2026-01-08, why: so, rule: wide-span", at(1, 2, "E4", "")))
	plan := decide.Place(decide.Input{Score: s, Decisions: d, Today: "2026-02-01"})
	require.Equal(t, decision.Stet, plan.Digits[5].Verb)
	require.Zero(t, plan.Digits[5].Finger())
	require.Equal(t, decide.Digit{}, plan.Digits[0])
	require.Len(t, plan.Idle, 1)
	require.Equal(t, []int{0}, plan.Idle[0].Notes)
	require.Equal(t, "no digit stands here that could be let stand", plan.Idle[0].Message)
	expired := func(today string) (out []bool) {
		for _, s := range decide.Place(decide.Input{Score: s, Decisions: d, Today: today}).Stets {
			out = append(out, s.Expired)
		}
		return out
	}
	require.Equal(t, []bool{false, false}, expired("2026-02-01"), "on its last day it holds")
	require.Equal(t, []bool{true, false}, expired("2026-02-02"))
	require.Equal(t, []bool{false, false}, expired(""))
	// A stet and an amendment of two editors contradict each other, and neither binds.
	d = append(d, decisionsOn(t, "CD", entry("amend: notes, when: 2026-01-09", at(2, 1, "A4", ", finger: 4-3")))...)
	plan = decide.Place(decide.Input{Score: s, Decisions: d})
	require.Equal(t, decide.Digit{}, plan.Digits[5])
	require.Equal(t, [2]string{"the text's digit", "4-3"}, plan.Contradictions[0].Digits)
	require.Equal(t, "AB", plan.Contradictions[0].First.By)
	require.Equal(t, "CD", plan.Contradictions[0].Second.By)
	// Two who say the same agree.
	same := append(decisionsOn(t, "AB", entry("take: notes, when: 2026-01-05", at(1, 0, "C4", ", finger: 2"))), decisionsOn(t, "CD", entry("amend: notes, when: 2026-01-04", at(1, 0, "C4", ", finger: 2")))...)
	plan = decide.Place(decide.Input{Score: s, Decisions: same})
	require.Empty(t, plan.Contradictions)
	require.Equal(t, "AB", plan.Digits[0].By, "the later word")
}

// Notes given to the other hand are listed in the order of the music, with the fingers they get; a later word on the same notes replaces an
// earlier one.
func TestNotesGivenToTheOtherHand(t *testing.T) {
	s := music(t, scale)
	d := decisionsOn(t, "AB", entry("take: redistribution, when: 2026-01-05, to: L, why: reach", at(2, 1, "A4", ", finger: 2"), at(2, 0, "G4", ""))+
		entry("take: redistribution, when: 2026-01-04, to: L", at(1, 0, "C4", ", finger: 1"))+
		entry("stet: redistribution, when: 2026-01-06", at(3, 1, "D4", ""), at(3, 0, "C4", ""))+
		entry("query: redistribution, when: 2026-01-06, why: really", at(3, 2, "E4", "")))
	plan := decide.Place(decide.Input{Score: s, Decisions: d})
	require.Equal(t, []fingering.Redistribution{
		{ID: "AB-2026-01-04-1", To: score.Left, Reason: "decided", Decided: true, Notes: []int{0}, Fingers: []fingering.Finger{1}},
		{ID: "AB-2026-01-05-2", To: score.Left, Reason: "decided", Decided: true, Why: "reach", Notes: []int{4, 5}, Fingers: []fingering.Finger{0, 2}},
	}, plan.Redistributions)
	require.Equal(t, score.Left, plan.Hands[4])
	require.Equal(t, score.NoHand, plan.Hands[8])
	require.Equal(t, 2, plan.Digits[5].Finger())
	require.Zero(t, plan.Digits[4].Finger())
	require.Equal(t, [][]int{{8, 9}}, plan.Declined)
	require.Equal(t, []int{10}, plan.Queries[0].Notes)
	later := append(d, decisionsOn(t, "AB", entry("take: redistribution, when: 2026-02-01, to: R, why: after all", at(2, 0, "G4", ""), at(2, 1, "A4", ", finger: 1")))...)
	plan = decide.Place(decide.Input{Score: s, Decisions: later})
	require.Len(t, plan.Redistributions, 2)
	require.Equal(t, "after all", plan.Redistributions[1].Why)
	require.Equal(t, score.Right, plan.Hands[5])
}
