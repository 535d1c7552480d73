package thin

import (
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
