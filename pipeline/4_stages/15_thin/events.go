package thin

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// event is what one hand strikes at one moment, lowest key (as the hand sees
// it, thumb side first) first.
type event struct {
	notes          []int
	keys           []int // mirrored for the left hand, so that fingers rise with keys
	fingers        []int
	at, end        score.Fraction
	firstOfMeasure bool
	onBeat         bool
	apart          bool // after a rest so long that the hand comes from nowhere
}

// longRest is the rest, in quarters, after which the reader forgets where the hand lay.
var longRest = score.Whole(4)

// lines gathers the events of each hand of each player.
func lines(in Fingered) [][]event {
	type lineKey struct {
		player int
		hand   score.Hand
	}
	notes := map[lineKey][]int{}
	var keys []lineKey // in order of first appearance
	for i := range in.Score.Notes {
		if !in.Piano[i] || in.Score.Notes[i].TiedFrom >= 0 || in.Finger[i] == 0 {
			continue
		}
		k := lineKey{in.Player[i], in.Hand[i]}
		if notes[k] == nil {
			keys = append(keys, k)
		}
		notes[k] = append(notes[k], i)
	}
	var out [][]event
	for _, k := range keys {
		out = append(out, eventsOf(in, k.hand, notes[k]))
	}
	return out
}

// graceOrder puts grace notes before the note they lean on, after-notes before those.
func graceOrder(n *score.Note) int {
	switch {
	case n.Grace > 0 && n.GraceAfter:
		return n.Grace
	case n.Grace > 0:
		return 100 + n.Grace
	}
	return 1 << 20
}

func eventsOf(in Fingered, h score.Hand, notes []int) []event {
	s, side := in.Score, fingering.HandOf(h)
	at := make(map[int]score.Fraction, len(notes))
	for _, i := range notes {
		at[i] = s.At(i)
	}
	order := func(i int) int { return graceOrder(&s.Notes[i]) }
	slices.SortStableFunc(notes, func(a, b int) int {
		return cmp.Or(at[a].Cmp(at[b]), cmp.Compare(order(a), order(b)), cmp.Compare(side.Mirror(s.Notes[a].Midi), side.Mirror(s.Notes[b].Midi)), cmp.Compare(a, b))
	})
	var out []event
	measure := -1
	var sounding score.Fraction
	for k, i := range notes {
		n := &s.Notes[i]
		if k == 0 || at[i] != at[notes[k-1]] || order(i) != order(notes[k-1]) {
			out = append(out, event{
				at: at[i], end: at[i], firstOfMeasure: n.Measure != measure, onBeat: n.Grace == 0 && onBeat(&s.Measures[n.Measure], n.Onset),
				apart: k == 0 || longRest.Less(at[i].Sub(sounding)),
			})
			measure = n.Measure
		}
		e := &out[len(out)-1]
		e.notes = append(e.notes, i)
		e.keys = append(e.keys, side.Mirror(n.Midi))
		e.fingers = append(e.fingers, in.Finger[i])
		e.end = score.Max(e.end, at[i].Add(n.Duration))
		sounding = score.Max(sounding, e.end)
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
