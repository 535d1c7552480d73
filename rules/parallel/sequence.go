package parallel

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// Periods of a sequence, in strokes.
const shortestPeriod, longestPeriod = 3, 16

// InSequence says that two times of a figure of so many single keys, which begin at the events before and now of a line,
// are other parts of a pattern that climbs or falls: an exercise that puts the same keys under other fingers on purpose
// has no figure that comes again. The pattern stands at least twice about them, on other keys, every step alike within a
// semitone; the two times begin at other places of it, and not in the same time of it, where it would be the pattern
// that repeats the figure.
func InSequence(line *fingering.Line, before, now, strokes int) bool {
	other := false
	for p := shortestPeriod; p <= longestPeriod; p++ {
		if !climbs(line, before, now+strokes-1, p) {
			continue
		}
		if (now-before)%p == 0 {
			return false // the same place of the pattern
		}
		other = other || timeOf(line, before, p) != timeOf(line, now, p)
	}
	return other
}

// climbs says that events from to until lie in a pattern of p strokes that comes again on other keys.
func climbs(line *fingering.Line, from, until, p int) bool {
	// The stretch about them in which each stroke goes on as the one p strokes before.
	first, last := max(from, p)+1, max(from, p)
	for first-1 > p && goesOnAs(line, first-1, p) {
		first--
	}
	for last+1 < len(line.Events) && goesOnAs(line, last+1, p) {
		last++
	}
	return first-1-p <= from && until <= last && last-first+1 >= p-1
}

// goesOnAs says that the step to event e is that to event e−p on other keys, and comes as soon.
func goesOnAs(line *fingering.Line, e, p int) bool {
	if e-p-1 < 0 {
		return false
	}
	var k [4]int
	for i, at := range [4]int{e - p - 1, e - p, e - 1, e} {
		s, ok := Single(line, at)
		if !ok {
			return false
		}
		k[i] = int(line.Strikes[s].Key)
	}
	was, is := k[1]-k[0], k[3]-k[2]
	return k[3] != k[1] && (was < 0) == (is < 0) && (was == 0) == (is == 0) && max(was-is, is-was) <= 1 &&
		sameTime(&line.Events[e-p-1], &line.Events[e-p], &line.Events[e-1], &line.Events[e])
}

// Single gives the only strike of an event; ok is false where several keys are struck.
func Single(line *fingering.Line, e int) (strike int, ok bool) {
	n := 0
	for _, k := range line.Events[e].Keys {
		if k.Struck {
			strike = k.Strike
			n++
		}
	}
	return strike, n == 1
}

// sameTime says that as much time lies between two events as between two others.
func sameTime(a, b, c, d *fingering.Event) bool {
	return minus(b.Onset, a.Onset) == minus(d.Onset, c.Onset)
}

func minus(a, b fingering.Moment) score.Fraction {
	return score.Frac(a.Num, a.Den).Sub(score.Frac(b.Num, b.Den))
}

// timeOf numbers the times of a pattern of p strokes, as its length counts them from the beginning of the piece.
func timeOf(line *fingering.Line, e, p int) int64 {
	if e+p >= len(line.Events) {
		return timeOf(line, e-p, p) + 1
	}
	at, long := line.Events[e].Onset, minus(line.Events[e+p].Onset, line.Events[e].Onset)
	if long.Num() == 0 {
		return 0
	}
	return max(at.Num, 0) * long.Den() / (max(at.Den, 1) * long.Num())
}
