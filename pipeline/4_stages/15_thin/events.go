package thin

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
)

// event is what one hand strikes at one moment, lowest key (as the hand sees
// it, thumb side first) first.
type event struct {
	notes          []int
	keys           []int // mirrored for the left hand, so that fingers rise with keys
	fingers        []int
	at, end        score.Fraction
	measure        int
	firstOfMeasure bool
	onBeat         bool
	apart          bool // after a rest so long that the hand comes from nowhere
}

// longRest is the rest, in quarters, after which the reader forgets where the hand lay.
var longRest = score.Whole(4)

// lines gathers the events of each hand of each player that has a finger, in order of their first notes on the page.
func lines(in Fingered) [][]event {
	var out [][]event
	for _, i := range lineOrder(in) {
		out = append(out, eventsOf(in, &in.Playing.Lines[i]))
	}
	return out
}

// lineOrder gives the lines that have a finger by their first notes on the page.
func lineOrder(in Fingered) (out []int) {
	first := make([]int, len(in.Playing.Lines))
	for i := range in.Playing.Lines {
		first[i] = -1
		for _, st := range in.Playing.Lines[i].Strokes {
			for _, n := range st.Notes {
				if in.Finger[n] > 0 && (first[i] < 0 || n < first[i]) {
					first[i] = n
				}
			}
		}
		if first[i] >= 0 {
			out = append(out, i)
		}
	}
	slices.SortFunc(out, func(a, b int) int { return first[a] - first[b] })
	return out
}

// eventsOf gives the strokes of a hand with their fingers; notes without one are left out.
func eventsOf(in Fingered, l *playing.Line) []event {
	s, side := in.Score, fingering.HandOf(l.Hand)
	out := make([]event, 0, len(l.Strokes))
	measure := -1
	var sounding score.Fraction
	for i := range l.Strokes {
		st := &l.Strokes[i]
		e := event{at: st.At, end: st.At}
		for _, n := range st.FromThumb {
			if in.Finger[n] == 0 {
				continue
			}
			e.notes = append(e.notes, n)
			e.keys = append(e.keys, side.Mirror(s.Notes[n].Midi))
			e.fingers = append(e.fingers, in.Finger[n])
			e.end = score.Max(e.end, st.At.Add(s.Notes[n].Duration))
		}
		if len(e.notes) == 0 {
			continue
		}
		n := &s.Notes[e.notes[0]]
		e.measure = n.Measure
		e.firstOfMeasure = n.Measure != measure
		e.onBeat = st.Rank == playing.OnOnset && onBeat(&s.Measures[n.Measure], n.Onset)
		e.apart = len(out) == 0 || longRest.Less(st.At.Sub(sounding))
		measure, sounding = n.Measure, score.Max(sounding, e.end)
		out = append(out, e)
	}
	return out
}

func onBeat(m *score.Measure, onset score.Fraction) bool {
	unit := m.BeatUnit
	if unit.Sign() <= 0 {
		unit = score.Whole(1)
	}
	return onset.Mul(score.Frac(unit.Den(), unit.Num())).Den() == 1
}
