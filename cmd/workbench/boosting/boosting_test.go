package boosting_test

import (
	"math"
	"testing"

	"fingerproof/cmd/workbench/boosting"

	"github.com/stretchr/testify/require"
)

// value sums up the leaves that a row comes to.
func value(begin float64, trees [][]boosting.Node, row []int) float64 {
	for _, t := range trees {
		n := 0
		for t[n].Column >= 0 {
			if row[t[n].Column] <= t[n].Cut {
				n = t[n].Low
			} else {
				n = t[n].High
			}
		}
		begin += t[n].Value
	}
	return begin
}

// Rows that are yes where exactly one of two columns is high, which no sum over columns tells, and a third that says
// nothing. One leaf alone says how often there is a yes: the log-odds of the share.
func TestTreesTellWhatCrosses(t *testing.T) {
	var rows [][]int
	var yes []bool
	for i := range 4000 {
		a, b := i%7, i/7%11
		rows, yes = append(rows, []int{a, b, i % 3}), append(yes, (a > 2) != (b > 5))
	}
	begin, trees := boosting.Fit(rows, yes, boosting.Settings{Trees: 40, Leaves: 6, LeastRows: 20, Rate: 0.3, Ridge: 1})
	n := 0
	for i, row := range rows {
		require.Equal(t, yes[i], value(begin, trees, row) > 0)
		if yes[i] {
			n++
		}
	}
	require.InDelta(t, math.Log(float64(n)/float64(len(yes)-n)), begin, 1e-12)
	again, same := boosting.Fit(rows, yes, boosting.Settings{Trees: 40, Leaves: 6, LeastRows: 20, Rate: 0.3, Ridge: 1})
	require.Equal(t, begin, again)
	require.Equal(t, trees, same)
}
