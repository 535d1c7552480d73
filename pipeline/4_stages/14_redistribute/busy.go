package redistribute

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// Hands that have no time for more, and groups that belong together (common practice; readers who judged offers as
// pianists named these).

// twoOctaves is how far from a key that it holds a hand is asked to strike at most, in semitones, pedal or not.
const twoOctaves = 24

// busyElsewhere says that the hand that is to take notes is bound to another place while they are struck: it plays a
// tremolo, or is the right hand and holds a key more than two octaves away. What the left hand holds below, the pedal
// has meanwhile.
func (f *finder) busyElsewhere(h int, moved map[int]bool) bool {
	o := 1 - h
	for _, id := range f.inOrder(moved) {
		n := f.noteOf(id)
		if n.Tied {
			continue
		}
		at := f.where.of(id)
		near := f.between(o, at, at)
		for k := range near {
			s := &near[k]
			if f.where.of(s.ID) > at || s.End.Compare(f.moments[at].at) <= 0 || moved[s.ID] {
				continue
			}
			if f.trembles(s.ID) || o == 0 && f.where.of(s.ID) < at && abs(s.Key-n.Key) > twoOctaves {
				return true
			}
		}
	}
	return false
}

// trembles says that a note of the page is a tremolo, or part of one.
func (f *finder) trembles(id int) bool {
	return id < len(f.in.Score.Notes) && f.in.Score.Notes[id].Tremolo != (score.Tremolo{})
}

// leavesTail says that of a group of single strokes that begins after the other hand's all but the last one would be
// taken: whoever plays three of four plays the fourth.
func (f *finder) leavesTail(t trouble, moved map[int]bool) bool {
	at := f.momentsOf(moved)
	if t.reason == Rhythm || len(at) < itsOwnFigure {
		return false
	}
	for i, m := range at {
		if len(f.moments[m].struck[1-t.hand]) > 0 || !f.takesAll(t.hand, m, moved) ||
			i > 0 && f.nextStroke(t.hand, at[i-1], 1) != m {
			return false
		}
	}
	last := at[len(at)-1]
	tail := f.nextStroke(t.hand, last, 1)
	if tail < 0 || !f.soundsInto(t.hand, last, tail) || len(f.moments[tail].struck[1-t.hand]) > 0 {
		return false
	}
	after := f.nextStroke(t.hand, tail, 1)
	other := f.nextStroke(1-t.hand, tail, 1)
	return after < 0 || !f.soundsInto(t.hand, tail, after) || other >= 0 && other < after
}

// endsRow says that a single grip would be torn from a row of like ones: right before it or right after it, in one
// rhythm, stand three grips of more than an octave and of about the same span, and stay.
func (f *finder) endsRow(t trouble, moved map[int]bool) bool {
	at := f.momentsOf(moved)
	if t.reason != Reach && t.reason != Held || len(at) != 1 || f.takesAll(t.hand, at[0], moved) {
		return false
	}
	for _, step := range [2]int{-1, 1} {
		m, like := at[0], 0
		var beat score.Fraction
		for {
			n := f.nextStroke(t.hand, m, step)
			if n < 0 || !f.likeGrip(t.hand, at[0], n) || f.takes(t.hand, n, moved) {
				break
			}
			apart := f.quarters(min(m, n), max(m, n))
			if like > 0 && !apart.Equal(beat) {
				break
			}
			beat, m = apart, n
			if like++; like == likeStrokes {
				return true
			}
		}
	}
	return false
}

// likeGrip says that a hand strikes about the same grip at two moments: outer keys as far apart within a whole tone.
func (f *finder) likeGrip(h, a, b int) bool {
	lowA, highA, _ := f.outer(h, a)
	lowB, highB, _ := f.outer(h, b)
	return highB-lowB > octave && abs(highA-lowA-highB+lowB) <= wholeTone
}

// withinOctave says that a grip that is called out of reach spans no more than an octave, with no more keys than
// fingers: players take it, and say so of no other hand.
func (f *finder) withinOctave(t trouble) bool {
	if t.reason != Reach {
		return false
	}
	for m := t.from; m <= t.to; m++ {
		low, high, keys := 128, -1, 0
		near := f.between(t.hand, m, m)
		for k := range near {
			n := &near[k]
			if f.where.of(n.ID) == m || f.where.of(n.ID) < m && n.End.Compare(f.moments[m].at) > 0 {
				low, high, keys = min(low, n.Key), max(high, n.Key), keys+1
			}
		}
		if high-low > octave || keys > fingering.Fingers {
			return false
		}
	}
	return true
}
