package places

import (
	"cmp"
	"slices"
)

// Repeats finds what comes again at once on the same keys, by the music alone: figures of two events or more. It gives for each
// event the one that it repeats, −1 for none; of two figures that an event could belong to, in the one that goes on longer.
func Repeats(events []Event) []int { return repeats(events).at }

func repeats(events []Event) figures {
	return longestFirst(events, 2, func(n int, tell func(from, to int)) {
		for from := n; from < len(events); {
			to := from
			for to < len(events) && slices.Equal(events[to].Keys, events[to-n].Keys) && inTime(events, to, n) {
				to++
			}
			if to-from >= n {
				tell(from, to)
			}
			from = to + 1
		}
	})
}

// Sequences finds what comes again at once by the music alone, as a reader sees it before thinking of fingers: a figure
// that is repeated, goes on higher or lower by steps of the scale, or in another octave, or keys that are struck equally often, one
// after the other. It gives for each event the one that it repeats, −1 for none; of two figures that an event could belong to, in the
// one that goes on longer.
func Sequences(events []Event) []int { return sequences(events).at }

func sequences(events []Event) figures {
	return longestFirst(events, 1, func(n int, tell func(from, to int)) {
		runs(events, n, tell)
		if n > 2 {
			struck(events, n, tell)
		}
	})
}

// struck tells of the stretches in which a key is struck n times, then another as often in the same time, and so on, however far
// from one another: as runs does.
func struck(events []Event, n int, tell func(from, to int)) {
	one := func(from int) bool { // n events from one on strike the same key, alone
		for e := from; e < from+n; e++ {
			if e >= len(events) || len(events[e].Keys) > 1 || events[e].Keys[0] != events[from].Keys[0] {
				return false
			}
		}
		return true
	}
	like := func(first, from int) bool { // n events from one on come in the time of those before, which begin where the figure does or later
		for e := from; e < from+n; e++ {
			if events[e].At-events[e-1].End > silence || e > first+n && !inTime(events, e, n) {
				return false
			}
		}
		return true
	}
	for first := 0; first+2*n <= len(events); first++ {
		if first > 0 && slices.Equal(events[first].Keys, events[first-1].Keys) || !one(first) {
			continue
		}
		to, moved := first+n, false
		for one(to) && like(first, to) {
			moved = moved || events[to].Keys[0] != events[to-1].Keys[0]
			to += n
		}
		if moved {
			tell(first+n, to)
			first = to - 1
		}
	}
}

// figures is what the events of a line repeat.
type figures struct {
	at  []int // by event: the one that it repeats, −1 for none
	run []int // by event: how many events repeat one another so, one after the other, this one among them
}

func newFigures(events int) figures {
	out := figures{make([]int, events), make([]int, events)}
	for e := range out.at {
		out.at[e] = -1
	}
	return out
}

// longestFirst asks for the stretches in which n events, from least on, come again and again, and gives for each event the one
// that it repeats in the longest of them.
func longestFirst(events []Event, least int, runs func(n int, tell func(from, to int))) figures {
	out := newFigures(len(events))
	type stretch struct{ n, from, to int }
	var all []stretch
	for n := least; n <= longest; n++ {
		runs(n, func(from, to int) { all = append(all, stretch{n, from, to}) })
	}
	slices.SortStableFunc(all, func(a, b stretch) int { return cmp.Compare(b.to-b.from, a.to-a.from) })
	for _, s := range all {
		for e := s.from; e < s.to; e++ {
			if out.at[e] < 0 {
				out.at[e], out.run[e] = e-s.n, s.to-s.from
			}
		}
	}
	return out
}

// runs tells of the stretches in which n events come again and again: the first event that repeats one, and the one after
// the last.
func runs(events []Event, n int, tell func(from, to int)) {
	for from := n; from < len(events); {
		to, low, high := from, 0, 0
		for ; to < len(events); to++ {
			l, h, like := shifted(events, to, n)
			if !like {
				break
			}
			if to > from {
				l, h = min(low, l), max(high, h)
			}
			if h-l > 1 { // a step of the scale is one or two semitones
				break
			}
			low, high = l, h
		}
		if left := (to - from) % n; to-from > n && 2*left < n { // what only begins like it does not go on
			to -= left
		}
		if to-from >= n && goesOn(events[from-n:from+1], n, low, high) {
			tell(from, to)
		}
		from = max(to, from+1)
	}
}

// silence is how long a rest, in units of time, parts what comes before it from what comes after it.
const silence = 4 * inQuarter

// shifted gives by how many semitones, at least and at most, the keys of an event lie above those of the event n before
// it, where both have as many, at the same time after the events before them.
func shifted(events []Event, e, n int) (low, high int, like bool) {
	a, b := &events[e], &events[e-n]
	if len(a.Keys) != len(b.Keys) || a.At-events[e-1].End > silence {
		return 0, 0, false
	}
	low, high = a.Keys[0]-b.Keys[0], a.Keys[0]-b.Keys[0]
	for k := range a.Keys {
		low, high = min(low, a.Keys[k]-b.Keys[k]), max(high, a.Keys[k]-b.Keys[k])
	}
	return low, high, high-low <= 1 && inTime(events, e, n)
}

// inTime says that an event comes as long after the one before it as the event n before it does, or as long after that one
// as the event before it after its own.
func inTime(events []Event, e, n int) bool {
	a, b := &events[e], &events[e-n]
	return e-n == 0 || n == 1 || a.At-events[e-1].At == b.At-events[e-n-1].At || a.At-b.At == events[e-1].At-events[e-n-1].At
}

// goesOn says that n events which come again, higher by low to high semitones, are a figure: the same keys, or another
// octave's, or at least three events that do not all go one way, as scales and arpeggios do. Given are the events and the
// one after them.
func goesOn(events []Event, n, low, high int) bool {
	if low == high && (low == 0 || n > 2 && low%12 == 0) {
		return true
	}
	up, down := false, false
	for e := 1; e < len(events); e++ {
		d := events[e].Keys[0] - events[e-1].Keys[0]
		up, down = up || d > 0, down || d < 0
	}
	return n > 2 && up && down
}

// exercise is how many times, after the first, a figure goes on with the same fingers where it needs digits only once, as
// in an exercise; editions print a shorter sequence digit by digit.
const exercise = 3

// Copies gives for each event the event that it repeats, with the same fingers: in a figure that comes again at once, or in
// one that goes on by steps as an exercise does; −1 for none.
func Copies(events []Event) []int {
	out, exercised := Figures(events), make([]bool, len(events))
	for n := 3; n <= longest; n++ {
		runs(events, n, func(from, to int) {
			for from < to {
				end := from
				for end < to && slices.Equal(events[end].Fingers, events[end-n].Fingers) {
					end++
				}
				if end-from >= exercise*n {
					for e := from; e < end; e++ {
						if out[e] < 0 || e-out[e] < n && !exercised[e] { // a shake within the figure is none by itself
							out[e], exercised[e] = e-n, true
						}
					}
				}
				from = end + 1
			}
		})
	}
	return out
}
