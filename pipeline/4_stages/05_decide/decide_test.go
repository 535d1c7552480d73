package decide_test

import (
	"strings"
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/decision/decisiontest"
	"fingerproof/pipeline/4_stages/05_decide"

	"github.com/stretchr/testify/require"
)

// Short names for what many tests write.
var (
	parse       = scoretest.Read
	music       = scoretest.Letters
	decisionsOn = decisiontest.Of
)

const scale = scoretest.Scale

func TestTheLastWordOfAnEditorCountsAndEditorsWhoDifferDoNotBind(t *testing.T) {
	s := music(t, scale)
	ab := decisionsOn(t, "AB", `  - {amend: notes, when: 2026-01-05, notes: [{measure: 1, onset: 0, pitch: C4, finger: 2}, {measure: 1, onset: 1, pitch: D4, finger: 3}]}
  - {amend: notes, when: 2026-01-01, notes: [{measure: 1, onset: 0, pitch: C4, finger: 1}]}
`)
	cd := decisionsOn(t, "CD", `  - {take: notes, when: 2026-01-02, notes: [{measure: 1, onset: 0, pitch: C4, finger: 2}, {measure: 1, onset: 1, pitch: D4, finger: 4}]}
`)
	plan := decide.Place(decide.Input{Score: s, Decisions: append(ab, cd...)})
	require.Equal(t, 2, plan.Digits[0].Finger(), "the later day counts, wherever it stands")
	require.Equal(t, 0, plan.Digits[1].Finger())
	require.Len(t, plan.Contradictions, 1)
	require.Equal(t, 1, plan.Contradictions[0].Note)
}

func TestADecisionWhoseNoteIsGoneIsKeptAndAppliedNowhere(t *testing.T) {
	s := music(t, scale)
	f := decision.NewFinder(s)
	d := []decision.Decision{{Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-01-01", Notes: []decision.NoteRef{f.Ref(5, []int{4})}}}
	corrected := music(t, strings.Replace(scale, "G4 A4 B4", "G4 B4 B4", 1))
	plan := decide.Place(decide.Input{Score: corrected, Decisions: d})
	require.Len(t, plan.Unplaced, 1)
	for i := range plan.Digits {
		require.Zero(t, plan.Digits[i].Finger())
	}
	inserted := music(t, strings.Replace(scale, `<measure number="2">`, `<measure number="2">E4 E4 F4 F4</measure><measure number="3">`, 1))
	plan = decide.Place(decide.Input{Score: inserted, Decisions: d})
	require.Empty(t, plan.Unplaced)
	require.Equal(t, 4, plan.Digits[9].Finger())
}

// Where a place was written by hand there is nothing around it to go by: what stands at the place comes first, then the same key in
// the nearest measures.
func TestCandidatesForAPlaceWrittenByHandAreTheNearest(t *testing.T) {
	s := music(t, scale)
	d := decisionsOn(t, "AB", "  - {amend: notes, when: 2026-01-05, notes: [{measure: 2, onset: 0, pitch: C4, finger: 2}]}\n")
	plan := decide.Place(decide.Input{Score: s, Decisions: d})
	require.Len(t, plan.Unplaced, 1)
	require.NotEmpty(t, plan.Unplaced[0].Nearest)
	require.Equal(t, 4, plan.Unplaced[0].Nearest[0].Note, "what stands there now")
	for i := range plan.Digits {
		require.Zero(t, plan.Digits[i].Finger())
	}
}

// A query that digits have answered takes no words from one that was asked again on its note.
func TestWordsAnswerTheQueryThatIsOpen(t *testing.T) {
	s := music(t, scale)
	const asked = `  - {query: notes, when: 2026-01-05, why: 3 here, notes: [{measure: 1, onset: 1, pitch: D4}]}
  - {take: notes, when: 2026-01-05, notes: [{measure: 1, onset: 1, pitch: D4, finger: 4}]}
  - {query: notes, when: 2026-01-05, why: or 2, notes: [{measure: 1, onset: 1, pitch: D4}]}
`
	plan := decide.Place(decide.Input{Score: s, Decisions: decisionsOn(t, "AB", asked)})
	require.Len(t, plan.Queries, 1)
	require.Equal(t, "or 2", plan.Queries[0].Decision.Why)
	const words = "  - {stet: finding, when: 2026-01-05, why: the 4, rule: decision-query, notes: [{measure: 1, onset: 1, pitch: D4}]}\n"
	plan = decide.Place(decide.Input{Score: s, Decisions: decisionsOn(t, "AB", asked+words)})
	require.Empty(t, plan.Queries, "answered in words")
	require.Empty(t, plan.Stets)
}
