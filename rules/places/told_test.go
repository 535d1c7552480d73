package places

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// What neither digits nor the preface tell: the inner keys of a chord, unless one finger alone is left between the others; single keys
// to which the hand moves, and all where nothing comes before. Of an octave on black keys 4 and 5 are both told.
func TestWhatNothingTells(t *testing.T) {
	for name, c := range map[string]struct {
		events []Event
		shown  []int // keys of the last event, from the thumb
		want   []int
	}{
		"the first note":                           {chords([2][]int{{60}, {3}}), nil, []int{0}},
		"the first note with its digit":            {chords([2][]int{{60}, {3}}), []int{0}, nil},
		"a step on":                                {chords([2][]int{{60}, {1}}, [2][]int{{62}, {2}}), nil, nil},
		"a key above the little finger":            {chords([2][]int{{60}, {5}}, [2][]int{{72}, {5}}), nil, []int{0}},
		"the middle of a triad":                    {chords([2][]int{{48}, {5}}, [2][]int{{60, 64, 67}, {1, 3, 5}}), nil, []int{1}},
		"the middle of a triad, 5 on it":           {chords([2][]int{{48}, {5}}, [2][]int{{60, 64, 67}, {1, 3, 5}}), []int{2}, []int{1}},
		"one finger is left":                       {chords([2][]int{{48}, {5}}, [2][]int{{60, 64, 67}, {1, 2, 3}}), []int{0, 2}, nil},
		"one finger is left of each":               {chords([2][]int{{48}, {5}}, [2][]int{{60, 62, 64, 65, 67}, {1, 2, 3, 4, 5}}), nil, nil},
		"a chord struck again":                     {chords([2][]int{{60, 64, 67}, {1, 3, 5}}, [2][]int{{60, 64, 67}, {1, 3, 5}}), nil, nil},
		"an octave on black keys":                  {chords([2][]int{{48}, {5}}, [2][]int{{61, 73}, {1, 4}}), nil, nil},
		"a key between an octave on black keys":    {chords([2][]int{{48}, {5}}, [2][]int{{61, 66, 73}, {1, 2, 5}}), nil, []int{1, 2}},
		"a key that two voices strike, by one":     {chords([2][]int{{48}, {5}}, [2][]int{{60, 64, 64, 67}, {1, 3, 3, 5}}), []int{1}, nil},
		"a key that two voices strike, by neither": {chords([2][]int{{48}, {5}}, [2][]int{{60, 64, 64, 67}, {1, 3, 3, 5}}), nil, []int{1, 2}},
	} {
		last := len(c.events) - 1
		shown := map[int]bool{}
		for _, k := range c.shown {
			shown[c.events[last].Notes[k]] = true
		}
		got := NewPreface(c.events).Untold(last, func(i int) bool { return shown[i] })
		require.Equal(t, c.want, got, name)
	}
}
