package thin

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/hand"
	"fingerproof/rules/places"

	"github.com/stretchr/testify/require"
)

// printing makes a planner over single notes with their fingers, of which those in shown stand on the page.
func printing(keys, fingers []int, shown ...int) *planner {
	n := len(keys)
	p := &planner{in: Fingered{Score: &score.Score{Notes: make([]score.Note, n)}, Stands: make([]bool, n), Finger: fingers,
		Profile: hand.NinthHand, Style: Style{Chords: "needed"}}, out: make([]bool, n), why: make([]Why, n),
		kept: make([]bool, n)}
	for e := range keys {
		p.line = append(p.line, event{notes: []int{e}, keys: []int{keys[e]}, fingers: []int{fingers[e]}})
		p.wanted, p.copies, p.figures = append(p.wanted, []int{0}), append(p.copies, -1), append(p.figures, -1)
	}
	for _, e := range shown {
		p.in.Stands[e] = true
	}
	return p
}

// A move between digits shows: what the rule digit-missing of lint would report.
func TestAMoveBetweenDigitsHasADigit(t *testing.T) {
	keys, fingers := []int{60, 62, 64, 65, 67, 69}, []int{1, 2, 3, 1, 2, 3}
	require.True(t, printing(keys, fingers, 0, 5).moves(3), "the thumb passes")
	require.False(t, printing(keys, fingers, 0, 5).moves(2))
	require.True(t, printing([]int{60, 64}, []int{2, 2}).moves(1), "one finger goes on")
	require.True(t, printing([]int{60, 72}, []int{1, 2}).moves(1), "farther than the fingers reach")
	require.False(t, printing([]int{60, 60}, []int{1, 2}).moves(1), "the key stays")
	for _, c := range []struct {
		shown []int
		hides bool
	}{{[]int{0, 5}, true}, {[]int{0}, false}, {[]int{5}, false}, {[]int{0, 3, 5}, false}, {[]int{0, 2, 5}, false}} {
		p := printing(keys, fingers, c.shown...)
		got := p.moves(3) && !p.shows(3) && !p.shows(2) && p.between(2, 3)
		require.Equal(t, c.hides, got, c.shown)
	}
}

// A run of three steps and more that turns, and what is none.
func TestWhereARunTurns(t *testing.T) {
	fingers := []int{1, 2, 3, 4, 3, 2, 1}
	require.True(t, printing([]int{60, 62, 64, 65, 64, 62, 60}, fingers).turns(3))
	require.True(t, printing([]int{65, 64, 62, 60, 62, 64, 65}, fingers).turns(3))
	require.False(t, printing([]int{60, 62, 64, 65, 67, 69, 71}, fingers).turns(3), "it goes on")
	require.False(t, printing([]int{60, 62, 64, 67, 64, 62, 60}, fingers).turns(3), "a third is no step")
	require.False(t, printing([]int{60, 62, 60, 65, 64, 62, 60}, fingers).turns(3))
	require.False(t, printing([]int{62, 64, 65, 64, 62, 60, 59}, fingers).turns(2), "too short")
}

// A key that shows its digit twice in a measure does not show it again; in the next measure it may.
func TestAKeyShowsItsDigitTwiceInAMeasure(t *testing.T) {
	p := printing([]int{60, 62, 60, 62, 60, 60}, []int{1, 2, 1, 2, 1, 1}, 0, 2)
	require.True(t, p.repeats(4))
	require.False(t, p.repeats(3))
	require.False(t, p.repeats(2), "it is one of two")
	p.line[5].measure = 1
	require.False(t, p.repeats(5))
	p.line[4].fingers = []int{3}
	require.False(t, p.repeats(4), "another digit says something new")
}

