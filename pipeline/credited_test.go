package pipeline

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// withWitness runs a text of one hand beside one witness S of the composer's.
func withWitness(t *testing.T, text, witness []byte, press bool, policy ...string) *PieceRun {
	t.Helper()
	file := filepath.Join(t.TempDir(), "policy.yaml")
	require.NoError(t, os.WriteFile(file, []byte("extends: default\n"+strings.Join(policy, "\n")+"\n"), 0o644))
	p, err := policies.Load(file)
	require.NoError(t, err)
	w := &PieceRun{
		Piece: &corpus.Piece{ID: "staged", Score: "staged.musicxml", Scoring: corpus.TwoHands,
			Witnesses: []corpus.Witness{
				{Siglum: "S", Score: "s.musicxml", Numbering: "modern", Responsibility: "composer"},
			}},
		Data: text, WitnessData: [][]byte{witness}, Policy: p, Weights: ShippedWeights(), Edition: "staged.musicxml",
		Press: press,
	}
	require.NoError(t, RunPiece(w))
	return w
}

// inPrint spells the digits of the edition, as another program reads them: "4 then 3", "(2)".
func inPrint(t *testing.T, w *PieceRun) (out []string) {
	t.Helper()
	s := readAgain(t, w)
	for i := range s.Notes {
		for k, ind := range s.Notes[i].Indications {
			text := ind.Text
			if ind.Style.Italic {
				text += " italic"
			}
			if ind.Substitution && k > 0 {
				out[len(out)-1] += " then " + text
				continue
			}
			out = append(out, text)
		}
	}
	return out
}

// Where the composer's digits stand alone, those that a witness has are the
// composer's as well: the policy may print them, and nothing else is printed.
func TestTheComposersDigitsOfAWitnessStandAlone(t *testing.T) {
	music := func(right string) []byte {
		return stagedScore(t, stagedTrouble{Right: right, Left: "C3/1 C3+E3+G3+B3+D4+F4"})
	}
	text, witness := music("E4/4 G4=3 C5 B4 A4/1"), music("E4=2/4 G4=3 C5 B4=4 A4/1")
	for prints, want := range map[string][]string{
		"none":     {"3 italic"},
		"composer": {"[2] italic", "3 italic", "[4] italic"},
	} {
		w := withWitness(t, text, witness, false, "digits: composer-only", "witness: {prints: "+prints+"}")
		require.Equal(t, want, inPrint(t, w), prints)
	}
}

// What is open is not marked for press, nor where the composer's digits stand
// alone: neither digits nor alternatives nor what is only offered to the other hand.
func TestNothingOpenIsMarkedWhereItMustNotBe(t *testing.T) {
	trouble := stagedTrouble{Right: "C4+G4+E5/2", Left: "C3/2"} // a tenth, and the left hand near
	offered := func(w *PieceRun) int { return strings.Count(string(w.EditionData), "<fingering") }
	w := stagedWay(t, trouble, "staged.musicxml")
	require.NotEmpty(t, w.Redistributions)
	require.Contains(t, string(w.EditionData), `alternate="yes"`)
	trouble.Set = []string{"digits: composer-only"}
	w = stagedWay(t, trouble, "staged.musicxml")
	require.NotEmpty(t, w.Redistributions, "worked out and told, though not marked")
	require.Zero(t, offered(w))
	require.NotContains(t, string(w.EditionData), "<direction")
	w = withWitness(t, stagedScore(t, trouble), stagedScore(t, trouble), true)
	require.NotEmpty(t, w.Redistributions)
	require.Zero(t, offered(w))
	require.NotContains(t, string(w.EditionData), "<direction")
}

// A digit of a witness is printed as the witness has it, with its change of
// finger; a change worked out here would pass for the composer's. The edition
// alone brings it back.
func TestAChangeOfFingerIsTheWitnesses(t *testing.T) {
	music := func(right string) []byte {
		return stagedScore(t, stagedTrouble{Right: right, Left: "r/1 r/1"})
	}
	text := music("E4/1 (C5/2 G4)")
	change := "<fingering>4</fingering><fingering substitution=\"yes\">1</fingering>"
	witness := []byte(strings.Replace(string(music("E4=4/1 (C5/2 G4)")), "<fingering>4</fingering>", change, 1))
	w := withWitness(t, text, witness, false, "digits: composer-only", "witness: {prints: composer}")
	require.Equal(t, []string{"[4] italic then [1] italic"}, inPrint(t, w))
	note := w.Result.Notes[0]
	require.Equal(t, []int{1}, note.Substitution)
	require.Len(t, note.Source, 2)
	require.True(t, note.Source[1].Substitution)
	require.Equal(t, score.Composer, note.Responsibility)

	again := &PieceRun{
		Piece: &corpus.Piece{ID: "staged", Score: "staged.musicxml", Scoring: corpus.TwoHands},
		Data:  w.EditionData, Policy: w.Policy, Weights: ShippedWeights(), Edition: "staged.musicxml",
	}
	require.NoError(t, RunPiece(again))
	require.Equal(t, string(w.EditionData), string(again.EditionData))
}
