package thin

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/rules/hand"

	"github.com/stretchr/testify/require"
)

// What is usual comes back from its file, and a file that holds something else is refused.
func TestWhatIsUsualIsKeptInAFile(t *testing.T) {
	u := newUsual()
	u.tables[ofPair][100], u.tables[ofStep][17], u.tables[ofMemory][otherGrip] = -40, 25, 3
	read, err := ReadUsual(u.File("by hand", nil))
	require.NoError(t, err)
	require.Equal(t, u, read)
	for file, want := range map[string]string{
		`{"tables":{"thumb":[1,2]}}`: `table "thumb" is unknown`, `{"tables":{"key":[1]}}`: "not in pairs",
		`{"tables":{"key":[12,2]}}`: `table "key" has no place 12`, `{"tables":{"key":[-1,2]}}`: "has no place -1", `{`: "unexpected end",
	} {
		_, err := ReadUsual([]byte(file))
		require.ErrorContains(t, err, want)
	}
}

// The shipped reader knows what every player does (common practice): an octave is taken with 1 and 5, five neighbouring white
// keys lie under five fingers,
// a major chord in first inversion is 1 2 5, a minor chord 1 3 5.
func TestTheReaderKnowsWhatIsUsual(t *testing.T) {
	for name, c := range map[string]struct {
		keys  [][]int
		known []int
		want  [][]int
	}{
		"an octave":       {[][]int{{60, 72}}, nil, [][]int{{1, 5}}},
		"five keys":       {[][]int{{60}, {62}, {64}, {65}, {67}}, []int{1}, [][]int{{1}, {2}, {3}, {4}, {5}}},
		"first inversion": {[][]int{{64, 67, 72}}, nil, [][]int{{1, 2, 5}}},
		"a minor chord":   {[][]int{{62, 65, 69}}, nil, [][]int{{1, 3, 5}}},
	} {
		line, known := make([]event, len(c.keys)), make([][]int, len(c.keys))
		for e, keys := range c.keys {
			line[e].keys, line[e].fingers, known[e] = keys, c.want[e], make([]int, len(keys))
		}
		if c.known != nil {
			known[0] = c.known
		}
		r := played(line, "sparse")
		r.memory.usual = shippedUsual()
		for e := range line {
			require.Equal(t, c.want[e], r.fingers(e, line[max(e-1, 0)].fingers, known[e]), name)
		}
	}
}

// A reader that is put right often enough reads what it read wrong by the spans, and the like on keys of other colours.
func TestAReaderLearnsWhatIsUsual(t *testing.T) {
	line := []event{{keys: []int{60}, fingers: []int{1}}, {keys: []int{62, 65, 69}, fingers: []int{1, 3, 4}}}
	lesson := &Lesson{lines: []*reading{played(line, "sparse")}}
	read := func(u *Usual) []int {
		r := played(line, "sparse")
		r.memory.usual = u
		return r.fingers(1, []int{1}, []int{0, 0, 4})
	}
	require.NotEqual(t, []int{1, 3, 4}, read(newUsual()), "by the spans")
	for e := range line {
		for k := range line[e].keys {
			line[e].notes = append(line[e].notes, 3*e+k)
		}
	}
	l := NewLearner()
	for range 60 {
		l.Read(lesson, func(note int) bool { return note == 5 })
	}
	usual := l.Usual()
	require.Equal(t, []int{1, 3, 4}, read(usual))
	black, fingers := []int{63, 66, 70}, []int{1, 3, 4}
	require.Less(t, usual.gripUnease(black, fingers), (*Usual)(nil).gripUnease(black, fingers))
	require.Equal(t, newUsual(), NewLearner().Usual())
	require.Equal(t, newUsual(), BySpans())
}

// A move that the preface does not tell is learned as well, and the like between keys of other colours. One that it tells is not:
// from 60 with 1 to 62 it says 2, whatever is usual, and another finger has its digit.
func TestAReaderLearnsAMove(t *testing.T) {
	moved := func(to, finger int) []event {
		return []event{
			{keys: []int{67}, fingers: []int{5}, notes: []int{0}}, {keys: []int{to}, fingers: []int{finger}, notes: []int{1}},
		}
	}
	read := func(line []event, u *Usual) int {
		r := played(line, "sparse")
		r.memory.usual = u
		return r.fingers(1, line[0].fingers, []int{0})[0]
	}
	learned := func(line []event) *Usual {
		l, lesson := NewLearner(), &Lesson{lines: []*reading{played(line, "sparse")}}
		for range 300 {
			l.Read(lesson, func(note int) bool { return note == 0 })
		}
		return l.Usual()
	}
	bySpans := read(moved(69, 1), newUsual())
	for finger := 1; finger <= 4; finger++ {
		line := moved(69, finger)
		usual := learned(line)
		require.Equal(t, finger, read(line, usual), "by the spans %d", bySpans)
		if finger == bySpans {
			continue
		}
		from, to := &event{keys: []int{66}}, &event{keys: []int{68}}
		require.Less(t, usual.moveUnease(from, []int{5}, to, []int{finger}),
			newUsual().moveUnease(from, []int{5}, to, []int{finger}), "on black keys")
	}
	said := []event{{keys: []int{60}, fingers: []int{1}, notes: []int{0}}, {keys: []int{62}, fingers: []int{3}, notes: []int{1}}}
	require.Equal(t, newUsual(), learned(said))
	require.Equal(t, 2, read(said, newUsual()))
}

