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

// bySpans is a reader who goes by the spans alone.
var bySpans *Usual

// costOf is what a way of reading costs: each grip by itself and each move from one to the next.
func costOf(line []event, fingers [][]int) (sum int) {
	for e := range line {
		sum += bySpans.gripUnease(line[e].keys, fingers[e])
		if e > 0 && !line[e].apart {
			sum += bySpans.moveUnease(&line[e-1], fingers[e-1], &line[e], fingers[e])
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
		got := (*memory)(nil).decode(line, 0, len(line), known)
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
		whole := (*memory)(nil).decode(line, 0, len(line), known)
		require.Equal(t, whole[1:5], (*memory)(nil).decode(line, 1, 5, known[1:5]))
	})
}

// Where no rising fingers agree with what is printed, the printed digits stand and the rest is unknown; a key struck by two voices has
// one finger.
func TestPrintedDigitsOverruleTheReader(t *testing.T) {
	got := bySpans.states(&event{keys: []int{60, 64, 67}}, []int{5, 0, 1})
	require.Equal(t, []readerState{{[]int{5, 0, 1}, 0}}, got)
	require.Equal(t, []readerState{{[]int{0, 0, 0, 0, 0, 0}, 0}}, bySpans.states(&event{keys: []int{60, 61, 62, 63, 64, 65}}, make([]int, 6)), "six keys")
	require.Len(t, bySpans.states(&event{keys: []int{60, 64}}, []int{0, 0}), 10)
	require.Len(t, bySpans.states(&event{keys: []int{60, 64}}, []int{2, 0}), 3)
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
		{1, 2, 0, 14}, {4, 2, 0, 14}, // another finger on the same key
		{2, 2, 2, 9}, {2, 2, -7, 11}, // one finger on two keys, the farther the worse
		{1, 2, 2, 0}, {1, 2, 5, 0}, {1, 2, 7, 4}, // 1-2 rests on one to five semitones
		{2, 3, 2, 0}, {2, 3, 3, 2}, {3, 2, -2, 0}, {3, 2, -4, 4},
		{1, 5, 7, 0}, {1, 5, 10, 0}, {1, 5, 12, 4}, {1, 5, 5, 6}, // cramped below seven
		{1, 3, -2, 10}, {3, 1, 2, 10}, {1, 4, -4, 12}, // the thumb passes
		{2, 3, -2, 22}, {4, 3, 1, 21}, // a finger over another
	} {
		require.Equal(t, c.want, strainOf(c.from, c.to, c.distance), "%d to %d, %d semitones", c.from, c.to, c.distance)
	}
	require.Equal(t, strain[1][2][reduced(30)], strain[1][2][reduced(45)], "all that is wider strains alike")
	require.Equal(t, strain[1][2][reduced(-30)], strain[1][2][reduced(-45)])
	require.NotEqual(t, strain[1][2][reduced(29)], strain[1][2][reduced(30)])
	// Of what lies at ease the reader takes what stays in the position of five fingers on five keys, a fifth wide.
	for _, c := range []struct{ from, to, distance, want int }{
		{1, 5, 7, 0}, {1, 2, 2, 0}, {2, 3, 1, 0}, {2, 3, 2, 0}, {1, 3, 4, 0}, {1, 2, 5, 6}, {1, 3, 5, 2}, {1, 5, 12, 6}, {3, 3, 7, 0},
	} {
		require.Equal(t, c.want, fromPosition(c.from, c.to, c.distance), "%d to %d, %d semitones", c.from, c.to, c.distance)
	}
	// A move of chords is the mean of what all pairs of fingers strain, four times, and of how far they leave the position.
	one := bySpans.moveUnease(&event{keys: []int{60}}, []int{1}, &event{keys: []int{67}}, []int{2})
	require.Equal(t, level+unit*(4*4+6), one)
	two := bySpans.moveUnease(&event{keys: []int{60, 64}}, []int{1, 2}, &event{keys: []int{67}}, []int{2})
	require.Equal(t, level+unit*(4*4+6+4*9)/2, two)
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
	require.Equal(t, level+unit*(chordSpans.unease(1, 3, 60, 64)+chordSpans.unease(3, 5, 64, 67)+chordSpans.unease(1, 5, 60, 67)),
		bySpans.gripUnease([]int{60, 64, 67}, []int{1, 3, 5}))
	require.Equal(t, level+unit*chordSpans.unease(1, 3, 60, 64), bySpans.gripUnease([]int{60, 64}, []int{1, 3}))
	for _, c := range []struct{ key, finger, want int }{{61, 1, 6}, {61, 3, 0}, {61, 5, 3}, {60, 1, 0}} {
		require.Equal(t, level+unit*c.want, bySpans.gripUnease([]int{c.key}, []int{c.finger}), "%v", c)
	}
}

