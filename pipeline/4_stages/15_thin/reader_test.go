package thin

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fingerproof/corpus/score"
	"fingerproof/rules/places"
)

// bySpans is a reader who goes by the spans alone.
var bySpans *Usual

// played makes the reading of a line of a style, an event a quarter and four to a measure; where it is apart, after a long rest.
func played(line []event, digits string) *reading {
	var events []places.Event
	at := 0
	for e := range line {
		if line[e].apart {
			at += 200
		}
		line[e].measure = e / 4
		events = append(events, places.Event{Keys: line[e].keys, Fingers: line[e].fingers, Notes: line[e].notes, At: at, End: at + 24, Measure: e / 4})
		at += 24
	}
	return &reading{line, places.NewPreface(events), memoryFor(Fingered{Style: Style{Digits: digits}, Usual: newUsual()})}
}

// Brute force over all rising fingers that agree with what is printed is the oracle: of what the preface does not tell the
// reader takes the easiest.
func TestTheReaderTakesTheEasiestGrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := make([]event, 2)
		for e := range line {
			key := rapid.IntRange(55, 70).Draw(t, "key")
			for range rapid.IntRange(1, 3).Draw(t, "keys") {
				line[e].keys = append(line[e].keys, key)
				key += rapid.IntRange(1, 5).Draw(t, "up")
			}
			line[e].fingers = grips[len(line[e].keys)][rapid.IntRange(0, 4).Draw(t, "grip")]
		}
		line[1].apart = rapid.Bool().Draw(t, "apart")
		known := make([]int, len(line[1].keys))
		if rapid.Bool().Draw(t, "known") {
			known[0] = rapid.IntRange(1, 3).Draw(t, "finger")
		}
		r := played(line, "none")
		got := r.fingers(1, line[0].fingers, known)
		require.True(t, agrees(got, known), "printed digits stand")
		if said, _ := r.preface.Tells(1); said != nil {
			return // TestWhatThePrefaceSaysIsRead
		}
		cost := func(g []int) int {
			sum := bySpans.gripUnease(line[1].keys, g)
			if !line[1].apart {
				sum += bySpans.moveUnease(&line[0], line[0].fingers, &line[1], g)
			}
			return sum
		}
		for _, g := range grips[len(known)] {
			if agrees(g, known) {
				require.LessOrEqual(t, cost(got), cost(g))
			}
		}
	})
}

// What the preface says of the keys without a digit is read, case by case: by which digits it still holds is written out here,
// from the sentences of the preface.
func TestWhatThePrefaceSaysIsRead(t *testing.T) {
	for name, c := range map[string]struct {
		before, was []int
		keys, known []int
		want        []int
	}{
		"nothing printed: the next key, the next finger":        {[]int{60}, []int{1}, []int{62}, []int{0}, []int{2}},
		"a digit that departs from the position":                {[]int{60}, []int{1}, []int{62}, []int{3}, []int{3}},
		"a chord struck again":                                  {[]int{60, 64}, []int{1, 4}, []int{60, 64}, []int{0, 0}, []int{1, 4}},
		"a chord struck again, a digit as before: the rest too": {[]int{60, 64}, []int{1, 4}, []int{60, 64}, []int{1, 0}, []int{1, 4}},
		"a wide grip, another digit below: 5 above all the same": {
			[]int{48}, []int{5}, []int{60, 69}, []int{2, 0}, []int{2, 5},
		},
		"a key of two far apart that was struck before, another digit above: the thumb all the same": {
			[]int{60, 64}, []int{1, 4}, []int{64, 71}, []int{0, 4}, []int{1, 4},
		},
	} {
		line := []event{{keys: c.before, fingers: c.was}, {keys: c.keys, fingers: c.want}}
		require.Equal(t, c.want, played(line, "none").fingers(1, c.was, c.known), name)
	}
}

// Whatever the fingering, an event that needs digits has them, and no others: each is read then, and was not before.
func TestWhatAnEventNeeds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := searched(t)
		for e := range p.line {
			before := p.reads(e)
			departs, _ := p.preface.Departs(e, func(int) bool { return false })
			p.needs(e)
			require.True(t, p.reads(e))
			require.Equal(t, before && len(departs) == 0, !p.shows(e))
		}
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
	line := []event{{keys: []int{60, 67}, fingers: []int{1, 4}}, {keys: []int{62, 65, 74}, fingers: []int{1, 3, 5}},
		{keys: []int{50}, fingers: []int{2}}, {keys: []int{60, 67}, fingers: []int{1, 4}}, {keys: []int{62, 65, 74}}}
	r := played(line, "sparse")
	require.Equal(t, []int{1, 2, 5}, r.fingers(4, line[3].fingers, []int{0, 0, 0}), "by itself")
	r.memory.learn(line, 0, 1, func(e int) []int { return line[e].fingers })
	require.Equal(t, []int{1, 3, 5}, r.fingers(4, line[3].fingers, []int{0, 0, 0}), "as before")
	line[4].apart = true
	require.Equal(t, []int{1, 2, 5}, r.fingers(4, line[3].fingers, []int{0, 0, 0}), "after a long rest it has forgotten")
	none := memoryFor(Fingered{Style: Style{Digits: "every-note"}})
	require.Nil(t, none)
	m := memoryFor(Fingered{Style: Style{Digits: "study"}, Usual: newUsual()})
	line = []event{{keys: []int{60}, fingers: []int{1}}, {keys: []int{67}, fingers: []int{4}}}
	m.learn(line, 0, 1, func(e int) []int { return line[e].fingers })
	require.Equal(t, []int{4}, m.recall(line, &line[0], []int{1}, &line[1], 1))
	require.Nil(t, m.recall(line, &line[0], []int{1}, &line[1], 0), "what is not read yet is not remembered")
	require.Nil(t, m.recall(line, &line[0], []int{2}, &line[1], 1), "with other fingers it is another turn")
	require.Nil(t, m.recall(line, &line[1], []int{4}, &line[0], 1))
	require.Nil(t, m.recall(line, &line[0], []int{1}, &event{keys: []int{68}}, 1))
	require.Nil(t, m.recall(line, &line[0], []int{1}, &event{keys: []int{67}, measure: 3}, 1), "three measures later it is forgotten in study")
	for why, c := range map[string]struct {
		turned, now []int
		want        int
	}{
		"nothing is known of it": {nil, []int{2}, 30}, "as the turn was taken": {[]int{2}, []int{2}, level},
		"not as the turn was taken": {[]int{3}, []int{2}, 30 + unit*unlike},
	} {
		r := none.recalledOf(c.turned)
		require.Equal(t, c.want, r.unease(c.now, 30), why)
	}
}

// The whole memory of a line, asked for what was read up to an event, answers as one that has learned so far.
func TestTheWholeMemoryAnswersAsOneThatLearns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := make([]event, 12)
		for e := range line {
			line[e].keys = []int{rapid.IntRange(60, 62).Draw(t, "key")}
			line[e].fingers = []int{rapid.IntRange(1, 2).Draw(t, "finger")}
			line[e].measure = e / 2
		}
		study := Fingered{Style: Style{Digits: "study"}}
		upTo, at := rapid.IntRange(0, 10).Draw(t, "up to"), rapid.IntRange(1, 11).Draw(t, "at")
		whole, learning := wholeMemory(study, line), memoryFor(study)
		learning.learn(line, 0, upTo, func(e int) []int { return line[e].fingers })
		for was := 1; was <= 2; was++ {
			require.Equal(t, learning.recall(line, &line[at-1], []int{was}, &line[at], upTo),
				whole.recall(line, &line[at-1], []int{was}, &line[at], upTo))
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
