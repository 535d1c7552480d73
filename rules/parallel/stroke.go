package parallel

import (
	"cmp"
	"encoding/binary"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
)

// stroke is one stroke of a hand, or what it takes over at one instant, as returns compare it.
type stroke struct {
	line   int // index of its line
	hand   fingering.Hand
	at     score.Fraction
	grace  bool
	ids    []int // lowest mirrored key first; of two notes on one key the first written
	keys   []int // mirrored, so that one shape serves both hands
	degree []int // places on the staff, mirrored likewise
	held   []int // mirrored keys that this hand holds on from before, lowest first
	end    score.Fraction
	gap    score.Fraction // time to the next stroke of the line; for the last one its own length
	last   bool           // the last of its line
}

// strokesOf lays the strokes of all lines one after the other, each line in playing order.
func strokesOf(s *score.Score, p *playing.Playing) []stroke {
	most := 0
	for l := range p.Lines {
		most += len(p.Lines[l].Strokes) + len(p.Lines[l].Taken)
	}
	out := make([]stroke, 0, most)
	for l := range p.Lines {
		from := len(out)
		out = appendLine(out, s, l, &p.Lines[l])
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

// appendLine adds the strokes of a line. A key that is taken over needs a finger as one that is struck does.
func appendLine(out []stroke, s *score.Score, number int, l *playing.Line) []stroke {
	hand, strokes, taken := fingering.HandOf(l.Hand), l.Strokes, l.Taken
	for len(strokes)+len(taken) > 0 {
		var notes, held []int
		var at playing.Instant
		if len(taken) == 0 || len(strokes) > 0 && strokes[0].Compare(taken[0].Instant) < 0 {
			at, notes, held = strokes[0].Instant, strokes[0].FromThumb, strokes[0].Held
			strokes = strokes[1:]
		} else {
			at, notes, held = taken[0].Instant, taken[0].FromThumb, taken[0].Held
			taken = taken[1:]
			if len(strokes) > 0 && strokes[0].Instant == at {
				notes = slices.Concat(notes, strokes[0].Notes)
				slices.SortFunc(notes, func(a, b int) int {
					return cmp.Or(
						cmp.Compare(hand.Mirror(s.Notes[a].Midi), hand.Mirror(s.Notes[b].Midi)), cmp.Compare(a, b),
					)
				})
				strokes = strokes[1:]
			}
		}
		out = append(out, newStroke(s, number, hand, at, notes, held))
	}
	return out
}

func newStroke(s *score.Score, line int, h fingering.Hand, at playing.Instant, notes, held []int) stroke {
	out := stroke{line: line, hand: h, at: at.At, grace: at.Rank.IsGrace()}
	n := len(notes)
	room := make([]int, 3*n) // of the three lists, which are of one length
	out.ids, out.keys, out.degree = room[:0:n], room[n:n:2*n], room[2*n:2*n]
	key := func(n int) int { return h.Mirror(s.Notes[n].Midi) }
	for k, n := range notes {
		note := &s.Notes[n]
		out.end = score.Max(out.end, at.At.Add(note.Duration))
		if k > 0 && key(notes[k-1]) == key(n) {
			continue
		}
		d := degree(note.Pitch)
		if h == fingering.Left {
			d = -d
		}
		out.ids, out.keys, out.degree = append(out.ids, n), append(out.keys, key(n)), append(out.degree, d)
	}
	for _, n := range held {
		if k := key(n); !slices.Contains(out.keys, k) && !slices.Contains(out.held, k) {
			out.held = append(out.held, k)
		}
	}
	slices.Sort(out.held)
	return out
}

// degree is the place of a pitch on the staff in steps, C4 being 28.
func degree(p score.Pitch) int {
	const letters = "CDEFGAB"
	for i := range letters {
		if letters[i] == p.Step {
			return 7*int(p.Octave) + i
		}
	}
	return 7 * int(p.Octave)
}

// view is what of a stroke is compared: its keys, the shape of its keys or the shape of its degrees, and how the line
// goes on.
type view uint8

const (
	byKeys      view = iota // these keys, this hand
	byIntervals             // the same intervals in semitones, from the side of the thumb
	byDegrees               // the same intervals in steps of the staff
)

// spell gives what a view sees of a stroke and of the way to the next one, as a word to be compared.
func (v view) spell(s, next *stroke) string {
	at := s.keys
	if v == byDegrees {
		at = s.degree
	}
	b := binary.AppendVarint(nil, s.gap.Num())
	b = binary.AppendVarint(b, s.gap.Den())
	if s.grace {
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
	return string(b)
}

// same reports whether a view sees the same in two strokes by themselves, whatever follows.
func (v view) same(a, b *stroke) bool {
	x, y := a.keys, b.keys
	if v == byDegrees {
		x, y = a.degree, b.degree
	}
	if len(x) == 0 || len(x) != len(y) || a.grace != b.grace {
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

// words numbers what a view sees of every stroke: equal numbers, equal words.
func (v view) words(strokes []stroke) []int32 {
	number := map[string]int32{}
	out := make([]int32, len(strokes))
	for i := range strokes {
		next := &strokes[min(i+1, len(strokes)-1)]
		word := v.spell(&strokes[i], next)
		n, known := number[word]
		if !known {
			n = int32(len(number))
			number[word] = n
		}
		out[i] = n
	}
	return out
}