// The reader of sparse editions takes a turn as it was taken where it came last, and minds another way.
func TestTheReaderRemembersTurns(t *testing.T) {
	line := []event{{keys: []int{60}}, {keys: []int{67}}, {keys: []int{60}}, {keys: []int{67}}, {keys: []int{67}}}
	known := [][]int{{1}, {4}, {1}, {0}, {0}}
	plain := (*memory)(nil).decode(line, 0, 5, known)
	require.NotEqual(t, []int{4}, plain[3], "by itself it would take another finger")
	require.Equal(t, []int{4}, memoryFor("sparse").decode(line, 0, 5, known)[3], "as before")
	require.Nil(t, memoryFor("every-note"))
	line[3].apart = true
	require.NotEqual(t, []int{4}, memoryFor("sparse").decode(line, 0, 5, known)[3], "after a long rest it has forgotten")
	line[3].apart = false
	m := memoryFor("study")
	m.learn(line, 0, 1, func(e int) []int { return known[e] })
	require.Equal(t, []int{4}, m.recall(line, &line[0], []int{1}, &line[1], 1))
	require.Nil(t, m.recall(line, &line[0], []int{1}, &line[1], 0), "what is not certain yet is not remembered")
	require.Nil(t, m.recall(line, &line[0], []int{2}, &line[1], 1), "with other fingers it is another turn")
	require.Nil(t, m.recall(line, &line[1], []int{4}, &line[0], 1))
	require.Nil(t, m.recall(line, &line[0], []int{1}, &event{keys: []int{68}}, 1))
	require.Nil(t, m.recall(line, &line[0], []int{1}, &event{keys: []int{67}, measure: 3}, 1), "three measures later it is forgotten in study")
	for why, c := range map[string]struct {
		turned, again, now []int
		want               int
	}{
		"nothing is known of it": {nil, nil, []int{2}, 30}, "as the turn was taken": {[]int{2}, nil, []int{2}, level},
		"not as the turn was taken": {[]int{3}, nil, []int{2}, 30 + unit*unlike}, "as the figure went": {[]int{3}, []int{2}, []int{2}, level},
		"not as the figure went": {[]int{2}, []int{3}, []int{2}, 30 + unit*unlikeFigure},
	} {
		r := (*memory)(nil).recalledOf(c.turned, c.again, nil)
		require.Equal(t, c.want, r.unease(c.now, 30), why)
	}
}

// The reader sees in the music that a figure goes on, and takes it as it was taken the last time that is certain.
func TestTheReaderTakesAFigureAsBefore(t *testing.T) {
	m := &memory{measures: 1, turns: map[uint64][]turned{}, figures: []int{-1, -1, 0, 1, 2, 3}}
	line := make([]event, 6)
	for e := range line {
		line[e].keys = []int{60 + e%2}
	}
	m.learn(line, 0, 1, func(e int) []int { return []int{e + 1} })
	require.Equal(t, []int{1}, m.again(line, 4, 1), "two times before")
	require.Equal(t, []int{2}, m.again(line, 5, 1))
	require.Nil(t, m.again(line, 1, 1), "it repeats nothing")
	require.Nil(t, m.again(line, 5, 0), "what it repeats is not certain yet")
	m.learn(line, 2, 3, func(int) []int { return []int{5} })
	require.Equal(t, []int{5}, m.again(line, 5, 3), "the last time")
	require.Nil(t, (*memory)(nil).again(line, 5, 3))
	line[5].keys = line[4].keys
	require.Nil(t, m.again(line, 5, 3), "a key struck again is taken as it was")
}

// The whole memory of a line, asked for what was certain up to an event, answers as one that has learned so far.
func TestTheWholeMemoryAnswersAsOneThatLearns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := make([]event, 12)
		for e := range line {
			line[e].keys = []int{rapid.IntRange(60, 62).Draw(t, "key")}
			line[e].fingers = []int{rapid.IntRange(1, 2).Draw(t, "finger")}
			line[e].measure = e / 2
		}
		certain, at := rapid.IntRange(0, 10).Draw(t, "certain"), rapid.IntRange(1, 11).Draw(t, "at")
		whole, learning := wholeMemory(Fingered{Style: Style{Digits: "study"}}, line, nil), memoryFor("study")
		learning.learn(line, 0, certain, func(e int) []int { return line[e].fingers })
		for was := 1; was <= 2; was++ {
			require.Equal(t, learning.recall(line, &line[at-1], []int{was}, &line[at], certain),
				whole.recall(line, &line[at-1], []int{was}, &line[at], certain))
		}
	})
}

func TestBeatsAndMeasures(t *testing.T) {
	m := &score.Measure{}
	require.True(t, onBeat(m, score.Whole(2)))
	require.False(t, onBeat(m, score.Frac(1, 2)))
	m.BeatUnit = score.Frac(3, 2)
	require.True(t, onBeat(m, score.Whole(3)))
	require.False(t, onBeat(m, score.Whole(2)))
}
