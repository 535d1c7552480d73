package thin

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
)

// lineOf prepares single notes on white keys in equal values, eight to a measure, none of them with a digit.
func lineOf(style string, keys, fingers []int) *planner {
	p := printing(keys, fingers)
	p.in.Style.Digits = style
	standing(p)
	steps := map[int]int{0: 0, 2: 1, 4: 2, 5: 3, 7: 4, 9: 5, 11: 6}
	for e := range p.line {
		p.line[e].at = score.Whole(int64(e))
		p.line[e].end = score.Whole(int64(e + 1))
		p.line[e].measure, p.line[e].onBeat = e/8, e%2 == 0
		p.steps = append(p.steps, []int{7*(keys[e]/12) + steps[keys[e]%12]})
		p.goes, p.begun = append(p.goes, -1), append(p.begun, false)
	}
	readAlike(p)
	return p
}

// What came shortly before with other fingers has a digit where it differs: on the same keys from the same one, and three strokes on
// other keys; not where it came long ago, on another beat or otherwise.
func TestWhatCameOtherwiseShortlyBefore(t *testing.T) {
	for _, c := range []struct {
		because       string
		keys, fingers []int
		shown         string
	}{
		{"three strokes higher", []int{60, 64, 62, 79, 67, 71, 69}, []int{1, 3, 2, 5, 1, 3, 1}, "......1"},
		{"with the same fingers", []int{60, 64, 62, 79, 67, 71, 69}, []int{1, 3, 2, 5, 1, 3, 2}, "......."},
		{"with another finger before", []int{60, 64, 62, 79, 67, 71, 69}, []int{1, 3, 2, 5, 1, 4, 1}, "......."},
		{"on another beat", []int{60, 64, 62, 67, 71, 69}, []int{1, 3, 2, 1, 3, 1}, "......"},
		{"the same two keys", []int{60, 64, 79, 77, 60, 64}, []int{1, 3, 5, 4, 1, 2}, ".....2"},
		{"the same two keys in another measure", []int{60, 64, 79, 77, 76, 77, 79, 77, 60, 64}, []int{1, 3, 5, 4, 3, 4, 5, 4, 1, 2}, ".........2"},
	} {
		for _, style := range []string{"sparse", "performance", "study"} {
			p := lineOf(style, c.keys, c.fingers)
			p.gainsaid()
			require.Equal(t, c.shown, shownBy(p), "%s, %s", c.because, style)
		}
	}
	p := lineOf("study", []int{60, 64, 62, 79, 67, 71, 69}, []int{1, 3, 2, 5, 1, 3, 1})
	for e := 4; e < 7; e++ {
		p.line[e].measure = shortly + 1
	}
	p.gainsaid()
	require.Equal(t, ".......", shownBy(p), "long ago")
}

// In performance a figure that comes again at once has a digit where it begins, and so has a slur that begins on a beat.
func TestWhereAPlayerTakesUpTheHandsPlace(t *testing.T) {
	keys, fingers := []int{60, 64, 62, 65, 62, 65, 64, 67}, []int{1, 3, 2, 4, 1, 3, 2, 4}
	p := lineOf("performance", keys, fingers)
	for e := 4; e < 8; e++ {
		p.goes[e] = e - 4
	}
	p.anchors()
	require.Equal(t, "1.......", shownBy(p))
	require.Equal(t, FigureBegins, p.why[0])
	p = lineOf("performance", keys, fingers)
	p.begun[2], p.begun[3] = true, true
	p.anchors()
	require.Equal(t, "..2.....", shownBy(p), "not off the beat")
	require.Equal(t, PhraseBegins, p.why[2])
	p = lineOf("performance", keys, fingers)
	p.begun[3], p.line[2].end = true, score.Frac(5, 2)
	p.anchors()
	require.Equal(t, "...4....", shownBy(p), "but after silence")
}