// A key that would show its digit four times in a measure shows it the first time, and where the reader needs it or it was
// decided; three times may stand.
func TestAKeyNeverShowsItsDigitFourTimesInAMeasure(t *testing.T) {
	keys, fingers := []int{67, 60, 67, 64, 67, 60, 67, 64, 67, 60}, []int{5, 1, 5, 3, 5, 1, 5, 3, 5, 1}
	for _, c := range []struct {
		digits, must []int
		want         string
	}{
		{[]int{0, 2, 4, 6, 8}, nil, "5........."}, {[]int{0, 2, 4, 6, 8}, []int{4}, "5...5....."},
		{[]int{0, 2, 4, 6}, nil, "5........."}, {[]int{0, 2, 4}, nil, "5.5.5....."}, {[]int{0, 1, 2, 4, 5, 6, 8}, nil, "51...1...."},
	} {
		p := printing(keys, fingers)
		p.in.Must = make([]bool, len(keys))
		for _, e := range c.must {
			p.in.Must[e] = true
		}
		standing(p)
		p.reading = &reading{p.line, places.NewPreface(inOneMeasure(p.line)), nil}
		p.preface = p.reading.preface
		for _, e := range c.digits {
			p.print(e, Statement, 0)
		}
		p.spareMany()
		require.Equal(t, c.want, shownBy(p), "%v", c)
	}
}

// inOneMeasure gives the events of a line, an eighth each.
func inOneMeasure(line []event) (out []places.Event) {
	for e := range line {
		out = append(out, places.Event{Keys: line[e].keys, Fingers: line[e].fingers, Notes: line[e].notes, At: 12 * e, End: 12 * (e + 1)})
	}
	return out
}

// shownBy spells the digits of single notes, a point for each that has none.
func shownBy(p *planner) (out string) {
	for e := range p.line {
		if p.shows(e) {
			out += string(rune('0' + p.line[e].fingers[0]))
		} else {
			out += "."
		}
	}
	return out
}

// An exercise whose figure comes again on the same keys shows there no digit of its own.
func TestAFigureOfAnExerciseThatStaysOnItsKeys(t *testing.T) {
	p := exercisePlanner("study", 4)
	for e := 8; e < 12; e++ { // the third time stands on the keys of the second
		p.line[e].keys, p.figures[e] = p.line[e-4].keys, e-4
	}
	p.exercises()
	require.Equal(t, "13241324....1...", shownBy(p))
}

// A leap has a digit where it lands, also where the preface tells the finger; but in sparse and performance not where the hand landed so
// shortly before, from whatever key the same way: in performance within two measures, in sparse within eight.
func TestWhereAHandLands(t *testing.T) {
	for _, style := range []string{"sparse", "performance", "study"} {
		lands := func(keys, fingers []int, measure int) bool {
			p := printing(keys, fingers)
			p.in.Style.Digits = style
			standing(p)
			readAlike(p)
			last := len(keys) - 1
			p.line[last].measure = measure
			return p.lands(last)
		}
		for _, finger := range []int{5, 4} {
			require.True(t, lands([]int{60, 76}, []int{1, finger}, 0), "%s, %d", style, finger)
		}
		again := []int{60, 76, 74, 72, 62, 76}
		require.Equal(t, style == "study", lands(again, []int{1, 5, 4, 3, 1, 5}, 2), "%s, from another key", style)
		require.Equal(t, style != "sparse", lands(again, []int{1, 5, 4, 3, 1, 5}, 3), "%s, from another key three measures ago", style)
		require.Equal(t, style != "sparse", lands(again, []int{1, 5, 4, 3, 1, 5}, 8), "%s, from another key eight measures ago", style)
		require.True(t, lands(again, []int{1, 5, 4, 3, 1, 5}, 9), "%s, long ago", style)
		require.True(t, lands(again, []int{1, 5, 4, 3, 1, 4}, 8), "%s, with another finger", style)
		require.Equal(t, style != "sparse", lands([]int{60, 76, 74, 72, 62, 77}, []int{1, 5, 4, 3, 1, 5}, 8), "%s, told on another key", style)
		require.True(t, lands([]int{60, 76, 74, 72, 62, 77}, []int{1, 4, 4, 3, 1, 4}, 8), "%s, not told on another key", style)
		require.True(t, lands([]int{60, 76, 74, 90, 76}, []int{1, 5, 4, 5, 5}, 8), "%s, the other way", style)
	}
}

