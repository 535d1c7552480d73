package pipeline

import (
	"os"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/decision"

	"github.com/stretchr/testify/require"
)

// drafted runs a text with an editor's own copy beside it; nil: its own digits are the draft.
func drafted(t *testing.T, text, copied []byte, press bool, decisions ...decision.Decision) *PieceRun {
	t.Helper()
	w := demoRun(t, "op7-nocturne")
	w.Piece.ID, w.Piece.Score, w.Data, w.DraftData, w.Press = "staged", "staged.musicxml", text, copied, press
	w.Decisions = decisions
	w.Piece.Draft = &corpus.Draft{By: "AB", Score: "copy.musicxml"}
	if copied == nil {
		w.DraftData, w.Piece.Draft.Score = text, ""
	}
	require.NoError(t, RunPiece(w))
	return w
}

// The digits of a draft stand as the editor's own wherever they were typed, unusual ones too, the program goes on from
// them, and none of them is given: each has a confidence and what else could be done.
func TestADraftIsWhereTheFingeringBegins(t *testing.T) {
	right := "C4=2 D4 E4=4 F4 G4 A4 B4 C5"
	text := stagedScore(t, stagedTrouble{Right: right, Left: "C3"})
	bare := stagedScore(t, stagedTrouble{Right: "C4 D4 E4 F4 G4 A4 B4 C5", Left: "C3"})
	for name, w := range map[string]*PieceRun{
		"typed in the text": drafted(t, text, nil, false), "a copy of its own": drafted(t, bare, text, false),
	} {
		notes := w.Result.Notes
		require.Equal(t, []int{2, 4}, []int{notes[0].Finger, notes[2].Finger}, name)
		require.Equal(t, "AB", notes[0].Draft, name)
		require.Empty(t, notes[1].Draft, name)
		require.Equal(t, score.Unattributed, notes[0].Responsibility, name)
		require.NotNil(t, notes[0].Confidence, name)
		require.NotEmpty(t, notes[0].Alternatives, name)
		require.Contains(t, w.Open, 0, name)
		require.Equal(t, 2, w.Result.Draft.Digits, name)
		require.Empty(t, w.Result.Draft.Left, name)
	}
}

// Nothing of a draft prints for press before it is decided, though it stands in the text; the source comes back to the byte.
func TestADraftPrintsNothingForPressBeforeItIsDecided(t *testing.T) {
	text := stagedScore(t, stagedTrouble{Right: "C4=2 D4 E4=4 F4 G4 A4 B4 C5", Left: "C3"})
	w := drafted(t, text, nil, true)
	require.Empty(t, inPrint(t, w))
	back, err := source.TakeBack(w.EditionData, w.Record, source.DefaultLimits())
	require.NoError(t, err)
	require.Equal(t, text, back)

	f := decision.NewFinder(w.Score)
	w = drafted(t, text, nil, true, decision.Decision{
		Verb: decision.Take, On: decision.Notes, By: "AB", When: "2026-03-01", Print: decision.Always,
		Notes: []decision.NoteRef{f.Ref(0, []int{2})},
	})
	require.Len(t, inPrint(t, w), 1)
	require.Equal(t, score.Editor, w.Result.Notes[0].Responsibility)
	require.Empty(t, w.Result.Notes[0].Draft)
}

// What finds no place is left out with its place and the reason: a note that the text does not have, a digit of the
// text's own that is another.
func TestWhatOfADraftFindsNoPlaceIsNamed(t *testing.T) {
	text := stagedScore(t, stagedTrouble{Right: "C4=1 D4 E4 F4 G4 A4 B4 C5", Left: "C3"})
	copied := stagedScore(t, stagedTrouble{Right: "C4=2 D4=3 E4 F4 G4 A4 B4 D6=5", Left: "C3"})
	w := drafted(t, text, copied, false)
	require.Equal(t, 1, w.Result.Draft.Digits)
	var said []string
	for _, l := range w.Result.Draft.Left {
		said = append(said, l.Text+" "+l.Place+": "+l.Why)
	}
	require.Len(t, said, 2)
	require.Contains(t, said[0], "2 m. 1, beat 1, C4: the text has 1 there")
	require.Contains(t, said[1], "D6: the text has C5 there")
}

