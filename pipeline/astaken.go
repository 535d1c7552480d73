package pipeline

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/16_mark"
	"fingerproof/policies"
)

// AsTaken is the edition for press as it prints once every open digit is taken as suggested, and what its legend has to
// explain: a page shows from it what is taken before the next run. It is written nowhere.
func AsTaken(run *PieceRun) ([]byte, *policies.Occurs, error) {
	in := run.markInput()
	in.Print, in.Credited.Credits = slices.Clone(in.Print), slices.Clone(in.Credited.Credits)
	for _, i := range run.Open {
		in.Print[i] = true
		if c := &in.Credited.Credits[i]; c.Who == score.Open {
			c.Who = score.Editor
		}
	}
	out, err := mark.Edition(in)
	return out.Data, &out.Occurs, err
}
