package effort

import (
	"reflect"
	"sync"
)

// habitIndex is a table's habit, laid out so that a context is found fast: it is asked for a hundred times a note.
type habitIndex struct {
	of     uintptr    // the map that it is made of
	places []habitual // open addressing, a power of two long
	shift  uint
	known  []uint64 // a bit for each of bitsAPlace hashes, set where some context has it
	prices []Price  // milli-nats

	mutex  sync.Mutex
	scaled map[int64][]Price // by percentage: the prices at that weight, in 1/4096 nat
}

// habitual is a context with where its prices begin and end: side by side, since most of the time goes into fetching them
// from memory.
type habitual struct {
	context Context // 0 is free: no context is 0
	span
}

// bitsAPlace is how many bits the index has for a place: so few contexts without prices share one of those with prices that
// places are hardly ever fetched in vain, and all bits together lie in the nearest memory.
const (
	bitsAPlaceLog = 3
	bitsAPlace    = 1 << bitsAPlaceLog
)

// span is where the prices of a context lie.
type span struct{ from, to int32 }

// indexHabit lays a habit out; nil for none.
func indexHabit(habit map[Context][]Price) *habitIndex {
	if len(habit) == 0 {
		return nil
	}
	bits := uint(4)
	for 1<<bits < 2*len(habit) {
		bits++
	}
	x := &habitIndex{
		of: reflect.ValueOf(habit).Pointer(), places: make([]habitual, 1<<bits), shift: 64 - bits,
		known: make([]uint64, (bitsAPlace<<bits)/64), scaled: map[int64][]Price{},
	}
	all := 0
	for _, prices := range habit {
		all += len(prices)
	}
	x.prices = make([]Price, 0, all)
	for c, prices := range habit { // where a context lies depends on the order, what is found does not
		at := x.hash(c)
		for x.places[at].context != 0 {
			at = (at + 1) & (len(x.places) - 1)
		}
		word, bit := x.bit(c)
		x.known[word] |= 1 << bit
		x.places[at] = habitual{c, span{int32(len(x.prices)), int32(len(x.prices) + len(prices))}}
		x.prices = append(x.prices, prices...)
	}
	return x
}

// hashFactor spreads contexts: 2^64 by the golden section.
const hashFactor = 0x9E3779B97F4A7C15

func (x *habitIndex) hash(c Context) int {
	return int(uint64(c) * hashFactor >> x.shift)
}

// bit is where a bit of known stands for a context.
func (x *habitIndex) bit(c Context) (word, bit uint64) {
	at := uint64(c) * hashFactor >> (x.shift - bitsAPlaceLog)
	return at / 64, at % 64
}

// find gives where the prices of a context lie; equal ends for none.
func (x *habitIndex) find(c Context) span {
	for at := x.hash(c); ; at = (at + 1) & (len(x.places) - 1) {
		switch p := &x.places[at]; p.context {
		case c:
			return p.span
		case 0:
			return span{}
		}
	}
}

// spans adds to out where the prices of contexts lie, of those that have any. Most of the time it takes is waiting for
// memory: what has no prices is told by its bit, and the places of all others are asked for before the first is looked at, so
// that they are fetched side by side. It uses the memory of contexts.
func (x *habitIndex) spans(contexts []Context, out []span) []span {
	n := 0
	for _, c := range contexts { // which have prices cannot be foreseen: each is written, and kept where it may have some
		word, bit := x.bit(c)
		contexts[n] = c
		n += int(x.known[word] >> bit & 1)
	}
	some := Context(0)
	for _, c := range contexts[:n] {
		some |= x.places[x.hash(c)].context
	}
	if some == 0 { // all of them are free
		return out
	}
	for _, c := range contexts[:n] {
		if at := x.find(c); at.from != at.to {
			out = append(out, at)
		}
	}
	return out
}

// at gives the prices at a percentage of their weight, in 1/4096 nat.
func (x *habitIndex) at(percent int64) []Price {
	x.mutex.Lock()
	defer x.mutex.Unlock()
	out := x.scaled[percent]
	if out == nil {
		out = make([]Price, len(x.prices))
		for i, p := range x.prices {
			out[i] = Price{Combo: p.Combo, Cost: fixed(int64(p.Cost) * percent * 10)}
		}
		if len(x.scaled) < 8 { // more house styles than that at once have no share in it
			x.scaled[percent] = out
		}
	}
	return out
}

// index gives the layout of the habit of w: the one that was made when it was read, while it is still that of its map.
func (w *Weights) index() *habitIndex {
	if w.habits != nil && w.habits.of == reflect.ValueOf(w.Habit).Pointer() {
		return w.habits
	}
	return indexHabit(w.Habit)
}
