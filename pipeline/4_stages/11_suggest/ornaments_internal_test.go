package suggest

import (
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

// The value that decisions are read by says of each sign what the search makes of it.
func TestTheRowOfASignIsThatOfTheSearch(t *testing.T) {
	for _, kind := range []string{"trill", "mordent", "inverted-mordent", "turn", "inverted-turn", "delayed-turn", "delayed-inverted-turn", "schleifer", "wavy-line"} {
		n := &score.Note{Duration: score.Frac(1, 1), Ornaments: []score.Ornament{{Kind: kind}}}
		strokes, written := n.RowOfSign()
		s, ok := spokenBy(kind)
		require.Equal(t, ok, strokes > 0, kind)
		if ok {
			require.Len(t, s.steps, strokes, kind)
			require.Zero(t, s.steps[written], kind)
			for _, step := range s.steps[:written] {
				require.NotZero(t, step, kind)
			}
		}
	}
}
