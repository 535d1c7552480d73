// Package tempo is the stage that finds how fast a piece goes.
package tempo

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/policies"
)

// Tempo is the speed of a piece: a range that a fingering has to hold over,
// and the course of time at its fast end.
type Tempo struct {
	Low, High int            // felt beats a minute at the beginning
	Beat      score.Fraction // the felt beat, in quarters
	Source    string         // "metronome mark", "Allegro", "manifest", "policy default"
	Marked    bool           // from a metronome mark or the manifest, not inferred
	changes   []tempoChange  // in order; the first at zero
}

type tempoChange struct {
	at            score.Fraction
	micros        int64 // time reached
	milliQuarters int64 // quarters a minute times 1000, at the fast end
}

// Input is everything the stage looks at.
type Input struct {
	Score    *score.Score
	Manifest policies.Range // the range that the manifest gives; zero: none
	Policy   *policies.Policy
}

// Find reads the tempo from, in this order: the manifest, a metronome
// mark, the playback tempo that the file gives, a tempo word, the policy's
// default range. Later marks and words change it from where they stand.
func Find(in Input) Tempo {
	s, given, policy := in.Score, in.Manifest, in.Policy
	t := Tempo{Beat: s.Measures[0].BeatUnit}
	if t.Beat.Sign() <= 0 {
		t.Beat = score.Whole(1)
	}
	events := tempoEvents(s, policy)
	first := tempoEvent{
		low: policy.DefaultTempo().Low, high: policy.DefaultTempo().High, unit: t.Beat,
		source: "policy default",
	}
	if len(events) > 0 && s.Measures[0].Start.Add(s.Measures[0].Length).Cmp(events[0].at) > 0 {
		first = events[0]
		events = events[1:]
	}
	if given.High > 0 {
		first = tempoEvent{low: given.Low, high: given.High, unit: t.Beat, source: "manifest", marked: true}
	}
	t.Source, t.Marked = first.source, first.marked
	t.Low, t.High = first.inBeats(first.low, t.Beat), first.inBeats(first.high, t.Beat)
	t.changes = []tempoChange{{milliQuarters: first.milliQuarters()}}
	for _, e := range events {
		last := &t.changes[len(t.changes)-1]
		if e.milliQuarters() == last.milliQuarters {
			continue
		}
		t.changes = append(t.changes,
			tempoChange{at: e.at, micros: last.time(e.at), milliQuarters: e.milliQuarters()})
	}
	return t
}

// Micros gives the time of a moment in microseconds at the fast end of the range.
func (t *Tempo) Micros(at score.Fraction) int64 {
	i, found := slices.BinarySearchFunc(t.changes, at,
		func(c tempoChange, at score.Fraction) int { return c.at.Cmp(at) })
	if !found {
		i--
	}
	return t.changes[max(i, 0)].time(at)
}

const microsAMinute = 60_000_000

func (c tempoChange) time(at score.Fraction) int64 {
	return c.micros + at.Sub(c.at).Scaled(microsAMinute*1000/max(c.milliQuarters, 1))
}

// tempoEvent is a place where a tempo begins, as a range of beats a minute.
type tempoEvent struct {
	at        score.Fraction
	low, high int
	unit      score.Fraction // the beat counted, in quarters
	milli     int64          // exact, where a mark gives it
	source    string
	marked    bool
}

func (e tempoEvent) milliQuarters() int64 {
	if e.milli > 0 {
		return e.milli
	}
	return e.unit.Mul(score.Whole(int64(e.high))).Scaled(1000)
}

// inBeats converts beats of the event's unit to felt beats.
func (e tempoEvent) inBeats(n int, beat score.Fraction) int {
	if e.milli > 0 {
		return int(score.Frac(e.milli*beat.Den(), 1000*beat.Num()).Scaled(1))
	}
	return n
}

// tempoEvents lists where tempos begin. At one place a metronome mark says it
// best, then a playback tempo, then a word.
func tempoEvents(s *score.Score, policy *policies.Policy) []tempoEvent {
	var out []tempoEvent
	var ranks []int
	for _, d := range s.Directions {
		m := &s.Measures[d.Measure]
		e, rank := tempoEvent{at: m.Start.Add(d.Onset), unit: m.BeatUnit}, 0
		if e.unit.Sign() <= 0 {
			e.unit = score.Whole(1)
		}
		switch d.Kind {
		case score.TempoMark:
			e.milli, e.source, e.marked, rank = d.MilliQuarters, "metronome mark", true, 3
		case score.SoundOnly:
			e.milli, e.source, rank = d.MilliQuarters, "playback tempo of the file", 2
		case score.Words:
			word, r, found := policy.TempoOf(d.Text)
			if !found {
				continue
			}
			e.low, e.high, e.source, rank = r.Low, r.High, fmt.Sprintf("the word %q", word), 1
		default:
			continue
		}
		if k := len(out) - 1; k >= 0 && out[k].at == e.at {
			if rank > ranks[k] {
				out[k], ranks[k] = e, rank
			}
			continue
		}
		out, ranks = append(out, e), append(ranks, rank)
	}
	slices.SortStableFunc(out, func(a, b tempoEvent) int { return a.at.Cmp(b.at) })
	return out
}
