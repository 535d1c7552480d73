package effort

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Entry says that a combination of fingers has a term with a value in thousandths of the term's unit.
type Entry struct {
	Combo int32
	Term  Term
	Value int32
}

// table is a cached block: the entries it is made of, and its prices in 1/4096 nat.
type table struct {
	entries []Entry
	price   []int32
}

// Pricer prices under one table of weights for one hand. It keeps the tables it has worked out; it is not safe for
// use by two goroutines at once.
type Pricer struct {
	terms   [Terms]int32 // at the weights of the aims
	profile hand.Profile
	aims    Aims
	// Percentages of the aims that are asked for at every note.
	habitPercent, returnPercent int64
	hands                       []hand.Profile       // for which comfort is sought
	shares                      []hand.Length        // how much each of them counts
	cache                       [3]map[uint32]*table // links, chords, rows
	habit                       map[Context][]Price
	scratch                     []Context
}

// NewPricer makes a pricer of the fitted table alone.
func NewPricer(w *Weights, profile hand.Profile) *Pricer { return NewPricerFor(w, profile, Aims{}) }

// NewPricerFor makes a pricer that follows the aims beside the fitted table.
func NewPricerFor(w *Weights, profile hand.Profile, aims Aims) *Pricer {
	p := &Pricer{terms: aims.scaled(w), profile: profile, aims: aims, habit: w.Habit,
		habitPercent: int64(aims.percentOf("habit")), returnPercent: int64(aims.percentOf("parallel"))}
	p.hands, p.shares = aims.hands(profile)
	for i := range p.cache {
		p.cache[i] = map[uint32]*table{}
	}
	return p
}

// habitPrice is a sparse cost at the weight of the aims, in 1/4096 nat.
func (p *Pricer) habitPrice(h Price) int32 {
	return fixed(int64(h.Cost) * p.habitPercent * 10)
}

func (p *Pricer) table(kind int, key uint32, size int, fill func(combo int, out emit)) *table {
	t := p.cache[kind][key]
	if t != nil {
		return t
	}
	t = &table{price: make([]int32, size)}
	for c := range size {
		var sum int64
		fill(c, func(term Term, v int) {
			if v == 0 {
				return
			}
			t.entries = append(t.entries, Entry{Combo: int32(c), Term: term, Value: int32(v)})
			sum += int64(p.terms[term]) * int64(v)
		})
		t.price[c] = fixed(sum)
	}
	p.cache[kind][key] = t
	return t
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

func (p *Pricer) linkTable(class Class, a, b int) *table {
	pc, d := hand.Class(a), near(a, b)
	key := uint32(class)<<16 | uint32(pc)<<8 | uint32(d+maxLeap)
	if t := p.cache[0][key]; t != nil {
		return t
	}
	return p.table(0, key, 25, func(c int, out emit) {
		p.link(class, played{pc + 60, c/5 + 1}, played{pc + 60 + d, c%5 + 1}, out)
	})
}

// leapTable prices a leap of the hand, from a key it leaves to one it comes down on.
func (p *Pricer) leapTable(class Class, a, b int) *table {
	pc, d := hand.Class(a), near(a, b)
	key := uint32(class+classes)<<16 | uint32(pc)<<8 | uint32(d+maxLeap)
	if t := p.cache[0][key]; t != nil {
		return t
	}
	return p.table(0, key, 25, func(c int, out emit) {
		p.leap(class, played{pc + 60, c/5 + 1}, played{pc + 60 + d, c%5 + 1}, out)
	})
}

func (p *Pricer) chordTable(how chordPair, a, b int) *table {
	pc, d := hand.Class(a), near(a, b)
	key := uint32(pc)<<8 | uint32(d+maxLeap)
	if how.held {
		key |= 1 << 16
	}
	if how.adjacent {
		key |= 1 << 17
	}
	if t := p.cache[1][key]; t != nil {
		return t
	}
	return p.table(1, key, 25, func(c int, out emit) {
		p.chord(how, played{pc + 60, c/5 + 1}, played{pc + 60 + d, c%5 + 1}, out)
	})
}

func (p *Pricer) rowTable(single bool, a, b, c int) *table {
	pc, d, e := hand.Class(a), near(a, b), near(b, c)
	key := uint32(pc)<<16 | uint32(d+maxLeap)<<8 | uint32(e+maxLeap)
	if single {
		key |= 1 << 24
	}
	if t := p.cache[2][key]; t != nil {
		return t
	}
	return p.table(2, key, 125, func(i int, out emit) {
		p.row(single, played{pc + 60, i/25 + 1}, played{pc + 60 + d, i/5%5 + 1}, played{pc + 60 + d + e, i%5 + 1}, out)
	})
}

// Grips is what the pricer needs to know of a lattice: the grips of an event.
type Grips interface {
	Grips(e int) []fingering.Grip
}
