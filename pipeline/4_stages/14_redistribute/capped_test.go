package redistribute

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"

	"github.com/stretchr/testify/require"
)

// offers makes a score of measures with one note each and an offer in some of them, gains by measure.
func offers(measures int, gains map[int]int, page func(m int) int) (Material, []fingering.Redistribution) {
	s := &score.Score{}
	var all []fingering.Redistribution
	for m := range measures {
		s.Measures = append(s.Measures, score.Measure{Page: page(m)})
		s.Notes = append(s.Notes, score.Note{Measure: m})
		if gains[m] > 0 {
			all = append(all, fingering.Redistribution{Notes: []int{m}, Gain: gains[m]})
		}
	}
	return Material{Score: s, Rules: Rules{PerPage: 2}}, all
}

func measuresOf(list []fingering.Redistribution) (out []int) {
	for _, r := range list {
		out = append(out, r.Notes[0])
	}
	return out
}

func TestTheBestOfAPageAreKept(t *testing.T) {
	gains := map[int]int{1: 5, 2: 9, 3: 7, 30: 1, 31: 3, 32: 2, 80: 1}
	in, all := offers(100, gains, func(m int) int { return 1 + m/30 })
	require.Equal(t, []int{2, 3, 31, 32, 80}, measuresOf(capped(in, all)), "pages of the file")
	in, all = offers(100, gains, func(int) int { return 1 })
	require.Equal(t, []int{2, 3, 31, 32, 80}, measuresOf(capped(in, all)), "no pages known")
	in.Rules.PerPage = 0
	require.Len(t, capped(in, all), 7)
}

// Measures put in at the beginning leave what is kept far behind as it was.
func TestAMeasurePutInTurnsNoPages(t *testing.T) {
	gains, moved := map[int]int{}, map[int]int{}
	for m := 10; m < 400; m += 7 {
		gains[m] = 1000 + m*37%101
		moved[m+1] = gains[m]
	}
	in, all := offers(400, gains, func(int) int { return 1 })
	before := measuresOf(capped(in, all))
	in, all = offers(401, moved, func(int) int { return 1 })
	after := measuresOf(capped(in, all))
	require.NotEmpty(t, before)
	require.Less(t, len(before), len(gains))
	for i := range after {
		after[i]--
	}
	require.Equal(t, before, after)
}
