package thin

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fingerproof/corpus/score"
)

// costOf is what a way of reading costs: each grip by itself and each move from one to the next.
func costOf(line []event, fingers [][]int) (sum int) {
	for e := range line {
		sum += gripUnease(line[e].keys, fingers[e])
		if e > 0 && !line[e].apart {
			sum += moveUnease(&line[e-1], fingers[e-1], &line[e], fingers[e])
		}
	}
	return sum
}

// Brute force over all rising fingers that agree with what is printed is the oracle: the reader takes the easiest.
func TestTheReaderTakesTheEasiestWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := make([]event, rapid.IntRange(1, 4).Draw(t, "events"))
		known := make([][]int, len(line))
		for e := range line {
			key := rapid.IntRange(55, 70).Draw(t, "key")
			for range rapid.IntRange(1, 2).Draw(t, "keys") {
				line[e].keys = append(line[e].keys, key)
				key += rapid.IntRange(1, 9).Draw(t, "up")
			}
			line[e].apart = rapid.IntRange(0, 5).Draw(t, "apart") == 0
			known[e] = make([]int, len(line[e].keys))
			if rapid.IntRange(0, 2).Draw(t, "known") == 0 {
				known[e][0] = rapid.IntRange(1, 3).Draw(t, "finger")
			}
		}
		best := 1 << 30
		var walk func(e int, fingers [][]int)
		walk = func(e int, fingers [][]int) {
			if e == len(line) {
				best = min(best, costOf(line, fingers))
				return
			}
			for _, g := range grips[len(line[e].keys)] {
				if agrees(g, known[e]) {
					walk(e+1, append(slices.Clone(fingers), g))
				}
			}
		}
		walk(0, nil)
		got := memory(nil).decode(line, 0, len(line), known)
		for e := range line {
			require.True(t, agrees(got[e], known[e]), "printed digits stand")
		}
		require.Equal(t, best, costOf(line, got))
	})
}

// A stretch of the line is read as the whole line is, where its ends are known.
func TestAStretchIsReadAsTheLineIs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := make([]event, 6)
		known := make([][]int, len(line))
		for e := range line {
			line[e].keys, known[e] = []int{rapid.IntRange(58, 72).Draw(t, "key")}, []int{0}
		}
		known[1], known[4] = []int{rapid.IntRange(1, 5).Draw(t, "finger")}, []int{rapid.IntRange(1, 5).Draw(t, "finger")}
		whole := memory(nil).decode(line, 0, len(line), known)
		require.Equal(t, whole[1:5], memory(nil).decode(line, 1, 5, known[1:5]))
	})
}

// Where no rising fingers agree with what is printed, the printed digits stand and the rest is unknown; a key struck by two voices has
// one finger.
func TestPrintedDigitsOverruleTheReader(t *testing.T) {
	got := states(&event{keys: []int{60, 64, 67}}, []int{5, 0, 1})
	require.Equal(t, []readerState{{[]int{5, 0, 1}, 0}}, got)
	require.Equal(t, []readerState{{[]int{0, 0, 0, 0, 0, 0}, 0}}, states(&event{keys: []int{60, 61, 62, 63, 64, 65}}, make([]int, 6)), "six keys")
	require.Len(t, states(&event{keys: []int{60, 64}}, []int{0, 0}), 10)
	require.Len(t, states(&event{keys: []int{60, 64}}, []int{2, 0}), 3)
	require.Equal(t, [][]int{{1, 1, 2}, {1, 1, 3}, {1, 1, 4}, {1, 1, 5}}, gripsOn([]int{60, 60, 64})[:4])
	require.Len(t, gripsOn([]int{60, 60, 64}), 10)
	for k, n := range []int{1, 5, 10, 10, 5, 1} { // rising choices of k fingers out of five
		require.Len(t, grips[k], n, "%d fingers", k)
	}
	require.Equal(t, []int{1, 2, 3}, grips[3][0])
	require.Equal(t, []int{3, 4, 5}, grips[3][9])
}

// How far two fingers in a row are from lying at ease, by the distance from the first key up to the second, in semitones. The relaxed
// spans are those of the ergonomic model (FACTS, the published span table); the rest is common practice.
func TestTheStrainOfAMove(t *testing.T) {
	for _, c := range []struct{ from, to, distance, want int }{
		{1, 1, 0, 0}, {3, 3, 0, 0},
		{1, 2, 0, 6}, {4, 2, 0, 6}, // another finger on the same key
		{2, 2, 2, 9}, {2, 2, -7, 11}, // one finger on two keys, the farther the worse
		{1, 2, 2, 0}, {1, 2, 5, 0}, {1, 2, 7, 4}, // 1-2 rests on one to five semitones
		{2, 3, 2, 0}, {2, 3, 3, 2}, {3, 2, -2, 0}, {3, 2, -4, 4},
		{1, 5, 7, 0}, {1, 5, 10, 0}, {1, 5, 12, 4}, {1, 5, 5, 4}, // cramped below seven
		{1, 3, -2, 7}, {3, 1, 2, 7}, {1, 4, -4, 9}, // the thumb passes
		{2, 3, -2, 22}, {4, 3, 1, 21}, // a finger over another
	} {
		require.Equal(t, c.want, strain[c.from][c.to][reduced(c.distance)], "%d to %d, %d semitones", c.from, c.to, c.distance)
	}
	require.Equal(t, strain[1][2][reduced(30)], strain[1][2][reduced(45)], "all that is wider strains alike")
	require.Equal(t, strain[1][2][reduced(-30)], strain[1][2][reduced(-45)])
	require.NotEqual(t, strain[1][2][reduced(29)], strain[1][2][reduced(30)])
	// A move of chords is the mean of what all pairs of fingers strain, four times.
	one := moveUnease(&event{keys: []int{60}}, []int{1}, &event{keys: []int{67}}, []int{2})
	require.Equal(t, 4*4, one)
	two := moveUnease(&event{keys: []int{60, 64}}, []int{1, 2}, &event{keys: []int{67}}, []int{2})
	require.Equal(t, 4*(4+9)/2, two)
}

