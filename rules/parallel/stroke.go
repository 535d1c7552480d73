package parallel

import (
	"cmp"
	"encoding/binary"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// Line is what one hand of one player plays.
type Line struct {
	Hand  fingering.Hand
	Notes []fingering.Note // in any order; ids are those that returns speak of
	// Degrees gives the place of each note on the staff, in steps (C4 is 28), which tells a sequence within the key from
	// anything else; nil where it is not known.
	Degrees []int
}

// stroke is one moment at which a hand strikes keys.
type stroke struct {
	line   int // index of its line
	hand   fingering.Hand
	at     score.Fraction
	grace  int
	ids    []int // lowest mirrored key first; of two notes on one key the first written
	keys   []int // mirrored, so that one shape serves both hands
	degree []int // mirrored likewise; nil where not known
	held   []int // mirrored keys that this hand holds on from before, lowest first
	end    score.Fraction
	gap    score.Fraction // time to the next stroke of the line; for the last one its own length
	last   bool           // the last of its line
}

func fraction(m fingering.Moment) score.Fraction { return score.Frac(m.Num, max(m.Den, 1)) }

// strokesOf lays the strokes of all lines one after the other, each line in the order of playing.
func strokesOf(lines []Line) []stroke {
	var out []stroke
	for l := range lines {
		from := len(out)
		out = append(out, lines[l].strokes(l)...)
		for i := from; i < len(out); i++ {
			if i+1 < len(out) {
				out[i].gap = out[i+1].at.Sub(out[i].at)
			} else {
				out[i].gap, out[i].last = out[i].end.Sub(out[i].at), true
			}
		}
	}
	return out
}

func (l *Line) strokes(number int) []stroke {
	order := make([]int, 0, len(l.Notes))
	for k := range l.Notes {
		if !l.Notes[k].Tied {
			order = append(order, k)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := &l.Notes[a], &l.Notes[b]
		return cmp.Or(fingering.Before(x, y), cmp.Compare(l.Hand.Mirror(x.Key), l.Hand.Mirror(y.Key)), cmp.Compare(x.ID, y.ID))
	})
	var out []stroke
	for i, k := range order {
		n := &l.Notes[k]
		if i == 0 || fingering.Before(&l.Notes[order[i-1]], n) != 0 {
			out = append(out, stroke{line: number, hand: l.Hand, at: fraction(n.Onset), grace: max(n.Grace, 0)})
		}
		s, key := &out[len(out)-1], l.Hand.Mirror(n.Key)
		s.end = score.Max(s.end, fraction(n.End))
		if m := len(s.keys); m > 0 && s.keys[m-1] == key {
			continue
		}
		s.ids, s.keys = append(s.ids, n.ID), append(s.keys, key)
		if l.Degrees != nil {
			d := l.Degrees[k]
			if l.Hand == fingering.Left {
				d = -d
			}
			s.degree = append(s.degree, d)
		}
	}
	l.hold(out)
	return out
}

// hold finds what is held on at each stroke: keys struck before whose notes last beyond it, ties followed.
func (l *Line) hold(strokes []stroke) {
	type sounding struct {
		key      int
		from, to score.Fraction
	}
	var all []sounding
	for k := range l.Notes {
		if n := &l.Notes[k]; n.Grace <= 0 && !n.Detached {
			all = append(all, sounding{l.Hand.Mirror(n.Key), fraction(n.Onset), fraction(n.End)})
		}
	}
	slices.SortStableFunc(all, func(a, b sounding) int { return a.from.Cmp(b.from) })
	var open []sounding
	next := 0
	for i := range strokes {
		s := &strokes[i]
		for ; next < len(all) && all[next].from.Cmp(s.at) <= 0; next++ {
			open = append(open, all[next])
		}
		open = slices.DeleteFunc(open, func(o sounding) bool { return o.to.Cmp(s.at) <= 0 })
		for _, o := range open {
			if !slices.Contains(s.keys, o.key) && !slices.Contains(s.held, o.key) {
				s.held = append(s.held, o.key)
			}
		}
		slices.Sort(s.held)
	}
}

// view is what of a stroke is compared: its keys, the shape of its keys or the shape of its degrees, and how the line goes on.
type view uint8

const (
	byKeys      view = iota // these keys, this hand
	byIntervals             // the same intervals in semitones, from the side of the thumb
	byDegrees               // the same intervals in steps of the staff
)

// spell gives what a view sees of a stroke and of the way to the next one, as a word to be compared. ok is false where the view
// cannot tell.
func (v view) spell(s, next *stroke) (word string, ok bool) {
	at := s.keys
	if v == byDegrees {
		if at = s.degree; at == nil {
			return "", false
		}
	}
	b := binary.AppendVarint(nil, s.gap.Num())
	b = binary.AppendVarint(b, s.gap.Den())
	if s.grace > 0 {
		b = append(b, 1)
	} else {
		b = append(b, 0)
	}
	switch {
	case v == byKeys:
		b = append(b, byte(s.hand))
		for _, k := range at {
			b = binary.AppendVarint(b, int64(k))
		}
		b = append(b, 0xff)
		for _, k := range s.held {
			b = binary.AppendVarint(b, int64(k))
		}
	default:
		for _, k := range at[1:] {
			b = binary.AppendVarint(b, int64(k-at[0]))
		}
		b = append(b, 0, byte(len(s.held)))
		if v == byIntervals {
			for _, k := range s.held {
				b = binary.AppendVarint(b, int64(k-at[0]))
			}
		}
		if !s.last {
			to := next.keys
			if v == byDegrees {
				to = next.degree
			}
			b = binary.AppendVarint(b, int64(to[0]-at[0]))
		}
	}
	return string(b), true
}

// same reports whether a view sees the same in two strokes by themselves, whatever follows.
func (v view) same(a, b *stroke) bool {
	x, y := a.keys, b.keys
	if v == byDegrees {
		x, y = a.degree, b.degree
	}
	if len(x) == 0 || len(x) != len(y) || (a.grace > 0) != (b.grace > 0) {
		return false
	}
	from, to := x[0], y[0]
	if v == byKeys {
		from, to = 0, 0
	}
	for i := range x {
		if x[i]-from != y[i]-to {
			return false
		}
	}
	return true
}

// words numbers what a view sees of every stroke: equal numbers, equal words; -1 where the view cannot tell.
func (v view) words(strokes []stroke) []int32 {
	number := map[string]int32{}
	out := make([]int32, len(strokes))
	for i := range strokes {
		next := &strokes[min(i+1, len(strokes)-1)]
		word, ok := v.spell(&strokes[i], next)
		if !ok {
			out[i] = -1
			continue
		}
		n, known := number[word]
		if !known {
			n = int32(len(number))
			number[word] = n
		}
		out[i] = n
	}
	return out
}
