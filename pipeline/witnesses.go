package pipeline

import (
	"fmt"

	"fingerproof/corpus"
	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/4_stages/04_attribute"
)

// readWitnesses opens and reads the sources that the manifest names.
func readWitnesses(w *PieceRun) error {
	for k, data := range w.WitnessData {
		named := &w.Piece.Witnesses[k]
		witness := attribute.Witness{Siglum: named.Siglum, Old: named.Numbering == corpus.Old}
		if err := witness.Responsibility.UnmarshalText([]byte(named.Responsibility)); err != nil {
			return err
		}
		doc, err := source.Open(named.Score, data, source.DefaultLimits())
		if err != nil {
			return fmt.Errorf("witness %s: %w", named.Siglum, err)
		}
		if witness.Score, _, err = musicxml.Read(doc, musicxml.DefaultLimits()); err != nil {
			return fmt.Errorf("witness %s: %w", named.Siglum, err)
		}
		w.Witnesses = append(w.Witnesses, witness)
	}
	return nil
}

// witnessFingers lists the fingers that witnesses give and that bind.
func witnessFingers(w *PieceRun) []int {
	binding := attribute.Binding{Which: w.Policy.WitnessConstrains(), Said: w.Policy.SiglumConstrains}
	out := make([]int, len(w.Score.Notes))
	if w.Sources == nil {
		return out
	}
	for i, readings := range w.Sources.Readings {
		out[i] = binding.Given(readings)
	}
	return out
}

// credit says whose each finger is that the text does not have.
func credit(w *PieceRun) error {
	w.Credits = make([]attribute.Credit, len(w.Score.Notes))
	for i := range w.Credits {
		w.Credits[i] = attribute.CreditOf(int(w.Suggestion.Notes[i].Finger), w.Sources.Readings[i])
	}
	composers := func(i int) int {
		for k, ind := range w.Score.Notes[i].Indications {
			if w.Whose[i][k] == score.Composer && !ind.Alternate && !ind.Hidden && len(ind.Fingers) > 0 {
				return ind.Fingers[0]
			}
		}
		return 0
	}
	for _, r := range w.Returns {
		for k := range min(len(r.First), len(r.Later)) {
			for _, pair := range [2][2]int{{r.First[k], r.Later[k]}, {r.Later[k], r.First[k]}} {
				f := composers(pair[0])
				if f > 0 && f == int(w.Suggestion.Notes[pair[1]].Finger) && w.Credits[pair[1]].Who == score.Open && composers(pair[1]) == 0 &&
					(w.Apart == nil || !w.Apart[pair[0]] && !w.Apart[pair[1]]) {
					w.Credits[pair[1]] = attribute.Credit{Who: score.Editor, Carried: true}
				}
			}
		}
	}
	for i := range w.Bound {
		if d := &w.Bound[i]; d.Finger() > 0 {
			w.Credits[i] = attribute.Credit{Who: score.Editor, Agent: d.By}
		}
	}
	return nil
}
