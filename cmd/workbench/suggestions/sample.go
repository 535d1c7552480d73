package suggestions

import (
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/cmd/workbench/training"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/rules/effort"
)

// sample says in which scores suggestions are counted.
type sample struct {
	policy *policies.Policy
	shared string
	every  int // every n-th score
	fold   int // of the fingered pieces this fold alone, with the weights that ship; below 0 all, each with weights fitted on the others
}

// countIn counts with count in every score of some folders that run takes through the program; without folders in the fingered pieces,
// with the text's digits hidden, where count has the piece with its printed digits, else nil.
func countIn[C any, P interface {
	*C
	join(*C)
}](in sample, folders []string, run func(*pipeline.PieceRun) error, count func(*C, *opendata.Piece, *pipeline.PieceRun)) (sum C, err error) {
	if len(folders) == 0 {
		pieces, err := opendata.ReadPieces(opendata.Place(in.shared, "fingered"))
		if err != nil {
			return sum, err
		}
		var folds [5]C
		work := func(fold int, weights *effort.Weights) error {
			for i, p := range pieces {
				if p.Fold != fold || i%in.every != 0 {
					continue
				}
				w := p.Prepare(p.Without(-1), in.policy, weights)
				if err := run(w); err != nil {
					return err
				}
				count(&folds[fold], p, w)
			}
			return nil
		}
		if in.fold >= 0 {
			err = work(in.fold, training.Delivered(pieces, in.fold))
		} else {
			err = training.EachFold(pieces, len(folds), work)
		}
		if err != nil {
			return sum, err
		}
		for f := range folds {
			P(&sum).join(&folds[f])
		}
		return sum, nil
	}
	var files []string
	for _, path := range folders {
		c, err := opendata.EveryNth(path, in.every)
		if err != nil {
			return sum, err
		}
		for i := range c.Pieces {
			if c.Pieces[i].Fault == nil {
				files = append(files, c.Path(c.Pieces[i].Score))
			}
		}
	}
	programruns.InOrder(len(files), func(i int) *C {
		c := new(C)
		w := programruns.OfFile(files[i], in.policy)
		if run(w) == nil { // one that cannot be read has nothing to count
			count(c, nil, w)
		}
		return c
	}, func(c *C) { P(&sum).join(c) })
	return sum, nil
}
