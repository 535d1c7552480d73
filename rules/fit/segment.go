// Package fit finds the weights of the effort from digits printed in editions: a conditional random field on partial
// labels. What is not printed is summed over.
package fit

import (
	"slices"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lattice"
)

// Example is one hand of one piece with the digits printed: Labels by strike, 0 where none is printed.
type Example struct {
	Lattice *lattice.Lattice
	Labels  []fingering.Finger
}

// NewExample makes an example of the notes of one hand. finger gives the digit printed at a note, by its id, 0 where
// none is. The second value is false where no note has one: such an example teaches nothing.
func NewExample(
	h fingering.Hand, notes []fingering.Note, profile hand.Profile, finger func(id int) fingering.Finger,
) (*Example, bool) {
	line := fingering.NewLine(h, notes, profile.Fits)
	x := &Example{Lattice: lattice.New(line, profile), Labels: make([]fingering.Finger, len(line.Strikes))}
	some := false
	for s := range line.Strikes {
		for _, id := range line.Strikes[s].IDs {
			if f := finger(id); f != 0 {
				x.Labels[s], some = f, true
			}
		}
	}
	return x, some
}

// Settings of a training.
type Settings struct {
	Habit      bool    // fit the sparse contexts too
	TermRate   float64 // AdaGrad rate of the terms
	HabitRate  float64 // … of the contexts
	HabitDamp  float64 // what AdaGrad's sums of the contexts start from
	Decay      float64 // pull of the terms to where they started, per step
	HabitDecay float64 // pull of the contexts to where they started (zero by default), per step they occur in
	Epochs     int
	Margin     int // events of a window before and after the printed digits
	Labels     int // printed events in a window
	MinCount   int // contexts seen in fewer windows' events are left out
	Seed       uint64
	// Keep makes a training of two rounds: only contexts that priced some finger at this much or more, in nats, after
	// the first round take part in the second. 0 for one round.
	Keep float64
	// Aims are what a fingering is priced by beside the table while it is fitted; the zero value is the table alone.
	Aims effort.Aims
	Skip []string // kinds of context left out, as Context.String names them
}

// Defaults are the settings the shipped tables are fitted with.
func Defaults() Settings {
	return Settings{
		Habit: true, TermRate: 0.03, HabitRate: 0.003, Epochs: 6, Margin: 6, Labels: 8, MinCount: 3, Seed: 1,
		Skip: []string{"window2", "key-window2", "window3", "ahead2", "behind2", "steps-ahead", "steps-behind"},
	}
}

// segment is a window of one line, ready for training.
type segment struct {
	events []node
}

// noGrips stands for the grips before the window begins.
var noGrips = []fingering.Grip{{}}

// count is the number of grips of event e; 1 before the window begins.
func (g *segment) count(e int) int {
	if e < 0 {
		return 1
	}
	return len(g.events[e].grips)
}

// before gives the grips of the two events before e, the earlier first.
func (g *segment) before(e int) (ga, gb []fingering.Grip) {
	ga, gb = noGrips, noGrips
	if e > 0 {
		gb = g.events[e-1].grips
	}
	if e > 1 {
		ga = g.events[e-2].grips
	}
	return ga, gb
}

// node is one event of a window.
type node struct {
	grips   []fingering.Grip
	hard    []float64 // the lattice's own prices, in nats
	changes []float64 // … of the pairs with the event before, or nil
	allowed []bool    // grips that agree with the printed digits; nil where none is printed
	factors []factor
}

// factor is an effort.Factor whose contexts are resolved to places in the weight vector.
type factor struct {
	kind    effort.Kind
	at      [3]int8
	entries []effort.Entry
	blocks  []int32
	combo   []int8 // for shapes: rank of each grip; for doubles: of each grip here
	before  []int8 // for doubles: rank of each grip before
}

const perNat = 1.0 / lattice.Nat

// window is a stretch of a line: the events before to, and of them those from first to last that have printed digits.
type window struct{ from, to, first, last int }

// windows cuts an example into windows: runs of printed events no farther apart than the margin, at most so many in
// each.
func windows(x *Example, s *Settings) (out []window) {
	printed := make([]bool, x.Lattice.Events())
	for i, f := range x.Labels {
		if f != 0 {
			printed[x.Lattice.Line.Strikes[i].Event] = true
		}
	}
	first, last, n := -1, -1, 0
	flush := func() {
		if n > 0 {
			out = append(out, window{max(first-s.Margin, 0), min(last+s.Margin+1, len(printed)), first, last})
		}
		n = 0
	}
	for e, p := range printed {
		if !p {
			continue
		}
		if n == s.Labels || n > 0 && e-last > s.Margin {
			flush()
		}
		if n == 0 {
			first = e
		}
		last = e
		n++
	}
	flush()
	return out
}

