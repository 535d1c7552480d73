package places

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// single makes a line of single notes, an eighth each.
func single(keys, fingers []int) []Event {
	var out []Event
	for i := range keys {
		out = append(out, Event{Notes: []int{i}, Keys: []int{keys[i]}, Fingers: []int{fingers[i]}, At: 12 * i, End: 12 * (i + 1),
			Measure: i / 8, Beat: flag(i%2 == 0) + flag(i%8 == 0)})
	}
	return out
}

func TestTheShippedModelIsReadAndWrittenAlike(t *testing.T) {
	require.NotEmpty(t, Shipped().Provenance)
	require.NotEmpty(t, Shipped().Attribution)
	data, err := Shipped().Encode()
	require.NoError(t, err)
	require.Equal(t, string(shippedModel), string(data))
	require.Len(t, Names(), numFeatures)
}

func TestAModelThatLeadsNowhereIsRefused(t *testing.T) {
	data, err := Shipped().Encode()
	require.NoError(t, err)
	for was, reason := range map[string]string{
		`"key",`: "fitted to other features", "\n  [[": "",
	} {
		changed := strings.Replace(string(data), was, strings.Replace(was, "[[", "[[999,0,1,2,0],[", 1)+`"another",`, 1)
		_, err := ReadModel([]byte(changed))
		require.Error(t, err)
		require.Contains(t, err.Error(), reason)
	}
	loop := *Shipped()
	loop.Trees = []Tree{{{Column: 0, Low: 0, High: 1}, {Column: -1}}}
	data, err = loop.Encode()
	require.NoError(t, err)
	_, err = ReadModel(data)
	require.ErrorContains(t, err, "tree 0, node 0 leads nowhere")
}

// In a scale the passing thumb is wanted more than its neighbours (common practice), and its reason is said.
func TestThePassingThumbIsWantedAndSaysSo(t *testing.T) {
	l := Shipped().Line(single([]int{60, 62, 64, 65, 67, 69, 71, 72, 71, 69, 67, 65, 64, 62, 60},
		[]int{1, 2, 3, 1, 2, 3, 4, 5, 4, 3, 2, 1, 3, 2, 1}), 24)
	wanted := l.Wanted()
	for _, e := range []int{2, 4, 5} {
		require.Greater(t, wanted[3][0], wanted[e][0])
	}
	require.Equal(t, "the thumb passes under", l.Reasons(3, 0)[0])
	require.Contains(t, l.Reasons(12, 0), "a finger passes over the thumb")
	require.Contains(t, l.Reasons(0, 0), "the first note of the hand")
}

// What is wanted depends on the music alone: a line sounds in the left hand as in its mirror, but for its own habits, and
// the same line gives the same figures.
func TestTheSameLineIsWantedAlike(t *testing.T) {
	events := single([]int{60, 64, 67, 72, 67, 64}, []int{1, 2, 3, 5, 3, 2})
	require.Equal(t, Shipped().Line(events, 44).Wanted(), Shipped().Line(events, 44).Wanted())
	require.NotEqual(t, Shipped().Line(events, 44).Wanted(), Shipped().Line(events, 5).Wanted())
}

func TestFiguresThatComeAgainAtOnce(t *testing.T) {
	keys := []int{48, 55, 52, 55, 48, 55, 52, 55, 47, 55, 50, 55, 55}
	fingers := []int{5, 1, 3, 1, 5, 1, 3, 1, 5, 1, 4, 1, 1}
	require.Equal(t, []int{-1, -1, -1, -1, 0, 1, 2, 3, -1, -1, -1, -1, 11}, Figures(single(keys, fingers)))
	fingers[6] = 2
	require.Equal(t, -1, Figures(single(keys, fingers))[4], "with other fingers it is another figure")
}

