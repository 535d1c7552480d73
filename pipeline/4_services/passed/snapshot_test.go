package passed_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/passed"

	"github.com/stretchr/testify/require"
)

// Whatever prints or is decided of a note is kept, since check compares nothing else: what a state leaves out could change
// after the piece was passed and nobody would be told.
func TestAStateKeepsOfEachNoteWhatPrintsOrIsDecided(t *testing.T) {
	keeps := passed.SnapshotOf(&state.Result{Notes: []state.Note{
		{N: 0, Measure: "1", Hand: score.Right, Pitch: "C5", Finger: 1},
		{N: 1, Measure: "1", Hand: score.Right, Pitch: "D5", Onset: score.Frac(1, 2), Grace: 2, Finger: 2, Printed: true},
		{N: 2, Measure: "1", Hand: score.Right, Pitch: "E5", Onset: score.Frac(1, 2), Grace: 1, Finger: 3},
		{N: 3, Measure: "2", Hand: score.Left, Pitch: "C3", Finger: 5, Substitution: []int{4, 3}, Responsibility: score.Composer},
		{N: 4, Measure: "2", Hand: score.Left, Pitch: "E3", Finger: 2, Responsibility: score.Editor, Agent: "AB"},
		{N: 5, Measure: "2", Hand: score.Left, Pitch: "F3", Finger: 2, Responsibility: score.Editor},
		{N: 6, Measure: "2", Hand: score.Left, Pitch: "F3", Finger: 2, Responsibility: score.Earlier, Agent: "pupil"},
		{N: 7, Measure: "3", Hand: score.Left, Pitch: "G3"},
		{N: 8, Measure: "3", Hand: score.Right, Pitch: "A4", Finger: 3, Fingers: []int{3, 4, 3}, Printed: true},
		{N: 9, Measure: "3", Hand: score.Right, Pitch: "B4", Finger: 3, Fingers: []int{3, 5}, Printed: true},
		{N: 10, Measure: "3", Hand: score.Right, Pitch: "C5", Finger: 3, Fingers: []int{3, 4, 3}},
		{N: 11, Measure: "3", Hand: score.Right, Pitch: "D5", Finger: 3, Fingers: []int{3}, Printed: true},
	}})
	require.Equal(t, []passed.NoteState{
		{Measure: "1", Hand: score.Right, At: "0", Pitch: "C5", Fingers: "1"},
		{Measure: "1", Hand: score.Right, At: "1/2.g2", Pitch: "D5", Fingers: "2", Printed: true},
		{Measure: "1", Hand: score.Right, At: "1/2.g1", Pitch: "E5", Fingers: "3"},
		{Measure: "2", Hand: score.Left, At: "0", Pitch: "C3", Fingers: "5-4-3", Whose: "composer"},
		{Measure: "2", Hand: score.Left, At: "0", Pitch: "E3", Fingers: "2", Whose: "editor:AB"},
		{Measure: "2", Hand: score.Left, At: "0", Pitch: "F3", Fingers: "2", Whose: "editor"},
		{Measure: "2", Hand: score.Left, At: "0", Pitch: "F3", Fingers: "2", Whose: "earlier"},
		{Measure: "3", Hand: score.Left, At: "0", Pitch: "G3", Fingers: "-"},
		{Measure: "3", Hand: score.Right, At: "0", Pitch: "A4", Fingers: "3", Printed: true, Row: "3-4-3"},
		{Measure: "3", Hand: score.Right, At: "0", Pitch: "B4", Fingers: "3", Printed: true, Row: "3-5"},
		{Measure: "3", Hand: score.Right, At: "0", Pitch: "C5", Fingers: "3"}, // a row that does not print
		{Measure: "3", Hand: score.Right, At: "0", Pitch: "D5", Fingers: "3", Printed: true},
	}, keeps.Notes)
	require.True(t, keeps.Rows, "a state says that it has rows: one without them is an older program's")
}

// A state keeps the second fingers that print, those of an editor before those that are offered; that there is none is said,
// too, since states of older programs did not say.
func TestAStateKeepsTheFingersThatPrintBesideOthers(t *testing.T) {
	of := func(notes ...state.Note) []string { return passed.SnapshotOf(&state.Result{Notes: notes}).Seconds }
	require.Equal(t, []string{
		"m. 4, right hand, 1/2 quarters into the measure, E5: 2",
		"m. 5, left hand, 0 quarters into the measure, C3: 4, for octave hands",
		"m. 6, left hand, 0 quarters into the measure, D3: 3",
	}, of(
		state.Note{N: 3, Measure: "4", Hand: score.Right, Pitch: "E5", Onset: score.Frac(1, 2), Finger: 1, Beside: 2},
		state.Note{N: 4, Measure: "4", Hand: score.Right, Pitch: "F5", Finger: 1},
		state.Note{N: 5, Measure: "5", Hand: score.Left, Pitch: "C3", Finger: 5, Second: 4, SecondFor: "octave hands"},
		state.Note{N: 6, Measure: "6", Hand: score.Left, Pitch: "D3", Finger: 5, Second: 3, Beside: 2},
	))
	require.Equal(t, []string{}, of(state.Note{Measure: "4", Hand: score.Right, Pitch: "E5", Finger: 1}))
}

// What changes hands and what is rolled is kept by its keys, in an order that other findings and offers do not move.
func TestAStateKeepsWhatIsOfferedAndFoundByItsMusic(t *testing.T) {
	r := &state.Result{
		Notes: []state.Note{
			{N: 7, Measure: "1", Hand: score.Right, Pitch: "C4"}, {N: 9, Measure: "1", Hand: score.Right, Pitch: "E4"},
			{N: 11, Measure: "2", Hand: score.Left, Pitch: "G2"},
		},
		Findings: []state.Finding{
			{Rule: "wide-span", Severity: "warning", Message: "a tenth", Measure: "2", Fingerprint: "f2"},
			{Rule: "line-broken", Severity: "note", Message: "the line breaks", Measure: "1", Fingerprint: "f1"},
		},
		Redistributions: []state.Redistribution{
			{ID: "r2", To: score.Right, Notes: []state.RedistributedNote{{N: 11, Finger: 1}}},
			{ID: "r1", To: score.Left, Notes: []state.RedistributedNote{{N: 7, Finger: 2}, {N: 9, Finger: 1}}},
		},
		Rolls: []state.Roll{{ID: "b", Direction: "down", Notes: []int{11}}, {ID: "a", Direction: "up", Notes: []int{7, 9}}},
	}
	keeps := passed.SnapshotOf(r)
	require.Equal(t, []string{
		"f1 note line-broken: " + r.Findings[1].Sentence(), "f2 warning wide-span: " + r.Findings[0].Sentence(),
	}, keeps.Findings)
	require.Equal(t, []string{"r1 to L: C4=2 E4=1", "r2 to R: G2=1"}, keeps.Redistributions)
	require.Equal(t, []string{"a up: C4 E4", "b down: G2"}, keeps.Rolls)
}
