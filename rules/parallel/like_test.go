package parallel_test

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
)

// A measure of an accompaniment stands again on the same keys, transposed by semitones and by steps of the key,
// however far; another rhythm, another chord and the other hand are no like places.
func TestMeasuresThatStandAgain(t *testing.T) {
	m := newMusic(9)
	m.line(t, score.Left, "C3/4 E3+G3 E3+G3 E3+G3 | G2/4 D3+F3 D3+F3 D3+F3 | C3/4 E3+G3 E3+G3 E3+G3 | "+
		"D3/4 F3+A3 F3+A3 F3+A3 | D3/4 F#3+A3 F#3+A3 F#3+A3 | C3/2 E3+G3/4 E3+G3 | r/1 | C3/4 E3+G3 E3+G3 E3+G3 | C3/1")
	m.line(t, score.Right, "C3/4 E3+G3 E3+G3 E3+G3 | r/1 | r/1 | r/1 | r/1 | r/1 | r/1 | r/1 | r/1")
	p := playing.New(m.score, m.hands)
	like := parallel.NewLike(m.score, p)
	left := 0
	for p.Lines[left].Hand != score.Left {
		left++
	}
	var found []string
	for _, l := range like.Measures(left, 0) {
		require.Len(t, l.To, len(l.From))
		found = append(found, fmt.Sprintf("%d %s %d", l.Measure, l.Kind, l.Shift))
	}
	require.Equal(t, "2 exact 0, 7 exact 0, 3 transposed 2, 4 transposed 2", strings.Join(found, ", "))
	require.Empty(t, like.Measures(left, 8), "a lone note is no figure")
	require.Empty(t, like.Measures(1-left, 0), "the other hand stands alone")
}

// Two notes, or one chord, are too little to be known again on other keys; where they stand again on the same they are alike all the same.
func TestWhatIsTooShortForAFigureIsAlikeOnTheSameKeys(t *testing.T) {
	m := newMusic(7)
	m.line(t, score.Right, "C4/2 E4 | D4/2 F#4 | C4+E4/1 | C4/2 E4 | D4+F4/1 | C4+E4/1 | C4/1")
	like := parallel.NewLike(m.score, playing.New(m.score, m.hands))
	of := func(measure int) (out []int) {
		for _, l := range like.Measures(0, measure) {
			require.Equal(t, parallel.Exact, l.Kind)
			out = append(out, l.Measure)
		}
		return out
	}
	require.Equal(t, [][]int{{3}, nil, {5}, {0}, nil, {2}, nil}, [][]int{of(0), of(1), of(2), of(3), of(4), of(5), of(6)})
}
