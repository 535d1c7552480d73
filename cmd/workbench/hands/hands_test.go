package hands

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/fingering"
	"fingerproof/rules/hands"
)

// A work betrays itself in another key and with a few notes changed; another work does not.
func TestAWorkIsKnownAgainInAnotherKey(t *testing.T) {
	line := func(up int, keys ...int) (e hands.Example) {
		for i, k := range keys {
			e = append(e, hands.Keystroke{Key: k + up, Onset: fingering.Moment{Num: int64(i), Den: 4}})
		}
		return e
	}
	tune := []int{60, 62, 64, 65, 67, 69, 71, 72, 71, 69, 67, 65, 64, 62, 60, 67, 60, 55, 48, 50, 52, 53, 55, 57, 59}
	known := map[string]bool{}
	for _, r := range runsOf(line(0, tune...)) {
		known[r] = true
	}
	changed := append([]int{64, 60, 64}, tune...)
	require.True(t, shares(runsOf(line(5, changed...)), known))
	require.False(t, shares(runsOf(line(0, 60, 64, 67, 72, 67, 64, 60, 64, 67, 72, 67, 64, 60, 55, 60)), known))
	require.False(t, shares(nil, known))
}