// Spans in chords as printed in fingered editions: where one in twenty is nearer, the middle, where one in twenty is farther, and how
// often the pair is met (our own count over openly licensed scores; 3-4, of which there are few, as in lines).
const printedSpans = `1-2 24 47 85 326, 1-3 38 47 118 602, 1-4 47 96 141 344, 1-5 94 118 164 302, 2-3 24 41 68 196,
2-4 35 47 79 579, 2-5 69 95 129 402, 3-4 0 24 47 100, 3-5 38 47 82 416, 4-5 24 47 56 97`

func TestTheUneaseOfAGrip(t *testing.T) {
	got := ""
	for f := 1; f <= 5; f++ {
		for g := f + 1; g <= 5; g++ {
			p := chordSpans[f][g]
			got += fmt.Sprintf(", %d-%d %d %d %d %d", f, g, p.low, p.middle, p.high, p.often)
		}
	}
	require.Equal(t, strings.ReplaceAll(printedSpans, "\n", " "), got[2:])
	// At the middle a grip costs how seldom it is met, in eighths of a nat; where one in twenty lies farther, twelve more.
	require.Equal(t, 15, chordSpans.unease(1, 3, 60, 64), "1-3 on c e, 602 of 4,000: 8·ln(4000/602)")
	require.Equal(t, 20, chordSpans.unease(1, 2, 60, 64), "1-2 on c e, 326: 8·ln(4000/326)")
	octave := chordSpans.unease(1, 5, 60, 72) // 164.5 mm: one in twenty is wider
	require.Equal(t, 12+21, octave)
	require.Zero(t, chordSpans.unease(2, 2, 60, 60))
	require.Greater(t, chordSpans.unease(2, 3, 60, 67), chordSpans.unease(2, 3, 60, 65), "the wider the worse")
	require.Greater(t, chordSpans.unease(1, 5, 60, 62), chordSpans.unease(1, 5, 60, 66), "the more cramped the worse")
	// Neighbours and the outer two of three keys count; of a single key whether thumb or fifth lies on black.
	require.Equal(t, chordSpans.unease(1, 3, 60, 64)+chordSpans.unease(3, 5, 64, 67)+chordSpans.unease(1, 5, 60, 67), gripUnease([]int{60, 64, 67}, []int{1, 3, 5}))
	require.Equal(t, chordSpans.unease(1, 3, 60, 64), gripUnease([]int{60, 64}, []int{1, 3}))
	require.Equal(t, []int{6, 0, 3, 0}, []int{gripUnease([]int{61}, []int{1}), gripUnease([]int{61}, []int{3}), gripUnease([]int{61}, []int{5}), gripUnease([]int{60}, []int{1})})
}

// The reader of sparse editions takes a turn as it was taken where it came last, and minds another way.
func TestTheReaderRemembersTurns(t *testing.T) {
	line := []event{{keys: []int{60}}, {keys: []int{67}}, {keys: []int{60}}, {keys: []int{67}}, {keys: []int{67}}}
	known := [][]int{{1}, {4}, {1}, {0}, {0}}
	plain := memory(nil).decode(line, 0, 5, known)
	require.NotEqual(t, []int{4}, plain[3], "by itself it would take another finger")
	require.Equal(t, []int{4}, memoryFor("sparse").decode(line, 0, 5, known)[3], "as before")
	require.Nil(t, memoryFor("study"))
	line[3].apart = true
	require.NotEqual(t, []int{4}, memoryFor("sparse").decode(line, 0, 5, known)[3], "after a long rest it has forgotten")
	m := memory{}
	m.learn(line, 0, 1, func(e int) []int { return known[e] })
	require.Equal(t, []int{4}, m.recall(&line[0], []int{1}, &line[1]))
	require.Nil(t, m.recall(&line[0], []int{2}, &line[1]), "with other fingers it is another turn")
	require.Nil(t, m.recall(&line[1], []int{4}, &line[0]))
	require.Nil(t, m.recall(&line[0], []int{1}, &event{keys: []int{68}}))
	move := moveUnease(&line[0], []int{1}, &line[1], []int{2})
	require.Equal(t, []int{move, 0, move + 3}, []int{m.moveUnease(&line[0], []int{1}, &line[1], []int{2}, nil), m.moveUnease(&line[0], []int{1}, &line[1], []int{2}, []int{2}),
		m.moveUnease(&line[0], []int{1}, &line[1], []int{2}, []int{3})})
}

