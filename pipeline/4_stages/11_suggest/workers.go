package suggest

import (
	"sync"

	"fingerproof/rules/engine"
)

// workers are those of one piece: one for each line, which keeps the prices of its line from search to search, and one
// for whatever else is searched.
type workers []*engine.Worker

// resting are workers of pieces that are done: their tables are large, and are used again.
var resting = sync.Pool{New: func() any { return new(engine.Worker) }}

func newWorkers(lines int) workers { return make(workers, lines+1) }

// of gives the worker of a line; one more than the lines have is for anything.
func (w workers) of(line int) *engine.Worker {
	if w[line] == nil {
		w[line] = resting.Get().(*engine.Worker)
	}
	return w[line]
}

func (w workers) giveBack() {
	for _, worker := range w {
		if worker != nil {
			worker.Forget()
			resting.Put(worker)
		}
	}
}
