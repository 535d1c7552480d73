package suggest

import (
	"sync"

	"fingerproof/rules/engine"
	"fingerproof/rules/hand"
)

// workers are those of one piece: one for each line, which keeps the prices of its line from search to search, and one
// for whatever else is searched.
type workers struct {
	each  []*engine.Worker
	hands []hand.Profile // other hands that are asked about
}

// resting are workers of pieces that are done: their tables are large, and are used again.
var resting = sync.Pool{New: func() any { return new(engine.Worker) }}

func newWorkers(in Input, lines int) workers {
	return workers{make([]*engine.Worker, lines+1), in.OtherHands}
}

// of gives the worker of a line; one more than the lines have is for anything.
func (w workers) of(line int) *engine.Worker {
	if w.each[line] == nil {
		w.each[line] = resting.Get().(*engine.Worker)
		w.each[line].Beside(w.hands)
	}
	return w.each[line]
}

func (w workers) giveBack() {
	for _, worker := range w.each {
		if worker != nil {
			worker.Forget()
			resting.Put(worker)
		}
	}
}
