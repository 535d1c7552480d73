package effort

import (
	"strconv"
	"strings"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// passage is music for one hand, written as strokes an eighth apart: c5 a single key, c5+e5 a chord, c5:2 a key held for two strokes.
type passage struct {
	keys   string
	left   bool
	micros int64                   // from stroke to stroke, 0 where not known
	marks  string                  // of all notes: s slurred, p pedalled, t in a turn, l leading
	given  string                  // digits given, a digit or . a note; empty for none
	each   func(n *fingering.Note) // what is said of single notes
	span   hand.Profile            // the hand; the middle one where it is nought
}

var keySteps = map[byte]int{'c': 0, 'd': 2, 'e': 4, 'f': 5, 'g': 7, 'a': 9, 'b': 11}

func keyOf(t require.TestingT, name string) int {
	octave, err := strconv.Atoi(name[len(name)-1:])
	require.NoError(t, err, name)
	return 12*(octave+1) + keySteps[name[0]] + strings.Count(name, "#")
}

func (p passage) notes(t require.TestingT) (out []fingering.Note) {
	for e, event := range strings.Fields(p.keys) {
		for key := range strings.SplitSeq(event, "+") {
			name, length, _ := strings.Cut(key, ":")
			strokes := 1
			if length != "" {
				n, err := strconv.Atoi(length)
				require.NoError(t, err, key)
				strokes = n
			}
			n := fingering.Note{ID: len(out), Key: keyOf(t, name), Micros: int64(e) * p.micros,
				Onset: fingering.Moment{Num: int64(e), Den: 2}, End: fingering.Moment{Num: int64(e + strokes), Den: 2},
				Slurred: strings.Contains(p.marks, "s"), Pedalled: strings.Contains(p.marks, "p"), Turn: strings.Contains(p.marks, "t"), Leads: strings.Contains(p.marks, "l")}
			if p.given != "" && p.given[len(out)] != '.' {
				n.Allowed = fingering.Only(fingering.Finger(p.given[len(out)] - '0'))
			}
			if p.each != nil {
				p.each(&n)
			}
			out = append(out, n)
		}
	}
	return out
}

func (p passage) line(t require.TestingT) *fingering.Line {
	h := fingering.Right
	if p.left {
		h = fingering.Left
	}
	return fingering.NewLine(h, p.notes(t), p.profile().Fits)
}

func (p passage) profile() hand.Profile {
	if p.span == (hand.Profile{}) {
		return hand.NinthHand
	}
	return p.span
}

// only is a lattice with one grip an event: the fingers that are to be priced.
type only [][]fingering.Grip

func (o only) Grips(e int) []fingering.Grip { return o[e] }

// fingered lays fingers on a line, a digit for each note in the order of writing. A key that is held keeps the finger that struck it.
func fingered(t require.TestingT, line *fingering.Line, fingers string) only {
	digits := strings.ReplaceAll(fingers, " ", "")
	var out only
	for _, e := range line.Events {
		var g fingering.Grip
		for i, k := range e.Keys {
			at := line.Strikes[k.Strike].IDs[0]
			require.Less(t, at, len(digits), "%s has too few fingers", fingers)
			g.Fingers[i] = fingering.Finger(digits[at] - '0')
		}
		out = append(out, []fingering.Grip{g})
	}
	return out
}

// costs prices fingers on a passage under a table and aims, in thousandths of a nat.
func (p passage) costs(t require.TestingT, w *Weights, aims Aims, fingers string) int {
	line := p.line(t)
	grips := fingered(t, line, fingers)
	m := NewPricerFor(w, p.profile(), aims).Model(line, grips)
	return thousandths(priced(m, grips))
}

// priced sums what a model asks of the search for a line with one grip an event, in 1/4096 nat.
func priced(m *Model, grips only) (sum int64) {
	var out [1]int32
	for e := range grips {
		m.Unary(e, out[:])
		sum += int64(out[0])
		if e > 0 {
			m.Pair(e, out[:])
			sum += int64(out[0])
		}
		if e > 1 && m.Triple(e, out[:]) {
			sum += int64(out[0])
		}
	}
	return sum
}

func thousandths(cost int64) int {
	if cost < 0 {
		return -thousandths(-cost)
	}
	return int((cost*1000 + 2048) / 4096)
}

// alone is a table in which one term counts a nat a unit and no other counts.
func alone(term Term) *Weights {
	w := &Weights{Name: "alone"}
	w.Terms[term] = 1000
	return w
}
