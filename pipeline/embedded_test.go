package pipeline

import (
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"

	"github.com/stretchr/testify/require"
)

// What the editors settled goes along with the edition: read without the
// decisions it is settled still, in any style and back, byte for byte, printed
// there or not; new decisions come before it.
func TestWhatWasSettledGoesAlongWithTheEdition(t *testing.T) {
	text := stagedScore(t, stagedTrouble{
		Right: "C4+G4+E5/2 (D5=3/4 E5) F5 G5 A5 B5 D4+A4+F5/2 C5", Left: "C3/2 F3/4 G3 A3 B3 C4 D4 D3/2 C3",
	})
	note := func(onset int64, pitch string, midi int, fingers ...int) decision.NoteRef {
		return decision.NoteRef{Printed: "1", Onset: score.Whole(onset), Pitch: pitch, Midi: midi, Fingers: fingers}
	}
	decisions := []decision.Decision{
		{
			Verb: decision.Take, On: decision.Redistribution, By: "AB", When: "2026-03-01", To: score.Left,
			Why: "small hands", Notes: []decision.NoteRef{note(0, "C4", 60, 1)},
		},
		{
			Verb: decision.Stet, On: decision.Redistribution, By: "AB", When: "2026-03-01",
			Why: "as written", Notes: []decision.NoteRef{note(8, "D4", 62)},
		},
		{
			Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-03-01",
			Notes: []decision.NoteRef{note(2, "D5", 74, 2), note(4, "F5", 77, 5, 1)},
		},
		{
			Verb: decision.Take, On: decision.Notes, By: "CD", When: "2026-03-01", Print: decision.Always,
			Notes: []decision.NoteRef{note(5, "G5", 79, 2)},
		},
	}
	run := func(data []byte, digits string, decisions []decision.Decision) *PieceRun {
		w := &PieceRun{
			Piece: &corpus.Piece{ID: "staged", Score: "staged.musicxml", Scoring: corpus.TwoHands},
			Data:  data, Weights: ShippedWeights(), Edition: "staged.musicxml", Decisions: decisions,
			Policy: policyWith(t, "digits: "+digits, "marks: {tradition: composer-upright}"),
		}
		require.NoError(t, RunPiece(w))
		require.Empty(t, w.Decided.Unplaced)
		return w
	}
	for _, digits := range []string{"every-note", "performance", "sparse", "composer-only"} {
		once := run(text, digits, decisions)
		alone := run(once.EditionData, digits, nil)
		require.Equal(t, string(once.EditionData), string(alone.EditionData), digits)
		require.Equal(t, once.Result.Notes, alone.Result.Notes, digits)
		require.Equal(t, once.Result.Redistributions, alone.Result.Redistributions, digits)
		for _, other := range []string{"sparse", "every-note"} {
			there := run(once.EditionData, other, nil)
			require.Equal(t, run(text, other, decisions).Result.Notes, there.Result.Notes, "%s, then %s", digits,
				other)
			require.Equal(t, string(once.EditionData), string(run(there.EditionData, digits, nil).EditionData),
				"%s, %s and back", digits, other)
		}
		again := run(once.EditionData, digits, []decision.Decision{
			{
				Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-04-01",
				Notes: []decision.NoteRef{note(5, "G5", 79, 4)},
			},
		})
		for i := range again.Score.Notes {
			if again.Score.Notes[i].Midi == 79 {
				require.Equal(t, decide.Digit{Verb: decision.Amend, Fingers: []int{4}, By: "AB", Entry: 5, Along: true}, again.Bound[i])
			}
		}
	}
}
