package suggestions

import (
	"fmt"
	"io"
	"slices"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/training"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/parallel"
)

// crossReturns measures clean digits against the engine with memory of returns and without.
func crossReturns(out io.Writer, pieces []*opendata.Piece, worths suggest.Worths, folds int) error {
	var found [5][2]remembered // by fold; without memory, and with it
	err := training.EachFold(pieces, min(folds, 5), func(fold int, weights *effort.Weights) error {
		var worker engine.Worker
		m := memory{worths: worths, search: func(r suggest.Remembering) engine.Result {
			return worker.Finger(r.Hand, training.Hand, weights, r.Notes, engine.Options{})
		}}
		for _, p := range pieces {
			if p.Fold == fold {
				found[fold][0].add(m.finger(p, false))
				found[fold][1].add(m.finger(p, true))
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	var sum [2]remembered
	for fold := range min(folds, 5) {
		without, with := found[fold][0], found[fold][1]
		sum[0].add(without)
		sum[1].add(with)
		fmt.Fprintf(out, "fold %d: without %s, with memory of returns %s\n",
			fold, figures.Share(without.clean), figures.Share(with.clean))
	}
	fmt.Fprintf(out, "clean digits: without %s, with memory of returns %s of %d\n",
		figures.Share(sum[0].clean), figures.Share(sum[1].clean), sum[0].clean[1])
	fmt.Fprintf(out, "exact returns alike: without %s, with %s of %d\n",
		figures.Share(sum[0].alike), figures.Share(sum[1].alike), sum[0].alike[1])
	return nil
}

// remembered counts right clean digits of all, and notes of exact returns that have the finger of the first passage
// of all.
type remembered struct{ clean, alike [2]int }

func (r *remembered) add(o remembered) {
	for i := range 2 {
		r.clean[i] += o.clean[i]
		r.alike[i] += o.alike[i]
	}
}

// memory fingers pieces, with memory of returns or without.
type memory struct {
	worths suggest.Worths
	search func(suggest.Remembering) engine.Result
}

// finger fingers both hands of a piece and counts.
func (m memory) finger(p *opendata.Piece, with bool) (got remembered) {
	var work []suggest.Remembering
	for h := range p.Hands {
		work = append(work, suggest.Remembering{Hand: fingering.Hand(h), Notes: slices.Clone(p.Hands[h])})
	}
	returns := parallel.Find(p.Playing())
	if with {
		suggest.Remember(work, returns, m.worths, func(int) bool { return false }, m.search)
	}
	fingers := make([]fingering.Finger, len(p.Rows))
	for _, l := range work {
		for _, n := range m.search(l).Notes {
			fingers[n.ID] = n.Finger
		}
	}
	for id, f := range fingers {
		if r := &p.Rows[id]; r.Clean {
			got.clean[1]++
			if f == r.Finger {
				got.clean[0]++
			}
		}
	}
	for _, r := range returns {
		if r.Kind != parallel.Exact {
			continue
		}
		for k := range r.Later {
			got.alike[1]++
			if fingers[r.First[k]] == fingers[r.Later[k]] {
				got.alike[0]++
			}
		}
	}
	return got
}
