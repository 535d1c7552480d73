package suggest

import (
	"slices"

	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
)

// What goes on in a measure as the text's own digits begin it: two keys to and fro, a grip struck again after something else.

// goesOnWorth is what another finger costs, in milli-nats, where the text leaves bare what goes on as its digits begin it.
const goesOnWorth = 6000

// goesOn gives the keys of a line that come back bare, in one measure, the fingers of the text's digits: a key after one other key
// where both have digits (a broken chord to and fro, a trill written out), and a grip of several keys wherever it comes back. Print
// fingers a figure where it begins, and a digit in it says that the hand does otherwise from there (common practice, no source).
func (m *memory) goesOn(line *fingering.Line, of figuresAgain, apart func(id int) bool) {
	last := map[[fingering.MaxKeys]int8]int{} // grips of the measure with a finger from the text → their last event
	measure := -1
	for e := range line.Events {
		ids := struckAt(line, e)
		if ids == nil {
			continue
		}
		if here := of.measure(ids[0]); here != measure {
			measure = here
			clear(last)
		}
		keys := keysOf(line, e)
		from, back := last[keys]
		if len(ids) == 1 {
			from, back = e-2, m.toAndFro(line, e, of)
		}
		if back && m.bareAt(ids, apart) {
			for i, before := range struckAt(line, from) {
				if m.fingeredByText(before, of) {
					m.staysOn(ids[i], m.textFinger(before), goesOnWorth)
				}
			}
		}
		if len(ids) > 1 {
			delete(last, keys)
			if slices.ContainsFunc(ids, func(id int) bool { return m.fingeredByText(id, of) }) {
				last[keys] = e
			}
		}
	}
}

// toAndFro says that an event strikes the single key of the event before the last one, after another single key, that this goes on
// or has gone on so, all in one measure, and that both have fingers from the text. (A key that comes back once may be a turn of the
// line.)
func (m *memory) toAndFro(line *fingering.Line, e int, of figuresAgain) bool {
	if e < 2 {
		return false
	}
	a, b, c := struckAt(line, e-2), struckAt(line, e-1), struckAt(line, e)
	if len(a) != 1 || len(b) != 1 || keysOf(line, e-2) != keysOf(line, e) || keysOf(line, e-1) == keysOf(line, e) {
		return false
	}
	before := e > 2 && struckAt(line, e-3) != nil && keysOf(line, e-3) == keysOf(line, e-1)
	after := e+1 < len(line.Events) && struckAt(line, e+1) != nil && keysOf(line, e+1) == keysOf(line, e-1)
	if !before && !after {
		return false
	}
	return of.measure(a[0]) == of.measure(c[0]) && m.fingeredByText(a[0], of) && m.fingeredByText(b[0], of) &&
		m.textFinger(a[0]) != m.textFinger(b[0])
}

// struckAt gives the notes that an event strikes, the thumb's side first; nil where they are no notes of the text's own time.
func struckAt(line *fingering.Line, e int) (ids []int) {
	if line.Events[e].Rank != playing.OnOnset {
		return nil
	}
	for _, k := range line.Events[e].Keys {
		s := &line.Strikes[k.Strike]
		if s.Turn || s.Then != 0 {
			return nil
		}
		if k.Struck {
			ids = append(ids, s.IDs[0])
		}
	}
	return ids
}

func keysOf(line *fingering.Line, e int) (out [fingering.MaxKeys]int8) {
	n := 0
	for _, k := range line.Events[e].Keys {
		if k.Struck {
			out[n] = k.Key
			n++
		}
	}
	return out
}

// fingeredByText says that a note has a digit of the text, or a finger that goes on from one.
func (m *memory) fingeredByText(id int, of figuresAgain) bool {
	return m.textFinger(id) != 0 && (of.text(id) || m.stay.at(id))
}

// textFinger is the finger of a note that has it from the text.
func (m *memory) textFinger(id int) fingering.Finger {
	n := m.at.at(id)
	switch {
	case n == nil:
		return 0
	case given(n):
		return only(n.Allowed)
	case m.stay.at(id):
		return n.Remembered
	}
	return 0
}

// bareAt says that some notes may take any finger, and are not to be fingered for themselves.
func (m *memory) bareAt(ids []int, apart func(id int) bool) bool {
	return !slices.ContainsFunc(ids, func(id int) bool {
		n := m.at.at(id)
		return n == nil || n.Allowed != 0 || m.stay.at(id) || apart(id)
	})
}

// staysOn lets a bare note have a finger that goes on from a digit of the text.
func (m *memory) staysOn(id int, f fingering.Finger, worth int) {
	n := m.at.at(id)
	m.finger.of[id], m.stay.of[id], m.carried.of[id] = f, true, true
	n.Remembered, n.Worth = f, max(n.Worth, worth)
}
