package effort

import (
	"strings"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/fingering"
	"fingerproof/rules/fingering/written"
	"fingerproof/rules/hand"
)

// passage is music for one hand (see package written).
type passage struct {
	keys   string
	left   bool
	micros int64                   // from stroke to stroke, 0 where not known
	marks  string                  // of all notes: s slurred, p pedalled, t in a turn, l leading
	given  string                  // digits given, a digit or . a note; empty for none
	each   func(n *fingering.Note) // what is said of single notes
	span   hand.Profile            // the hand; the middle one where it is nought
}

func (p passage) notes() []fingering.Note {
	out := written.Given(written.Notes(p.keys, p.micros), p.given)
	for i := range out {
		n := &out[i]
		n.Slurred, n.Pedalled = strings.Contains(p.marks, "s"), strings.Contains(p.marks, "p")
		n.Turn, n.Leads = strings.Contains(p.marks, "t"), strings.Contains(p.marks, "l")
		if p.each != nil {
			p.each(n)
		}
	}
	return out
}

func (p passage) line() *fingering.Line {
	h := fingering.Right
	if p.left {
		h = fingering.Left
	}
	return fingering.NewLine(h, p.notes(), p.profile().Fits)
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

// fingered lays fingers on a line, a digit for each note in the order of writing. A key that is held keeps the finger
// that struck it.
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
	line := p.line()
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
