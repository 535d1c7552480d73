package pipeline

import (
	"fmt"

	"fingerproof/corpus"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/policies"
	"fingerproof/rules/lint/all"
)

// exampleDay is the day on which the examples of rules are linted.
const exampleDay = "2026-06-01"

// RunExample runs the example of a rule with what stands beside it.
func RunExample(rule string, e *all.Example) (*PieceRun, error) {
	run := &PieceRun{
		Piece: &corpus.Piece{ID: rule, Score: rule + ".musicxml", Scoring: corpus.TwoHands, TextDigits: e.Digits},
		Data:  e.MusicXML, Policy: policies.Default(), Weights: ShippedWeights(), Today: exampleDay,
	}
	var err error
	if e.Policy != "" {
		if run.Policy, err = policies.ByName(e.Policy); err != nil {
			return nil, fmt.Errorf("reading the house style of the example of %s: %w", rule, err)
		}
	}
	for _, b := range e.Beside {
		switch b.Kind {
		case all.HouseStyle:
			if run.Policy, err = policies.Read(policies.FileName, b.Text); err != nil {
				return nil, fmt.Errorf("reading the house style of the example of %s: %w", rule, err)
			}
		case all.Decisions:
			decided, _, err := decision.Parse(decision.Folder+"/"+rule+"."+b.Name+".yaml", b.Text)
			if err != nil {
				return nil, fmt.Errorf("reading the decisions of the example of %s: %w", rule, err)
			}
			run.Decisions = append(run.Decisions, decided...)
		case all.Witness:
			run.Piece.Witnesses = append(run.Piece.Witnesses, corpus.Witness{
				Siglum: b.Name, Score: rule + "." + b.Name + ".musicxml", Responsibility: "composer",
			})
			run.WitnessData = append(run.WitnessData, b.Text)
		}
	}
	if err := RunPiece(run); err != nil {
		return nil, fmt.Errorf("linting the example of %s: %w", rule, err)
	}
	return run, nil
}
