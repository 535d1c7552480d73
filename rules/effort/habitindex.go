package effort

import (
	"reflect"
	"sync"
)

// habitIndex is a table's habit, laid out so that a context is found fast: it is asked for a hundred times a note.
type habitIndex struct {
	of     uintptr   // the map that it is made of
	keys   []Context // open addressing, a power of two long; 0 is free: no context is 0
	from   []int32   // for each key where its prices begin, and behind it where they end
	to     []int32
	shift  uint
	combos []int32
	costs  []int32 // milli-nats

	mutex  sync.Mutex
	scaled map[int64][]int32 // by percentage: the costs at that weight, in 1/4096 nat
}

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
		of: reflect.ValueOf(habit).Pointer(), keys: make([]Context, 1<<bits), from: make([]int32, 1<<bits),
		to: make([]int32, 1<<bits), shift: 64 - bits, scaled: map[int64][]int32{},
	}
	all := 0
	for _, prices := range habit {
		all += len(prices)
	}
	x.combos, x.costs = make([]int32, 0, all), make([]int32, 0, all)
	for c, prices := range habit { // where a context lies depends on the order, what is found does not
		at := x.hash(c)
		for x.keys[at] != 0 {
			at = (at + 1) & (len(x.keys) - 1)
		}
		x.keys[at], x.from[at] = c, int32(len(x.combos))
		for _, p := range prices {
			x.combos, x.costs = append(x.combos, p.Combo), append(x.costs, p.Cost)
		}
		x.to[at] = int32(len(x.combos))
	}
	return x
}

func (x *habitIndex) hash(c Context) int {
	return int(uint64(c) * 0x9E3779B97F4A7C15 >> x.shift)
}

// find gives where the prices of a context lie; equal ends for none.
func (x *habitIndex) find(c Context) (from, to int32) {
	for at := x.hash(c); x.keys[at] != 0; at = (at + 1) & (len(x.keys) - 1) {
		if x.keys[at] == c {
			return x.from[at], x.to[at]
		}
	}
	return 0, 0
}

// at gives the costs at a percentage of their weight, in 1/4096 nat, parallel to combos.
func (x *habitIndex) at(percent int64) []int32 {
	x.mutex.Lock()
	defer x.mutex.Unlock()
	out := x.scaled[percent]
	if out == nil {
		out = make([]int32, len(x.costs))
		for i, c := range x.costs {
			out[i] = fixed(int64(c) * percent * 10)
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