// An octave that the preface tells has no digit in sparse where the hand leaps to it; one with other fingers has.
func TestWhereAHandLandsInAnOctave(t *testing.T) {
	for _, c := range []struct {
		style   string
		fingers []int
		want    bool
	}{{"sparse", []int{1, 5}, false}, {"sparse", []int{1, 4}, true}, {"performance", []int{1, 5}, true}} {
		p := printing([]int{60, 77, 89}, append([]int{3}, c.fingers...))
		p.in.Style.Digits = c.style
		standing(p)
		p.line = append(p.line[:1], event{notes: []int{1, 2}, keys: []int{77, 89}, fingers: c.fingers})
		readAlike(p)
		require.Equal(t, c.want, p.lands(1), "%v", c)
	}
}

// The outermost finger that takes a key beyond the hand is no move that a digit has to show; any other that does is.
func TestTheHandOpensByItsOutermostFinger(t *testing.T) {
	for _, c := range []struct {
		keys, fingers []int
		opens         bool
	}{
		{[]int{60, 79}, []int{1, 5}, true}, {[]int{79, 60}, []int{5, 1}, true}, {[]int{60, 79}, []int{1, 4}, false},
		{[]int{79, 60}, []int{5, 2}, false}, {[]int{60, 62}, []int{5, 1}, false}, {[]int{60, 79}, []int{5, 5}, false},
	} {
		p := printing([]int{64, 62, c.keys[0], c.keys[1], 62, 64}, []int{3, 2, c.fingers[0], c.fingers[1], 2, 3}, 1, 4)
		standing(p)
		require.Equal(t, c.opens, p.opens(3), "%v", c)
		require.Equal(t, !c.opens, p.hidesMove(3), "%v", c)
	}
}

// A lone digit of a chord is the outermost key's; two of three keys are never printed, as print has it; each voice by itself.
func TestTheDigitsOfAChordSayWhichKeysTheyMean(t *testing.T) {
	chord := func(shown ...int) *planner {
		p := printing([]int{60, 64, 67}, []int{1, 3, 5}, shown...)
		p.in.Style = Style{Digits: "sparse", Chords: "needed"}
		p.line = []event{{notes: []int{0, 1, 2}, keys: []int{60, 64, 67}, fingers: []int{1, 3, 5}}}
		return p
	}
	group := []int{0, 1, 2}
	for _, c := range []struct {
		shown   []int
		unclear bool
	}{{nil, false}, {[]int{2}, false}, {[]int{0}, true}, {[]int{1}, true}, {[]int{0, 2}, true}, {[]int{0, 1}, true},
		{[]int{1, 2}, true}, {[]int{0, 1, 2}, false}} {
		require.Equal(t, c.unclear, chord(c.shown...).unclear(0, group), c.shown)
	}
	p := chord(0, 2)
	p.in.Style.Chords = "outer"
	require.False(t, p.unclear(0, group), "where the house asks for the outer two")
	p = chord()
	require.Equal(t, [][]int{{0, 1, 2}}, p.voices(0))
	p.in.Score.Notes[0].Voice = "2"
	require.Equal(t, [][]int{{0}, {1, 2}}, p.voices(0))
}

// The outermost digit alone says too little of two keys less than an octave apart, and, where a density is asked for, of three where
// another grip lies nearly as well; not where the others were just struck by the same fingers.
func TestWhenTheOutermostDigitSaysTooLittle(t *testing.T) {
	for _, c := range []struct {
		before, keys, was, fingers []int
		sparse, performance        bool
		because                    string
	}{
		{[]int{60}, []int{60, 64}, []int{2}, []int{1, 3}, true, true, "a third"},
		{[]int{60}, []int{60, 69}, []int{2}, []int{1, 5}, true, true, "a sixth"},
		{[]int{60}, []int{60, 69}, []int{1}, []int{1, 5}, false, false, "a sixth above the thumb that was just there"},
		{[]int{60}, []int{60, 72}, []int{2}, []int{1, 5}, false, false, "an octave"},
		{[]int{48}, []int{60, 64, 69}, []int{5}, []int{1, 3, 5}, false, true, "1 2 5 would do as well"},
		{[]int{60, 64}, []int{60, 64, 69}, []int{1, 2}, []int{1, 2, 5}, false, false, "its inner keys were just struck"},
	} {
		for style, want := range map[string]bool{"sparse": c.sparse, "performance": c.performance} {
			p := printing(c.keys, c.fingers)
			p.line = []event{{keys: c.before, fingers: c.was}, {keys: c.keys, fingers: c.fingers}}
			p.in.Style = Style{Digits: style, Chords: "needed"}
			p.memory = memoryFor(p.in)
			p.reading = &reading{line: p.line, memory: p.memory}
			var group []int
			for k := range c.keys {
				group = append(group, k)
			}
			require.Equal(t, want, p.saysTooLittle(1, group), "%s, %s", c.because, style)
		}
	}
}