// still makes a planner over a line of five neighbours up and down, where the hand lies still, with the reader agreeing everywhere.
func still(digits string, n int) *planner {
	p := &planner{in: Fingered{Style: Style{Digits: digits}}, places: &places{like: make([][]int, n), chosen: make([]bool, n)}}
	for e := range n {
		k := e % 8
		if k > 4 {
			k = 8 - k
		}
		p.line = append(p.line, event{notes: []int{e}, keys: []int{[]int{60, 62, 64, 65, 67}[k]}, fingers: []int{k + 1}})
		p.fronts = append(p.fronts, front{states: []readerState{{p.line[e].fingers, 0}}, cost: []int{0}, from: []int{-1}})
	}
	return p
}

// Where the reader goes wrong a digit is printed shortly before: at the passing thumb rather than at a shift, at a shift rather than on a
// strong beat, and at the place that has one where the passage stood before.
func TestWhereADigitIsPrinted(t *testing.T) {
	const wrong = 12
	pass := func(p *planner, e int) { // the thumb passes to event e, and from there on lies on its key
		set := func(e, key, finger int) {
			p.line[e].keys, p.line[e].fingers, p.fronts[e].states[0].fingers = []int{key}, []int{finger}, []int{finger}
		}
		for k := range p.line {
			if set(k, 64, 3); k >= e {
				set(k, 65, 1)
			}
		}
	}
	p := still("study", 14)
	require.Equal(t, wrong-1, p.choose(0, wrong), "nothing speaks for another place than the last")
	p.line[wrong-2].onBeat = true
	require.Equal(t, wrong-2, p.choose(0, wrong), "on a beat")
	p.line[wrong-1].onBeat = true
	require.Equal(t, wrong-1, p.choose(0, wrong), "of two beats the later")
	p.line[wrong-2].firstOfMeasure, p.line[wrong-2].onBeat = true, true
	require.Equal(t, wrong-1, p.choose(0, wrong), "a first beat is worth no earlier place")
	p = still("study", 14)
	p.line[wrong-1].onBeat = true
	pass(p, wrong-4)
	require.Equal(t, wrong-4, p.choose(0, wrong), "the passing thumb")
	require.Equal(t, wrong-1, p.choose(wrong-3, wrong), "no further back than what is known")
	require.Equal(t, wrong-1, (&planner{in: Fingered{Style: Style{Digits: "sparse"}}, line: p.line, fronts: p.fronts, places: p.places}).choose(0, wrong), "as late as can be")
	p = still("study", 14)
	pass(p, wrong-7)
	require.NotEqual(t, wrong-7, p.choose(0, wrong), "six strokes back at most")
	p = still("study", 14)
	p.fronts[wrong-3].states[0].fingers = []int{5}
	require.Equal(t, wrong-3, p.choose(0, wrong), "where a reader would be surprised")
	p = still("study", 14)
	p.places.like[wrong-3], p.places.chosen[2] = []int{2}, true
	require.Equal(t, wrong-3, p.choose(0, wrong), "where its return has a digit")
	p.places.chosen[2] = false
	require.Equal(t, wrong-1, p.choose(0, wrong))
}

func TestWhereTheHandPassesOrShifts(t *testing.T) {
	passing := func(a int, f int, b int, g int) int {
		p := &planner{line: []event{{keys: []int{a}, fingers: []int{f}}, {keys: []int{b}, fingers: []int{g}}}}
		return p.passing(1)
	}
	require.Equal(t, 2, passing(64, 3, 65, 1), "the thumb passes under")
	require.Equal(t, 2, passing(65, 1, 64, 3), "a finger passes over")
	require.Equal(t, 1, passing(60, 2, 62, 2), "one finger moves on")
	require.Equal(t, 0, passing(60, 1, 62, 2))
	require.Equal(t, 0, passing(62, 2, 60, 1))
	require.Equal(t, 0, passing(60, 2, 60, 2))
	require.Equal(t, 1, passing(60, 2, 60, 3), "another finger on the key")
	require.Equal(t, 1, passing(60, 1, 70, 2), "the hand opens wide")
	require.Equal(t, 0, passing(60, 1, 67, 2), "a little open is no shift")
	p := &planner{line: []event{{keys: []int{60}, fingers: []int{1}}, {keys: []int{62}, fingers: []int{2}, apart: true}}}
	require.Equal(t, []int{1, 1}, []int{p.passing(0), p.passing(1)}, "the hand comes from nowhere")
}

func TestBeatsAndMeasures(t *testing.T) {
	m := &score.Measure{}
	require.True(t, onBeat(m, score.Whole(2)))
	require.False(t, onBeat(m, score.Frac(1, 2)))
	m.BeatUnit = score.Frac(3, 2)
	require.True(t, onBeat(m, score.Whole(3)))
	require.False(t, onBeat(m, score.Whole(2)))
}