// space gives contexts their places in the weight vector, in the order in which they are first met.
type space struct {
	places map[effort.Context]int32
	order  []effort.Context
	kinds  []effort.Kind
	counts map[effort.Context]int32
	size   int32
	min    int32
	skip   map[string]bool
	only   map[effort.Context]bool           // nil: all
	known  map[effort.Context][]effort.Price // contexts that are priced from the beginning
}

// place gives a context its place, −1 where it takes no part in the training.
func (sp *space) place(c effort.Context, k effort.Kind) int32 {
	at, ok := sp.places[c]
	if !ok {
		seldom := sp.counts[c] < sp.min && sp.known[c] == nil
		if seldom || sp.skip[c.Name()] || sp.only != nil && !sp.only[c] {
			return -1
		}
		at = sp.size
		sp.places[c] = at
		sp.order = append(sp.order, c)
		sp.kinds = append(sp.kinds, k)
		sp.size += int32(effort.Sizes[k])
	}
	return at
}

// cutter makes the windows of one example.
type cutter struct {
	x     *Example
	model *effort.Model
	space *space
	habit bool // fit the contexts too
	aims  bool // price the aims beside the table
}

func cut(x *Example, p *effort.Pricer, sp *space, s *Settings) (out []segment) {
	c := cutter{x: x, model: p.Model(x.Lattice.Line, x.Lattice), space: sp, habit: s.Habit, aims: s.Aims.On}
	for _, w := range windows(x, s) {
		g := segment{events: make([]node, w.to-w.from)}
		for e := w.from; e < w.to; e++ {
			g.events[e-w.from] = c.node(e, w)
		}
		out = append(out, g)
	}
	return out
}

// reach is how many events before its own a kind of factor looks at.
var reach = [...]int{effort.LinkFactor: 1, effort.DoubleFactor: 1, effort.RowFactor: 2}

// node makes event e of a window.
func (c *cutter) node(e int, w window) node {
	l, depth := c.x.Lattice, e-w.from
	n := node{grips: l.Grips(e)}
	hard := slices.Clone(l.Hard(e))
	var block []int32
	if depth > 0 {
		block = make([]int32, l.Count(e-1)*len(n.grips))
		l.AddChanges(e, lattice.ChangeOnHeldKey, block)
		l.AddRolls(e, block)
	}
	if c.aims {
		c.model.Aims(e, hard, block)
	}
	for _, h := range hard {
		n.hard = append(n.hard, float64(h)*perNat)
	}
	if depth > 0 {
		for _, price := range block {
			n.changes = append(n.changes, float64(price)*perNat)
		}
	}
	if e >= w.first && e <= w.last {
		n.allowed = allowedGrips(c.x, &l.Line.Events[e], n.grips)
	}
	for _, f := range c.model.Factors(e) {
		if reach[f.Kind] > depth {
			continue
		}
		if g := c.factor(e, &f); len(g.entries)+len(g.blocks) > 0 {
			n.factors = append(n.factors, g)
		}
	}
	return n
}

// factor resolves a factor of event e.
func (c *cutter) factor(e int, f *effort.Factor) factor {
	l := c.x.Lattice
	g := factor{kind: f.Kind, at: f.At, entries: f.Entries}
	if c.habit {
		for _, context := range f.Contexts {
			if at := c.space.place(context, f.Kind); at >= 0 {
				g.blocks = append(g.blocks, at)
			}
		}
	}
	if f.Kind == effort.ShapeFactor || f.Kind == effort.DoubleFactor {
		for _, grip := range l.Grips(e) {
			g.combo = append(g.combo, int8(effort.Rank(grip, len(l.Line.Events[e].Keys))))
		}
	}
	if f.Kind == effort.DoubleFactor {
		for _, grip := range l.Grips(e - 1) {
			g.before = append(g.before, int8(effort.Rank(grip, 2)))
		}
	}
	return g
}

// allowedGrips marks the grips that agree with the printed digits; nil where no digit is printed or no grip agrees.
func allowedGrips(x *Example, ev *fingering.Event, grips []fingering.Grip) []bool {
	out := make([]bool, len(grips))
	some, any := false, false
	for g, grip := range grips {
		out[g] = true
		for i, k := range ev.Keys {
			if f := x.Labels[k.Strike]; k.Struck && f != 0 {
				some = true
				out[g] = out[g] && grip.Fingers[i] == f
			}
		}
		any = any || out[g]
	}
	if !some || !any {
		return nil
	}
	return out
}
