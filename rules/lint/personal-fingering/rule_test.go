package personalfingering

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/lint"

	"github.com/stretchr/testify/require"
)

// Two notes with an editor's digits, and the same keys later: where the program takes these with the same fingers, and no digit
// stands there, it cannot call the editor's personal (from a trial: a digit was told that the program suggested itself in the return).
func TestWhatTheProgramSuggestsElsewhereIsNotPersonal(t *testing.T) {
	for _, c := range []struct {
		name     string
		finger   [2]int // of the later notes
		given    int    // at the first of them
		findings int
	}{
		{"suggested alike", [2]int{2, 3}, 0, 0},
		{"suggested otherwise", [2]int{1, 2}, 0, 1},
		{"an editor's again", [2]int{2, 3}, 2, 1},
	} {
		note := func(at int64, midi int, digits ...score.Indication) score.Note {
			return score.Note{
				Onset: score.Whole(at), Duration: score.Whole(1), Midi: midi, TiedFrom: -1, TiedTo: -1, Indications: digits,
			}
		}
		s := &score.Score{
			Notes: []score.Note{
				note(0, 72, score.Indication{Fingers: []int{2}}), note(1, 74, score.Indication{Fingers: []int{3}}), note(2, 72), note(3, 74),
			},
			Measures: []score.Measure{{Number: "1", Length: score.Whole(4)}},
		}
		r := score.Right
		p := &lint.Inspection{
			Score: s,
			Playing: playing.New(s, playing.Hands{
				Piano: []bool{true, true, true, true}, Hand: []score.Hand{r, r, r, r}, Player: []int{0, 0, 0, 0},
			}),
			Finger:   []int{2, 3, c.finger[0], c.finger[1]},
			Given:    []int{2, 3, c.given, 0},
			Personal: []lint.Personal{{Notes: []int{0, 1}, Own: []int{2, 3}, Many: []int{1, 2}}},
		}
		require.Len(t, lint.Run(p, []*lint.Rule{Rule}, nil), c.findings, c.name)
	}
}
