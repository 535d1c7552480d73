package suggest

import (
	"slices"
	"sync"

	"fingerproof/rules/engine"
)

// workers are those of one piece: one for each line, which keeps the prices of its line from search to search, and one
// for whatever else is searched.
type workers struct {
	each []*engine.Worker
}

// resting are workers of pieces that are done: their tables are large, and are used again. The latest are taken first.
var resting struct {
	sync.Mutex
	list []*engine.Worker
	size int // of all of them
}

// How many workers rest at most, and how large they are together at most. Those of a long piece rest, too: what searches it
// again, as lint does without its digits, would have to ask for all of their memory anew.
const (
	mostResting    = 16
	largestResting = 48 << 20 // bytes
)

func newWorkers(lines int) workers {
	return workers{make([]*engine.Worker, lines+1)}
}

// of gives the worker of a line; one more than the lines have is for anything.
func (w workers) of(line int) *engine.Worker {
	if w.each[line] == nil {
		w.each[line] = rested()
	}
	return w.each[line]
}

func rested() *engine.Worker {
	resting.Lock()
	defer resting.Unlock()
	last := len(resting.list) - 1
	if last < 0 {
		return new(engine.Worker)
	}
	w := resting.list[last]
	resting.list[last], resting.list = nil, resting.list[:last]
	resting.size -= w.Size()
	return w
}

// giveBack lets the workers rest, so that who comes next gets each for the same line: what is searched again of a piece
// finds what the network says of it.
func (w workers) giveBack() {
	resting.Lock()
	defer resting.Unlock()
	for _, worker := range slices.Backward(w.each) {
		if worker != nil && len(resting.list) < mostResting && resting.size+worker.Size() <= largestResting {
			worker.Forget()
			resting.list = append(resting.list, worker)
			resting.size += worker.Size()
		}
	}
}