// exercise makes a planner over a figure of four notes that goes on by steps.
func exercisePlanner(digits string, statements int) *planner {
	p := &planner{in: Fingered{Score: &score.Score{}, Profile: hand.NinthHand, Style: Style{Digits: digits, Chords: "needed"}}}
	for s := range statements {
		for k, up := range []int{0, 4, 2, 5} {
			e := event{keys: []int{60 + 2*s + up}, fingers: []int{[]int{1, 3, 2, 4}[k]}, notes: []int{len(p.line)}, measure: s, onBeat: k == 0,
				firstOfMeasure: k == 0}
			p.line = append(p.line, e)
			p.in.Finger = append(p.in.Finger, e.fingers[0])
			at := -1
			if s > 0 {
				at = len(p.line) - 5
			}
			p.copies, p.figures = append(p.copies, at), append(p.figures, -1)
		}
	}
	n := len(p.line)
	p.in.Score.Notes, p.in.Stands = make([]score.Note, n), make([]bool, n)
	p.out, p.why, p.kept = make([]bool, n), make([]Why, n), make([]bool, n)
	standing(p)
	return p
}

// Of an exercise the first statement has all its digits, in study the second as well, each other one that of its first note, as
// editions have it: of 141 exercises in the fingered material the first notes of all statements have a digit at 58 to 87 in a
// hundred, the others of the first statement at 69, of the second at 51, of later ones at 17 to 25. In sparse the need alone counts.
func TestAnExerciseIsPrintedOnce(t *testing.T) {
	for digits, want := range map[string]string{
		"study": "1324" + "1324" + "1..." + "1...", "performance": "1324" + "1..." + "1..." + "1...", "sparse": "................",
	} {
		p := exercisePlanner(digits, 4)
		p.exercises()
		require.Equal(t, want, shownBy(p), digits)
	}
	each := exercisePlanner("study", 4)
	each.in.Style.EachTime = true
	each.exercises()
	require.Zero(t, each.printed())
	stays := exercisePlanner("performance", 4) // its second time stands on the keys of the first
	for e := 4; e < 8; e++ {
		stays.line[e].keys, stays.figures[e] = stays.line[e-4].keys, e-4
	}
	stays.exercises()
	require.Equal(t, "1324"+"...."+"1..."+"1...", shownBy(stays), "the first statement is the first of all")
	late := exercisePlanner("study", 4)
	late.copies[3] = -1
	require.Equal(t, 4, late.statement(1, 5), "it begins with the measure")
	require.Equal(t, 1, late.statement(1, 4), "or with the first note")
}

// Keys of a chord that are struck again at once by other fingers have their digits, as they had before.
func TestOtherFingersOnAChordThatIsStruckAgain(t *testing.T) {
	p := exercisePlanner("performance", 1)
	p.copies, p.figures = []int{-1, -1}, []int{-1, -1}
	p.in.Finger = []int{1, 3, 1, 2}
	p.line = []event{
		{keys: []int{60, 64}, fingers: []int{1, 3}, notes: []int{0, 1}}, {keys: []int{60, 64}, fingers: []int{1, 2}, notes: []int{2, 3}},
	}
	standing(p)
	readAlike(p)
	p.changes()
	require.Equal(t, []bool{true, true, true, true}, p.out, "of a third both digits, and those that it had before")
	p.out = make([]bool, 4)
	p.line[0].keys, p.line[1].keys = []int{60, 69}, []int{60, 69}
	p.changes()
	require.Equal(t, []bool{true, true, false, true}, p.out, "of a sixth both, then the one that changes")
	require.Equal(t, Change, p.why[3])
}

// Of two strokes of a key the first has the digit, where a reader does as well; a key that two voices strike has one.
func TestTheFirstStrokeHasTheDigit(t *testing.T) {
	p := exercisePlanner("performance", 1)
	p.line = []event{{keys: []int{60}, fingers: []int{1}, notes: []int{0}}, {keys: []int{60}, fingers: []int{1}, notes: []int{1}}}
	p.copies, p.figures, p.in.Finger, p.wanted = []int{-1, 0}, []int{-1, 0}, []int{1, 1, 3, 3}, [][]int{{0}, {0}}
	standing(p)
	readAlike(p)
	p.print(1, Needed, 0)
	p.firsts()
	require.Equal(t, []bool{true, false, false, false}, p.out)

	p.in.Score.Notes[2].Voice, p.in.Score.Notes[3].Voice = "1", "2"
	p.line = append(p.line, event{keys: []int{64, 64}, fingers: []int{3, 3}, notes: []int{2, 3}})
	p.printAll(2, Needed)
	require.Equal(t, []bool{true, false, true, false}, p.out)
	require.True(t, p.whole(2))
}
