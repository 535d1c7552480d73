package score

import "slices"

// Span is a stretch of time in quarters from the beginning of the piece; its end is not part of it.
type Span struct{ From, To Fraction }

// Spans are stretches of time in order, none within another.
type Spans []Span

// At gives the stretch that holds a moment.
func (s Spans) At(at Fraction) (Span, bool) {
	k, _ := slices.BinarySearchFunc(s, at, func(e Span, at Fraction) int {
		if e.From.Cmp(at) <= 0 {
			return -1
		}
		return 1
	})
	if k == 0 || !at.Less(s[k-1].To) {
		return Span{}, false
	}
	return s[k-1], true
}

// PedalSpans lists where a pedal is marked down in the parts that of accepts (nil: in any). A change of pedal ends a
// stretch and begins the next; a pedal that is never lifted stays down to the end; a mark that only continues a line
// says nothing new (MusicXML 4.0, pedal-type).
func (s *Score) PedalSpans(of func(part int) bool) (out Spans) {
	type turn struct {
		at   Fraction
		down bool
	}
	var turns []turn
	for i := range s.Directions {
		if d := &s.Directions[i]; d.Kind == Pedal && (d.Start || d.Stop || d.Change) && (of == nil || of(d.Part)) {
			turns = append(turns, turn{s.Measures[d.Measure].Start.Add(d.Onset), d.Start || d.Change})
		}
	}
	slices.SortStableFunc(turns, func(a, b turn) int { return a.at.Cmp(b.at) })
	down, since := false, Fraction{}
	for _, t := range turns {
		if down && since.Less(t.at) {
			out = append(out, Span{since, t.at})
		}
		down, since = t.down, t.at
	}
	if down {
		last := &s.Measures[len(s.Measures)-1]
		out = append(out, Span{since, last.Start.Add(last.Length)})
	}
	return out
}
