package effort

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/learned"
)

// Entry says that a combination of fingers has a term with a value in thousandths of the term's unit.
type Entry struct {
	Combo int32
	Term  Term
	Value int32
}

// Pricer prices under one table of weights for one hand. It shares the tables it works out with other pricers; it is not
// safe for use by two goroutines at once.
type Pricer struct {
	terms   [Terms]int32 // at the weights of the aims
	profile hand.Profile
	aims    Aims
	// Percentages of the aims that are asked for at every note.
	habitPercent, returnPercent int64
	hands                       []hand.Profile // for which comfort is sought
	shares                      []hand.Length  // how much each of them counts
	tables                      *tables
	habit                       *habitIndex
	habitPrices                 []Price // of habit, at the weight of the aims
	scratch                     []Context
	spans                       []span
	fetched                     int32            // of no use: what is added up here has been fetched from memory
	network                     *learned.Network // nil where it is not asked
	learned                     learned.Workspace
}

// NewPricer makes a pricer of the fitted table alone.
func NewPricer(w *Weights, profile hand.Profile) *Pricer { return NewPricerFor(w, profile, Aims{}) }

// NewPricerFor makes a pricer that follows the aims beside the fitted table.
func NewPricerFor(w *Weights, profile hand.Profile, aims Aims) *Pricer {
	p := &Pricer{terms: aims.scaled(w), profile: profile, aims: aims,
		habitPercent: int64(aims.percentOf("habit")), returnPercent: int64(aims.percentOf("parallel"))}
	if p.habit = w.index(); p.habit != nil {
		p.habitPrices = p.habit.at(p.habitPercent)
	}
	p.network = networkFor(w, aims)
	p.hands, p.shares = aims.hands(profile)
	key := tablesKey{terms: p.terms, profile: profile}
	if aims.On {
		key.mix = aims.Mix
	}
	p.tables = tablesOf(&key)
	return p
}

// maxLeap is the widest interval told apart, in semitones; a wider one counts as this many with the octave kept.
const maxLeap = 36

func near(from, to int) int {
	d := to - from
	for d > maxLeap {
		d -= 12
	}
	for d < -maxLeap {
		d += 12
	}
	return d
}

// interval numbers the step from one key to another.
func interval(a, b int) (pc, d, number int) {
	pc, d = hand.Class(a), near(a, b)
	return pc, d, pc*intervals + d + maxLeap
}

func (p *Pricer) linkTable(class Class, a, b int) *table {
	pc, d, number := interval(a, b)
	at := &p.tables.links[int(class)*steps+number]
	t := at.Load()
	if t == nil {
		t = p.newTable(25, func(p *Pricer, c int, out emit) {
			p.link(class, played{pc + 60, c/5 + 1}, played{pc + 60 + d, c%5 + 1}, out)
		})
		at.Store(t)
	}
	return t
}

// leapTable prices a leap of the hand, from a key it leaves to one it comes down on.
func (p *Pricer) leapTable(class Class, a, b int) *table {
	pc, d, number := interval(a, b)
	at := &p.tables.links[(int(class)+int(classes))*steps+number]
	t := at.Load()
	if t == nil {
		t = p.newTable(25, func(p *Pricer, c int, out emit) {
			p.leap(class, played{pc + 60, c/5 + 1}, played{pc + 60 + d, c%5 + 1}, out)
		})
		at.Store(t)
	}
	return t
}

// lateTable prices a step that the hand has time for after it let go: lateShare of it as a leap, the rest as a step.
func (p *Pricer) lateTable(class Class, a, b int) *table {
	pc, d, number := interval(a, b)
	at := &p.tables.links[(int(class)+2*int(classes))*steps+number]
	t := at.Load()
	if t == nil {
		t = p.newTable(25, func(p *Pricer, c int, out emit) {
			from, to := played{pc + 60, c/5 + 1}, played{pc + 60 + d, c%5 + 1}
			p.link(class, from, to, func(t Term, v int) { out(t, v*(100-lateShare)/100) })
			p.leap(class, from, to, func(t Term, v int) { out(t, v*lateShare/100) })
		})
		at.Store(t)
	}
	return t
}

func (p *Pricer) chordTable(how chordPair, a, b int) *table {
	pc, d, number := interval(a, b)
	if how.held {
		number += steps
	}
	if how.adjacent {
		number += 2 * steps
	}
	at := &p.tables.chords[number]
	t := at.Load()
	if t == nil {
		t = p.newTable(25, func(p *Pricer, c int, out emit) {
			p.chord(how, played{pc + 60, c/5 + 1}, played{pc + 60 + d, c%5 + 1}, out)
		})
		at.Store(t)
	}
	return t
}

func (p *Pricer) rowTable(single bool, a, b, c int) *table {
	pc, d, number := interval(a, b)
	e := near(b, c)
	number = number*intervals + e + maxLeap
	if single {
		number += steps * intervals
	}
	at := &p.tables.rows[number]
	t := at.Load()
	if t == nil {
		t = p.newRow(single, pc+60, pc+60+d, pc+60+d+e)
		if p.tables.known.Add(1) <= mostRows {
			at.Store(t)
		}
	}
	return t
}

// rowPrice is one price of a row, without the table of all, which nobody may ask for again.
func (p *Pricer) rowPrice(single bool, a, b, c, combo int) int32 {
	pc, d, _ := interval(a, b)
	var sum int64
	p.row(single, played{pc + 60, combo/25 + 1}, played{pc + 60 + d, combo/5%5 + 1}, played{pc + 60 + d + near(b, c), combo%5 + 1},
		func(t Term, v int) { sum += int64(p.terms[t]) * int64(v) })
	return fixed(sum)
}

// Grips is what the pricer needs to know of a lattice: the grips of an event.
type Grips interface {
	Grips(e int) []fingering.Grip
}