// What goes on by the music alone: an exercise by steps of the scale, an arpeggio and a scale in the next octave; a scale
// within the octave is none, nor is what only goes on in another rhythm.
func TestWhatGoesOnByTheMusicAlone(t *testing.T) {
	none := func(n int) (out []int) {
		for range n {
			out = append(out, -1)
		}
		return out
	}
	exercise := []int{60, 64, 65, 67, 62, 65, 67, 69, 64, 67, 69, 71}
	for e := range 2 { // up and down: each statement turns
		exercise[4*e+3], exercise[4*e+2] = exercise[4*e+2], exercise[4*e+3]
	}
	exercise[10], exercise[11] = exercise[11], exercise[10]
	for why, c := range map[string]struct{ keys, want []int }{
		"an exercise":                    {exercise, []int{-1, -1, -1, -1, 0, 1, 2, 3, 4, 5, 6, 7}},
		"an arpeggio in the next octave": {[]int{48, 52, 55, 60, 64, 67}, []int{-1, -1, -1, 0, 1, 2}},
		"a scale in the next octave":     {[]int{48, 50, 52, 53, 55, 57, 59, 60, 62, 64, 65, 67, 69, 71}, []int{-1, -1, -1, -1, -1, -1, -1, 0, 1, 2, 3, 4, 5, 6}},
		"a scale":                        {[]int{60, 62, 64, 65, 67, 69}, none(6)},
		"other intervals":                {[]int{60, 64, 62, 65, 71, 64}, none(6)},
		"the key struck again":           {[]int{60, 60, 60}, []int{-1, 0, 1}},
	} {
		require.Equal(t, c.want, Sequences(single(c.keys, make([]int, len(c.keys)))), why)
	}
	late := single(exercise, make([]int, 12))
	for e := 5; e < len(late); e++ {
		late[e].At, late[e].End = late[e].At+3*(e-4), late[e].End+3*(e-4)
	}
	require.Equal(t, none(12)[:8], Sequences(late)[:8], "in another rhythm")
	parted := single(exercise, make([]int, 12))
	for e := 4; e < len(parted); e++ {
		parted[e].At, parted[e].End = parted[e].At+200, parted[e].End+200
	}
	require.Equal(t, -1, Sequences(parted)[4], "after a long rest")
}

// An exercise is a copy of its first statement where it takes the same fingers three times and more.
// A figure that comes again at once on the same keys, whatever its fingers, by hand: the longer one counts.
func TestWhatComesAgainAtOnceOnTheSameKeys(t *testing.T) {
	keys := []int{60, 64, 62, 60, 64, 62, 67, 60, 64, 60, 64}
	require.Equal(t, []int{-1, -1, -1, 0, 1, 2, -1, -1, -1, 7, 8}, Repeats(single(keys, make([]int, len(keys)))))
	require.Equal(t, []int{-1, -1, -1}, Repeats(single([]int{60, 60, 60}, make([]int, 3)))[:3], "one key is no figure")
	require.Equal(t, []int{-1, -1, -1, -1, 0, 1, 2, 3}, Repeats(single([]int{60, 64, 60, 67, 60, 64, 60, 67}, make([]int, 8))))
	require.Equal(t, []int{-1, -1, -1, -1}, Repeats(single([]int{60, 64, 62, 65}, make([]int, 4))), "other keys")
}

func TestAnExerciseNeedsItsDigitsOnce(t *testing.T) {
	var keys, fingers []int
	for _, first := range []int{60, 62, 64, 65} {
		keys, fingers = append(keys, first, first+5, first+3), append(fingers, 1, 4, 3)
	}
	require.Equal(t, []int{-1, -1, -1, 0, 1, 2, 3, 4, 5, 6, 7, 8}, Copies(single(keys, fingers)))
	require.Equal(t, Figures(single(keys[:9], fingers[:9])), Copies(single(keys[:9], fingers[:9])), "twice more is none")
	fingers[7] = 5
	require.Equal(t, -1, Copies(single(keys, fingers))[3], "with other fingers")
}
