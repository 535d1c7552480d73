package suggest

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
)

// More than one digit at a note with a sign are the fingers of its strokes, also where the file writes them as changes on
// the held key: so they stand in the open editions (see givenRow).
func TestDigitsAtASignAreItsRow(t *testing.T) {
	digits := func(fingers ...int) []score.Indication {
		var out []score.Indication
		for i, f := range fingers {
			out = append(out, score.Indication{Fingers: []int{f}, Substitution: i > 0})
		}
		return out
	}
	trill := score.Note{Duration: score.Whole(1), Ornaments: []score.Ornament{{Kind: "trill"}}}
	s, _, ok := signOf(&trill)
	require.True(t, ok)
	for _, c := range []struct {
		row   []int
		left  bool
		fits  bool
		third int
	}{
		{[]int{1, 3}, false, true, 1},
		{[]int{3, 2}, false, false, 0}, // begins on the upper key
		{[]int{3, 2}, true, true, 3},
		{[]int{2, 5, 3, 5}, false, true, 3}, // goes on
		{[]int{2, 2}, false, false, 0},
	} {
		trill.Indications = digits(c.row...)
		row := givenRow(&trill, make([]score.Responsibility, len(c.row)))
		require.Equal(t, c.row, row)
		require.Equal(t, c.fits, s.inOrder(row, c.left), "%v", c.row)
		if c.fits {
			require.Equal(t, c.third, int(only(rowDigit(row, s, 2))), "%v", c.row)
		}
	}
	trill.Indications = digits(4)
	require.Nil(t, givenRow(&trill, make([]score.Responsibility, 1)), "one digit is no row")
	plain := score.Note{Duration: score.Whole(1)}
	_, _, ok = signOf(&plain)
	require.False(t, ok)
}

// A sign on which digits leave one finger for two strokes in a row has no row, nor one whose higher key has the finger
// nearer to the thumb, unless an editor decided it so.
func TestNoRowStrikesTwoKeysWithOneFingerOrAgainstTheHand(t *testing.T) {
	trill, turn := spoken{steps: []int{0, 1, 0}, trill: true}, spoken{steps: []int{1, 0, -1, 0}}
	o := &ornaments{
		rows:  map[int][]int{0: {5, 5, 5}, 1: {1, 3, 1}, 2: {3, 2, 3, 3}, 3: {1, 2, 1, 2}, 4: {3, 2, 1, 2}, 5: {1, 2, 1, 2}},
		steps: map[int]spoken{0: trill, 1: trill, 2: turn, 3: turn, 4: turn, 5: turn},
		said:  map[int]bool{5: true},
	}
	require.Nil(t, o.row(0))
	require.Equal(t, []int{1, 3}, o.row(1))
	require.Nil(t, o.row(2))
	require.Nil(t, o.row(3))
	require.Equal(t, []int{3, 2, 1, 2}, o.row(4))
	require.Equal(t, []int{1, 2, 1, 2}, o.row(5))
	o.left = true
	require.Nil(t, o.row(1))
	require.Nil(t, o.row(4))
}
