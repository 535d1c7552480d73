package thin

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/rules/places"

	"github.com/stretchr/testify/require"
)

// doubting is a planner over single notes of one measure each of five, which nothing in the piece repeats.
func doubting(keys, fingers []int) *planner {
	p := printing(keys, fingers)
	p.in.Must, p.in.Style.Digits = make([]bool, len(keys)), "performance"
	standing(p)
	p.memory = memoryFor(p.in)
	p.memory.whole = true
	p.preface = places.NewPreface(inOneMeasure(p.line))
	p.reading = &reading{p.line, p.preface, p.memory}
	return p
}

// What the preface tells and the hand would take otherwise has a digit, in the styles that print more than the letter asks for:
// a finger on a third where the next one lies nearer to what is usual. What both tell has none.
func TestWhatTheHandWouldTakeOtherwiseHasADigit(t *testing.T) {
	keys, fingers := []int{60, 62, 64, 65, 67}, []int{1, 2, 3, 4, 5}
	p := doubting(keys, fingers)
	for e := range keys[1:] {
		require.Equal(t, p.likeliest(e + 1)[0] != fingers[e+1], p.doubted(e+1), "told by position alone: as it is usual or not")
	}
	p.doubts()
	for e := range keys {
		require.Equal(t, p.doubted(e), p.shows(e))
	}
	p.copies[2] = 1
	require.False(t, p.doubted(2), "a figure that is shown already")
	other := doubting([]int{60, 67}, []int{1, 3})
	require.False(t, other.doubted(1), "the preface tells another finger: a digit stands for that reason")
}

// The first chord after a change of key shows its grip; one that was taken before does not, nor do two keys.
func TestTheFirstChordAfterAChangeOfKeyHasItsDigits(t *testing.T) {
	for _, c := range []struct {
		chords [][]int
		fifths []int // of the measure of each
		want   []bool
	}{
		{[][]int{{60, 64, 67}, {60, 65, 69}}, []int{0, 0}, []bool{false, false}},
		{[][]int{{60, 64, 67}, {58, 62, 65}, {58, 62, 65}}, []int{0, -2, -2}, []bool{false, true, false}},
		{[][]int{{60, 64, 67}, {60, 64, 67}, {58, 62, 65}}, []int{0, -2, -2}, []bool{false, false, false}},
		{[][]int{{60, 64, 67}, {60, 64}, {58, 62, 65}}, []int{0, 1, 1}, []bool{false, false, true}},
	} {
		p := &planner{in: Fingered{Score: &score.Score{}}}
		for e, keys := range c.chords {
			ev := event{measure: e, keys: keys}
			for k := range keys {
				ev.notes, ev.fingers = append(ev.notes, len(p.in.Score.Notes)), append(ev.fingers, 2*k+1)
				p.in.Score.Notes = append(p.in.Score.Notes, score.Note{Measure: e})
			}
			p.line = append(p.line, ev)
		}
		n := len(p.in.Score.Notes)
		p.in.Stands, p.in.Must, p.out, p.why = make([]bool, n), make([]bool, n), make([]bool, n), make([]Why, n)
		p.in.Finger = make([]int, n)
		for i := range n {
			p.in.Finger[i] = 1
		}
		standing(p)
		p.in.Score.Measures = make([]score.Measure, len(c.fifths))
		for m, fifths := range c.fifths {
			p.in.Score.Measures[m].Fifths = fifths
		}
		p.newGrips()
		for e, want := range c.want {
			require.Equal(t, want, p.shows(e), "%v, chord %d", c.chords, e+1)
		}
	}
}
