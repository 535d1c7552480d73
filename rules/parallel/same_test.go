package parallel_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
)

// Of a return that is taken up within other music the notes at its ends are not the same all round; behind a rest they are.
func TestSameLeavesOutWhatBordersOnOtherMusic(t *testing.T) {
	m := newMusic(4)
	m.line(t, score.Right, "A4/8 C4 D4 E4 F4 G4 E4 A4 | F4 D4 B3 r r/2 | G4/8 C4 D4 E4 F4 G4 E4 A4 | F4 D4 B3 r r/2")
	p := playing.New(m.score, m.hands)
	all := []parallel.Return{{First: []int{1, 2, 9, 10}, Later: []int{12, 13, 20, 21}}}
	same := parallel.Same(m.score, p, all)
	require.Equal(t, []int{2, 9, 10}, same[0].First, "C4 comes from another key")
	require.Equal(t, []int{13, 20, 21}, same[0].Later)

	m.score.Notes[20].Indications = []score.Indication{{Fingers: []int{3}}}
	same = parallel.Same(m.score, p, all)
	require.Equal(t, [][2]int{{9, 20}}, same[0].Given[2], "the text speaks beside the last")
	require.Empty(t, same[0].Given[0])
	text := func(n int) int { return map[int]int{20: 3}[n] }
	require.True(t, same[0].Agrees(2, false, text, func(int) int { return 0 }), "nothing is given here")
	require.True(t, same[0].Agrees(2, false, text, func(int) int { return 3 }))
	require.False(t, same[0].Agrees(2, false, text, func(int) int { return 2 }))
	require.True(t, same[0].Agrees(2, true, text, func(n int) int { return 2 }), "no text stands here")
}

// What lies a third apart in place of a second is other music, though the next interval is the same.
func TestSameTakesStepsOrSemitones(t *testing.T) {
	m := newMusic(4)
	m.line(t, score.Right, "C4/8 D4 E4 F4 r/2 | D4/8 E4 F4 G4 r/2 | C#4/8 D#4 F4 F#4 r/2 | C4/8 E4 F4 G4 r/2")
	p := playing.New(m.score, m.hands)
	pairs := func(later int) []parallel.Return {
		return []parallel.Return{{Kind: parallel.Transposed, First: []int{0, 1, 2, 3}, Later: []int{later, later + 1, later + 2, later + 3}}}
	}
	require.Len(t, parallel.Same(m.score, p, pairs(4))[0].First, 4, "the same steps of the key")
	require.Len(t, parallel.Same(m.score, p, pairs(8))[0].First, 4, "the same semitones")
	require.Equal(t, []int{2, 3}, parallel.Same(m.score, p, pairs(12))[0].First, "those alone that no third stands beside")
}