// A leap that a figure had within eight measures needs no digit again; later it has one.
func TestWhereAFigureLeaptLongAgo(t *testing.T) {
	keys, fingers := []int{60, 62, 84, 86, 50, 48, 52, 55, 60, 62, 84, 86}, []int{1, 2, 1, 2, 3, 5, 2, 1, 1, 2, 1, 2}
	for _, c := range []struct {
		style   string
		measure int
		want    bool
	}{{"performance", 8, false}, {"performance", 9, true}, {"study", 9, true}, {"sparse", 8, false}, {"sparse", 9, true}} {
		p := printing(keys, fingers)
		p.in.Style.Digits = c.style
		standing(p)
		readAlike(p)
		for e := 8; e < 12; e++ {
			p.line[e].measure = c.measure
		}
		require.Equal(t, c.want, p.lands(10), "%v", c)
	}
}

// A figure that comes again leaps back to its beginning for the first time there, but not in itself.
func TestWhereAFigureLeapsBackToItsBeginning(t *testing.T) {
	p := printing([]int{60, 84, 60, 84}, []int{1, 5, 1, 5})
	p.in.Style.Digits = "performance"
	p.figures = []int{-1, -1, 0, 1}
	standing(p)
	readAlike(p)
	p.line[2].measure, p.line[3].measure = 1, 1
	require.True(t, p.lands(1))
	require.True(t, p.lands(2))
	require.False(t, p.lands(3))
}

func TestHowFarGripsLieApart(t *testing.T) {
	require.Equal(t, 5, apart([]int{60, 64}, []int{69, 76}))
	require.Equal(t, 13, apart([]int{48}, []int{61}))
	require.Zero(t, apart([]int{60, 64}, []int{64}))
}

// standing gives the notes of a planner their places in the left hand of one part.
func standing(p *planner) {
	s, h := p.in.Score, playing.Hands{Parts: []bool{true}, Player: make([]int, len(p.in.Score.Notes))}
	s.Parts, s.Measures = make([]score.Part, 1), make([]score.Measure, 1)
	for e := range p.line {
		for k, i := range p.line[e].notes {
			s.Notes[i] = score.Note{Midi: p.line[e].keys[k], Onset: score.Whole(int64(e)), TiedFrom: -1, TiedTo: -1}
		}
	}
	for range s.Notes {
		h.Piano, h.Hand = append(h.Piano, true), append(h.Hand, score.Left)
	}
	p.in.Playing = playing.New(s, h)
}

// A statement of a figure has no digits or those of the one before.
func TestStatementsOfAFigureAreEven(t *testing.T) {
	keys, fingers := []int{48, 55, 52, 55, 48, 55, 52, 55}, []int{5, 1, 3, 1, 5, 1, 3, 1}
	for _, c := range []struct{ shown, added []int }{
		{[]int{0, 1, 2}, nil}, {[]int{0, 1, 5}, nil}, {[]int{0, 6}, []int{2}}, {[]int{0, 1, 6}, []int{2, 5}}, {[]int{0, 4}, nil},
	} {
		p := printing(keys, fingers, c.shown...)
		p.copies = []int{-1, -1, -1, -1, 0, 1, 2, 3}
		p.figures = p.copies
		standing(p)
		readAlike(p)
		p.evenFigures()
		var added []int
		for e := range keys {
			if p.out[e] {
				added = append(added, e)
			}
		}
		require.Equal(t, c.added, added, "%v", c.shown)
	}
}
