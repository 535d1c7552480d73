package thin

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
	"fingerproof/rules/places"
)

// A later measure that is the same as an earlier one has its digits, or none where the reader can do without; its first event is left
// as it is, as it may be reached otherwise.
func TestMeasuresThatComeAgainHaveTheSameDigits(t *testing.T) {
	keys, fingers := []int{60, 62, 64, 60, 62, 64, 60, 62, 64}, []int{1, 2, 3, 1, 2, 3, 1, 2, 3}
	for _, c := range []struct {
		digits, must []int
		each         bool
		want         string
	}{
		{[]int{0, 1, 2, 4}, nil, false, "123......"},
		{[]int{0, 1, 2, 3}, nil, false, "1231....."},
		{[]int{0, 1, 4, 5}, []int{4}, false, "12..2...."}, // what is decided is nobody's business
		{[]int{0, 1, 2, 4}, nil, true, "123.23.23"},
	} {
		p := printing(keys, fingers)
		p.in.Must, p.in.Style.EachTime = make([]bool, len(keys)), c.each
		for e := range p.line {
			p.line[e].measure = e / 3
		}
		for _, e := range c.must {
			p.in.Must[e] = true
		}
		standing(p)
		for e := range p.in.Score.Notes {
			p.in.Score.Notes[e].Onset = score.Whole(int64(e % 3))
		}
		p.reading = &reading{p.line, places.NewPreface(inOneMeasure(p.line)), nil}
		p.preface = p.reading.preface
		for _, e := range c.digits {
			why := Wanted
			if p.in.Must[e] {
				why = Asked
			}
			p.print(e, why, 0)
		}
		p.evenMeasures(true)
		require.Equal(t, c.want, shownBy(p), "%v", c)
	}
}

// Measures of three keys in the fuller styles and in sparse. Study compares those on one page to the first event, and prints the digits
// again a page on; sparse prints what is needed there; with other fingers the same places have digits.
func TestMeasuresThatComeAgainInEachStyle(t *testing.T) {
	for _, c := range []struct {
		digits   string
		measures []int  // in which measure each of the times stands
		fingers  string // of each time
		must     []int  // notes whose digits stay whatever the reader knows
		want     string
	}{
		{"study", []int{0, 1}, "512 512", []int{0, 1, 2, 3}, "512 512"},
		{"performance", []int{0, 1}, "512 512", []int{0, 1, 2, 3}, "512 5.."},
		{"sparse", []int{0, 1}, "512 512", []int{0, 1, 2, 4}, "512 .1."},
		{"study", []int{0, page, page + 1}, "512 512 512", []int{0, 1}, "51. ... 51."},
		{"study", []int{0, page + 1, page + 2}, "512 512 512", []int{0, 1}, "51. 51. ..."},
		{"performance", []int{0, page + 1}, "512 512", []int{0, 1}, "51. ..."},
		{"performance", []int{0, 1}, "512 513", []int{1, 5}, ".12 .13"},
		{"performance", []int{0, page + 1}, "512 513", []int{1, 5}, ".1. ..3"},
		{"sparse", []int{0, 1}, "512 513", []int{1, 5}, ".1. ..3"},
		{"performance", []int{0, 1}, "512 513", []int{1}, ".1. ..."}, // the later one has none
	} {
		var strokes []event
		for time, fingers := range strings.Fields(c.fingers) {
			for k, f := range fingers {
				strokes = append(strokes, event{keys: []int{[]int{48, 60, 62}[k]}, fingers: []int{int(f - '0')}, measure: c.measures[time]})
			}
		}
		p := overStrokes(c.digits, strokes)
		for e := range p.line {
			p.in.Score.Notes[e].Onset = score.Whole(int64(e % 3))
		}
		for _, e := range c.must {
			p.print(e, Departs, 0)
		}
		p.evenMeasures(true)
		got := ""
		for e := range p.line {
			if e > 0 && e%3 == 0 {
				got += " "
			}
			got += printsOf(p, e)
		}
		require.Equal(t, c.want, got, "%v", c)
	}
}
