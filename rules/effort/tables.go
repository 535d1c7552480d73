package effort

import (
	"slices"
	"sync"
	"sync/atomic"

	"fingerproof/rules/hand"
)

// How many intervals and rows of three keys are told apart (see near).
const (
	intervals = 2*maxLeap + 1
	steps     = 12 * intervals
)

// tables are the prices of steps, chords and rows under one table of weights for one hand. They are worked out when they
// are first asked for and then shared by all lines, pieces and workers: a table depends on nothing else, so it does not
// matter who works it out.
type tables struct {
	of     tablesKey
	links  [3 * int(classes) * steps]atomic.Pointer[table]
	chords [4 * steps]atomic.Pointer[table]
	rows   [2 * steps * intervals]atomic.Pointer[table]
	known  atomic.Int32 // rows that are kept
}

// tablesKey is all that the tables depend on.
type tablesKey struct {
	terms   [Terms]int32
	profile hand.Profile
	mix     [3]int
}

// mostRows bounds the memory of the rows: one takes about 600 bytes. Rows beyond it are worked out each time.
const mostRows = 50_000

// shared are the tables used last, the latest first.
var shared struct {
	sync.Mutex
	latest []*tables
}

// mostTables is how many tables are kept: three hands and the smaller ones of two house styles.
const mostTables = 8

// tablesOf gives the tables for a key, which may be in use elsewhere.
func tablesOf(key *tablesKey) *tables {
	shared.Lock()
	defer shared.Unlock()
	i := slices.IndexFunc(shared.latest, func(t *tables) bool { return t.of == *key })
	var t *tables
	if i < 0 {
		t, i = &tables{of: *key}, min(len(shared.latest), mostTables-1)
		if i == len(shared.latest) {
			shared.latest = append(shared.latest, nil)
		}
	} else {
		t = shared.latest[i]
	}
	copy(shared.latest[1:i+1], shared.latest[:i])
	shared.latest[0] = t
	return t
}

// fill emits the terms of one combination of fingers.
type fill func(p *Pricer, combo int, out emit)

// table prices all combinations of the fingers of one step, chord or row, in 1/4096 nat.
type table struct {
	price []int32
	fill  fill
}

// newTable works out a table.
func (p *Pricer) newTable(size int, fill fill) *table {
	t := &table{price: make([]int32, size), fill: fill}
	var sum int64 // one for all combinations, or each would take memory
	add := func(term Term, v int) { sum += int64(p.terms[term]) * int64(v) }
	for c := range size {
		sum = 0
		fill(p, c, add)
		t.price[c] = fixed(sum)
	}
	return t
}

// newRow works out the table of three keys in a row. Most of a price is that of the first and the last finger: it is
// worked out once for all fingers between them.
func (p *Pricer) newRow(single bool, a, b, c int) *table {
	t := &table{price: make([]int32, 125), fill: func(p *Pricer, i int, out emit) {
		p.row(single, played{a, i/25 + 1}, played{b, i/5%5 + 1}, played{c, i%5 + 1}, out)
	}}
	var sum int64
	add := func(term Term, v int) { sum += int64(p.terms[term]) * int64(v) }
	for f := range 5 {
		for h := range 5 {
			first, third := played{a, f + 1}, played{c, h + 1}
			sum = 0
			change := p.around(single, first, third, add)
			outer := sum
			for g := range 5 {
				sum = outer
				p.between(single, change, first, played{b, g + 1}, third, add)
				t.price[f*25+g*5+h] = fixed(sum)
			}
		}
	}
	return t
}

// entries lists what the prices are made of, by combination.
func (p *Pricer) entries(t *table) (out []Entry) {
	for c := range t.price {
		t.fill(p, c, func(term Term, v int) {
			if v != 0 {
				out = append(out, Entry{Combo: int32(c), Term: term, Value: int32(v)})
			}
		})
	}
	return out
}
