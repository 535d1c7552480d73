package pipeline

import (
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/reasons"
	"fmt"
	"runtime/debug"
)

// RunPiece takes a piece through the stages. A stage that fails ends the way
// of this piece; so does a fault of our own, which must never take the
// collection down with it.
func RunPiece(w *PieceRun) error { return runStages(w, Stages) }

func runStages(w *PieceRun, stages []Stage) (err error) {
	stage := ""
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("%s: a fault of this program in the stage %q: %v\nhint: please report it with the score\n%s", w.Piece.Score, stage, fault, debug.Stack())
		}
	}()
	if w.Piece.Fault != nil {
		return w.Piece.Fault
	}
	for _, s := range stages {
		stage = s.Name
		if err := s.Run(w); err != nil {
			return err
		}
	}
	return nil
}

// RunUntil takes a piece through the stages before the one of that name.
func RunUntil(w *PieceRun, stage string) error {
	return runStages(w, Stages[:stageNamed(stage)])
}

// Explain takes a piece through the stages up to the suggestion and accounts
// for the fingering of one measure, by its printed number; only asks for one
// hand, NoHand for both.
func Explain(w *PieceRun, number string, only score.Hand) (account reasons.Account, err error) {
	if err := RunUntil(w, "suggest"); err != nil {
		return account, err
	}
	account, w.Suggestion, err = reasons.Explain(w.ReasonsPiece(), number, only)
	return account, err
}