// Digits of an edition in print, carried as a draft to the same text without digits, stand at the notes they stood at.
func TestADraftOfPrintedDigitsFindsItsNotes(t *testing.T) {
	data, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", "op9-3-romance.musicxml"))
	require.NoError(t, err)
	whole := drafted(t, data, nil, false)
	apart := drafted(t, []byte(whole.Base.Text), data, false)
	require.NotZero(t, whole.Draft.Count())
	require.Equal(t, whole.Draft.Fingers, apart.Draft.Fingers)
}

// A digit on a key that is held from the note before, another finger for a key that a second voice has too, and what the
// program itself suggested in the copy are left out and named; a draft of which most digits find no note is refused.
func TestADraftHoldsNothingThatIsNotTheEditorsFingering(t *testing.T) {
	text := stagedScore(t, stagedTrouble{Right: "C4 D4 E4 F4 G4 A4 B4 C5", Left: "C3"})
	w := demoRun(t, "op7-nocturne")
	w.Piece.ID, w.Piece.Score, w.Data, w.DraftData = "staged", "staged.musicxml", text, stagedScore(t, stagedTrouble{
		Right: "C6=1 D6=2 E6=3 F6=1 G6=2 A6=3 B6=4 C7=5", Left: "C3=1",
	})
	w.Piece.Draft = &corpus.Draft{By: "AB", Score: "copy.musicxml"}
	require.ErrorContains(t, RunPiece(w), "stand at no note of the text")

	// A proof of ours that another program has written again: what it suggested is no draft.
	first := drafted(t, text, stagedScore(t, stagedTrouble{Right: "C4=2 D4 E4=4 F4 G4 A4 B4 C5", Left: "C3"}), false)
	proof := append([]byte(nil), first.EditionData...)
	proof = append(proof, '\n')
	again := drafted(t, text, proof, false)
	require.Zero(t, again.Draft.Count())
}

// A second fingering that an editor decided is printed beside the first, for press too, in the look of an alternative; it
// comes back with the edition, without the decisions.
func TestADecidedAlternativeIsPrintedBesideTheFirst(t *testing.T) {
	text := stagedScore(t, stagedTrouble{Right: "C4 D4 E4 F4 G4 A4 B4 C5", Left: "C3"})
	w := demoRun(t, "op7-nocturne")
	w.Piece.ID, w.Piece.Score, w.Data, w.Press = "staged", "staged.musicxml", text, true
	require.NoError(t, RunUntil(w, "decide"))
	f := decision.NewFinder(w.Score)
	first := decision.Decision{
		Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-03-01",
		Notes: []decision.NoteRef{f.Ref(0, []int{2}), f.Ref(1, []int{3})},
	}
	second := decision.Decision{
		Verb: decision.Amend, On: decision.Alternative, By: "AB", When: "2026-03-01", For: decision.SmallerHands,
		Notes: []decision.NoteRef{f.Ref(0, []int{1}), f.Ref(1, []int{2})},
	}
	read, _, err := decision.Parse("staged.AB.yaml",
		[]byte(decision.Head("staged", "AB")+decision.Entry(first)+decision.Entry(second)))
	require.NoError(t, err)
	w.Decisions = read
	require.NoError(t, RunPiece(w))
	require.Equal(t, []string{"(1) italic", "2 italic", "(2) italic", "3 italic"}, inPrint(t, w))
	require.Equal(t, 1, w.Result.Notes[0].Second)
	require.Equal(t, "smaller hands", w.Result.Notes[0].SecondFor)
	require.Empty(t, w.Decided.Unplaced)
	edition := w.EditionData

	w = demoRun(t, "op7-nocturne") // an alternative to nothing is not printed for press
	w.Piece.ID, w.Piece.Score, w.Data, w.Press, w.Decisions = "staged", "staged.musicxml", text, true, read[1:]
	require.NoError(t, RunPiece(w))
	require.Empty(t, inPrint(t, w))

	again := demoRun(t, "op7-nocturne")
	again.Piece.ID, again.Piece.Score, again.Data, again.Press = "staged", "staged.musicxml", edition, true
	require.NoError(t, RunPiece(again))
	require.Equal(t, string(edition), string(again.EditionData))
	_, _, err = decision.Parse("staged.AB.yaml", []byte(decision.Head("staged", "AB")+
		"  - take: alternative\n    when: 2026-03-01\n    notes:\n      - m. 1: 0 C4=1\n"))
	require.ErrorContains(t, err, "an alternative cannot be met by take")
}
