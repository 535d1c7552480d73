package align

import "fingerproof/corpus/score"

// kinds describes how each paired note of A differs from its counterpart.
func (p *pairing) kinds() {
	for k := range p.spans {
		s := p.spans[k]
		var votes staffVotes
		if s.a.Len() > 0 && s.b.Len() > 0 {
			votes.count(p.a.run(s.a), p.b.run(s.b), s.shift)
		}
		staff := votes.winner(p.staff)
		for i := s.a.From; i < s.a.To; i++ {
			for _, it := range p.a.measures[i].items {
				if b := p.al.ToB[it.note]; b >= 0 {
					p.al.Kinds[it.note] = p.kindOf(int(it.note), b, staff)
				}
			}
		}
	}
}

func (p *pairing) kindOf(a, b int, staff staffMap) Kind {
	m, n := &p.al.A.Notes[a], &p.al.B.Notes[b]
	var k Kind
	switch d := m.Midi - n.Midi; {
	case d == 0 && !samePitch(m.Pitch, n.Pitch):
		k |= Respelled
	case d == 0:
	case d%12 == 0:
		k |= OctaveMoved
	default:
		k |= PitchChanged
	}
	if m.TiedFrom >= 0 && !arrives(n) && !p.leadsTo(b, m.TiedFrom, p.al.ToB, p.al.B) ||
		n.TiedFrom >= 0 && !arrives(m) && !p.leadsTo(a, n.TiedFrom, p.al.ToA, p.al.A) {
		k |= TieChanged
	}
	graceA, graceB := m.Grace > 0 || m.GraceAfter, n.Grace > 0 || n.GraceAfter
	if graceA != graceB {
		k |= GraceChanged
	} else if !graceA && p.onsetMoved(m, n) {
		k |= OnsetMoved
	}
	if !graceA && !graceB && m.TiedFrom < 0 && n.TiedFrom < 0 && p.durationChanged(a, b) {
		k |= DurationChanged
	}
	if staff.of(int8(m.Staff)) != int8(n.Staff) {
		k |= StaffChanged
	}
	if m.Cue != n.Cue || m.Hidden != n.Hidden {
		k |= SizeChanged
	}
	return k
}

// samePitch compares names and ignores the octave: an octave sign may be
// written into the pitch by one exporter (Midi already agrees), but B#3 is
// not C4.
func samePitch(a, b score.Pitch) bool { return a.Step == b.Step && a.Alter == b.Alter }

// onsetMoved compares places counted from the beginning of the span.
func (p *pairing) onsetMoved(m, n *score.Note) bool {
	sa, sb := p.al.SpanOfA[m.Measure], p.al.SpanOfB[n.Measure]
	if sa != sb {
		return true
	}
	s := p.spans[sa]
	x := p.a.start[m.Measure] - p.a.start[s.a.From] + ticks(m.Onset) + s.shift
	y := p.b.start[n.Measure] - p.b.start[s.b.From] + ticks(n.Onset)
	// A span read with a shift may hold notes that did not move with the rest.
	apart := min(distance(x, y), distance(x-s.shift, y))
	return apart >= leastShift
}

func distance(x, y int64) int64 { return max(x-y, y-x) }

// leastShift is the least shift, in ticks, that is reported: 1/32 of a quarter, a
// 128th note. Converters that cut the notes of tuplets to whole numbers let a
// voice drift by less.
const leastShift = ticksPerQuarter / 32

// arrives reports whether a tie leads to a note on the page, resolved or not:
// over a measure that does not add up it may not be.
func arrives(n *score.Note) bool { return n.TiedFrom >= 0 || n.TieStop }

// leadsTo reports whether a tie is written at its beginning and forgotten at
// its end: other is the note that the other score ties to the counterpart of
// note. Some exporters leave the end out behind a grace note; on the page the tie
// is drawn all the same.
func (p *pairing) leadsTo(note, other int, to []int, s *score.Score) bool {
	from := to[other]
	return from >= 0 && s.Notes[from].TieStart && s.Notes[from].TiedTo < 0 && s.Notes[from].Midi == s.Notes[note].Midi
}

// durationChanged compares how long two struck notes sound, ties added up,
// each tie only as far as the other score does not strike the key again:
// that is a difference of the tie, not of this note.
func (p *pairing) durationChanged(a, b int) bool {
	x := sounding(p.al.A, p.al.B, a, p.al.ToB)
	y := sounding(p.al.B, p.al.A, b, p.al.ToA)
	return (x-y > tolerance || y-x > tolerance) && !p.putRight(a, b)
}

// putRight reports whether two notes with all they are tied to print the same
// row of note values, though A gives one of them a length that its own note
// value has not: a converter that puts such a length right has changed
// nothing on the page. A length gone wrong in B is reported.
func (p *pairing) putRight(a, b int) bool {
	contradicted := false
	for range p.al.A.Notes {
		m, n := &p.al.A.Notes[a], &p.al.B.Notes[b]
		if m.Type == "" || m.Type != n.Type || m.Dots != n.Dots || m.Tuplet != n.Tuplet {
			return false
		}
		if contradicts(n) {
			return false
		}
		contradicted = contradicted || contradicts(m)
		a, b = m.TiedTo, n.TiedTo
		// Over a length that is too short a tie does not reach its end, on the page it does.
		if a < 0 && b >= 0 && m.TieStart && p.al.ToA[b] >= 0 && p.al.A.Notes[p.al.ToA[b]].TieStop {
			a = p.al.ToA[b]
		} else if b < 0 && a >= 0 && n.TieStart && p.al.ToB[a] >= 0 && p.al.B.Notes[p.al.ToB[a]].TieStop {
			b = p.al.ToB[a]
		}
		if a < 0 || b < 0 {
			return contradicted && a == b
		}
	}
	return false
}

// contradicts reports whether a note's length is another than its printed note value.
func contradicts(n *score.Note) bool {
	value, known := n.Value()
	d := ticks(value) - ticks(n.Duration)
	return known && (d > tolerance || d < -tolerance)
}

func sounding(s, other *score.Score, n int, to []int) int64 {
	total := ticks(s.Notes[n].Duration)
	for range s.Notes {
		n = s.Notes[n].TiedTo
		if n < 0 || to[n] >= 0 && other.Notes[to[n]].TiedFrom < 0 {
			break
		}
		total += ticks(s.Notes[n].Duration)
	}
	return total
}
