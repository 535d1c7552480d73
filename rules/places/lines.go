package places

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
)

// inQuarter is how many units of time an event counts in a quarter.
const inQuarter = 24

// Events gives the strokes of a hand as events; notes without a finger are left out, and strokes that have none.
func Events(s *score.Score, l *playing.Line, finger []int) []Event {
	side := fingering.HandOf(l.Hand)
	out := make([]Event, 0, len(l.Strokes))
	for i := range l.Strokes {
		st := &l.Strokes[i]
		e := Event{Left: l.Hand == score.Left, At: int(st.At.Scaled(inQuarter)), Grace: st.Rank.IsGrace()}
		e.End = e.At
		begins, ends := false, false
		for _, n := range st.FromThumb {
			if finger[n] == 0 {
				continue
			}
			note := &s.Notes[n]
			e.Notes, e.Keys, e.Fingers = append(e.Notes, n), append(e.Keys, side.Mirror(note.Midi)), append(e.Fingers, finger[n])
			e.Steps = append(e.Steps, stepOf(note.Pitch, e.Left))
			e.End = max(e.End, int(st.At.Add(note.Duration).Scaled(inQuarter)))
			e.Short = e.Short || note.Marks&(score.Staccato|score.Staccatissimo) != 0
			begins = begins || slices.ContainsFunc(note.Slurs, func(s score.Slur) bool { return s.Start })
			ends = ends || slices.ContainsFunc(note.Slurs, func(s score.Slur) bool { return !s.Start })
		}
		if len(e.Notes) == 0 {
			continue
		}
		switch {
		case begins:
			e.Slur = 1
		case ends:
			e.Slur = 2
		}
		n := &s.Notes[e.Notes[0]]
		if slices.ContainsFunc(e.Notes, func(i int) bool { return s.Notes[i].Pitch.Step == 0 }) {
			e.Steps = nil
		}
		e.Measure = n.Measure
		if st.Rank == playing.OnOnset {
			e.Beat = flag(onBeat(&s.Measures[n.Measure], n.Onset)) + flag(n.Onset.Sign() == 0)
		}
		out = append(out, e)
	}
	return out
}

// stepOf counts a pitch by the steps of the scale, mirrored for the left hand as keys are.
func stepOf(p score.Pitch, left bool) int {
	step := 7*int(p.Octave) + (int(p.Step)-int('C')+7)%7
	if left {
		return -step
	}
	return step
}

// onBeat reports whether an onset falls on a beat of its measure; where no beat is known, on a quarter.
func onBeat(m *score.Measure, onset score.Fraction) bool {
	unit := m.BeatUnit
	if unit.Sign() <= 0 {
		unit = score.Whole(1)
	}
	return onset.Mul(score.Frac(unit.Den(), unit.Num())).Den() == 1
}