// Fingers that change on a key struck on as on the key before have no digits on its later strokes; on its first they may.
func TestKeysStruckOnAlike(t *testing.T) {
	keys, fingers := []int{62, 62, 62, 62, 67, 67, 67, 67, 60, 60, 60, 60}, []int{4, 3, 2, 1, 4, 3, 2, 1, 4, 3, 2, 2}
	p := lineOf("study", keys, fingers)
	p.goes = []int{-1, 0, 1, 2, 0, 1, 2, 3, 4, 5, 6, 7}
	for e := range keys {
		require.Equal(t, e > 4 && e != 8 && e != 11, p.struckAlike(e), "event %d", e)
		if e > 4 && e != 8 {
			require.False(t, p.doubted(e), "event %d", e)
		}
	}
	p.in.Style.EachTime = true
	require.False(t, p.struckAlike(5), "where figures have their digits each time")
}

// A digit on a key that is struck again by another finger has one after it, also where a figure tells the other finger.
func TestAKeyGoesOnChanging(t *testing.T) {
	keys, fingers := []int{67, 67, 67, 69, 60, 67, 67, 67, 69}, []int{1, 2, 1, 2, 1, 1, 2, 1, 2}
	for _, c := range []struct {
		stands int
		shown  string
	}{{5, ".....121."}, {6, "......21."}, {8, "........2"}} {
		p := lineOf("performance", keys, fingers)
		p.in.Stands[c.stands] = true
		p.goesOnChanging()
		require.Equal(t, c.shown, shownBy(p), "%d", c.stands)
	}
	p := lineOf("performance", keys, fingers)
	p.copies[6], p.in.Stands[5] = 1, true
	p.goesOnChanging()
	require.Equal(t, ".....1...", shownBy(p), "not within what comes again at once")
}

// Of a few notes under one beat or slur of which a later one has a digit the first has one too, but where the hand goes on by step; in
// sparse only where memory would tell it and the hand lies otherwise.
func TestTheFirstOfAFewNotesHasADigit(t *testing.T) {
	for _, c := range []struct {
		because, style string
		fingers        []int
		shown          int
		want           string
	}{
		{"a later one has one", "performance", []int{4, 2, 1, 3, 5}, 3, "1..1."},
		{"in study", "study", []int{4, 2, 1, 3, 5}, 3, "1..1."},
		{"none has one", "performance", []int{4, 2, 1, 3, 5}, -1, "....."},
		{"in sparse", "sparse", []int{4, 2, 1, 3, 5}, 3, "...1."},
	} {
		p := lineOf(c.style, []int{72, 69, 67, 71, 74}, c.fingers)
		if c.shown >= 0 {
			p.print(c.shown, Needed, 0)
		}
		p.heads()
		got := ""
		for _, printed := range p.out {
			got += map[bool]string{true: "1", false: "."}[printed]
		}
		require.Equal(t, c.want, got, c.because)
	}
	p := lineOf("performance", []int{72, 69, 67, 71, 74}, []int{4, 2, 1, 3, 5})
	p.print(3, ReturnBegins, 0)
	p.heads()
	require.Equal(t, 1, p.printed(), "a digit out of courtesy asks for none")
}

// Two keys of two voices on one staff are read together: a digit on one alone has the other beside it.
func TestTwoVoicesOnOneStaffAreReadTogether(t *testing.T) {
	for staff, want := range map[int]int{1: 2, 2: 1} {
		p := printing([]int{60, 64}, []int{1, 2})
		p.line = []event{{keys: []int{66, 71}, fingers: []int{2, 4}, notes: []int{0, 1}}}
		p.in.Finger = []int{2, 4}
		standing(p)
		p.in.Score.Notes[0].Voice, p.in.Score.Notes[1].Voice, p.in.Score.Notes[0].Staff, p.in.Score.Notes[1].Staff = "1", "2", 1, staff
		readAlike(p)
		p.print(0, Needed, 1)
		p.clear(0)
		require.Equal(t, want, p.printed(), "the other on staff %d", staff)
	}
}
