package places

import "slices"

// longest is how many events a figure has at most.
const longest = 24

// Figures finds the figures of a line: a few notes that come again at once, with the same fingers and at the same
// distances in time. It gives for each event the event that it repeats, the one in the figure's last statement before
// it; −1 where it stands for itself. A key struck again at once by the same finger repeats its stroke.
func Figures(events []Event) []int {
	out := make([]int, len(events))
	for e := range out {
		out[e] = -1
	}
	for n := 1; n <= longest; n++ {
		for from := n; from < len(events); {
			to := from
			for to < len(events) && same(events, to, n) {
				to++
			}
			if to-from >= n {
				for e := from; e < to; e++ {
					if out[e] < 0 {
						out[e] = e - n
					}
				}
			}
			from = to + 1
		}
	}
	return out
}

// same says that an event repeats the one n before it: keys, fingers, and the time since the event before.
func same(events []Event, e, n int) bool {
	a, b := &events[e], &events[e-n]
	if !slices.Equal(a.Keys, b.Keys) || !slices.Equal(a.Fingers, b.Fingers) {
		return false
	}
	return inTime(events, e, n)
}
