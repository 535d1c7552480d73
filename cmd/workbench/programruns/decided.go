package programruns

import (
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
)

// ThroughTheirFile takes decisions of one editor through their file, as everybody's go: what a measurement counts is what the
// program reads, not what was meant. f is of the score on which they were decided. None have no file.
func ThroughTheirFile(f *decision.Finder, all []decision.Decision) (text []byte, read []decision.Decision, err error) {
	if len(all) == 0 {
		return nil, nil, nil
	}
	const file = "decisions/p.AB.yaml"
	if text, err = decision.Append(file, nil, "p", "AB", f.Table(), all); err != nil {
		return nil, nil, err
	}
	read, _, err = decision.Parse(file, text)
	return text, read, err
}

// AgainWith works a piece out again with decisions on it, and gives the text of their file, too.
func AgainWith(w *pipeline.PieceRun, all []decision.Decision) (again *pipeline.PieceRun, text []byte, err error) {
	in := pipeline.InputsOf(w)
	if text, in.Decisions, err = ThroughTheirFile(decision.NewFinder(w.Score), all); err != nil {
		return nil, nil, err
	}
	again, err = pipeline.Again(w, in)
	return again, text, err
}
