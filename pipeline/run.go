package pipeline

import (
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/reasons"
	"fingerproof/pipeline/4_stages/15_thin"
	"fmt"
	"runtime/debug"
	"slices"
)

// RunPiece takes a piece through the stages. A stage that fails ends the run
// of this piece; so does a fault of our own, which must never take the
// collection down with it.
func RunPiece(run *PieceRun) error { return runStages(run, Stages) }

func runStages(run *PieceRun, stages []Stage) (err error) {
	stage := ""
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("%s: a fault of this program in the stage %q: %v\n"+
				"hint: please report it with the score\n%s", run.Piece.Score, stage, fault, debug.Stack())
		}
	}()
	if run.Piece.Fault != nil {
		return run.Piece.Fault
	}
	for _, s := range stages {
		stage = s.Name
		if err := s.Run(run); err != nil {
			return err
		}
	}
	return nil
}

// staged gives the stages with something called before each, which gives what is called after it; nil: nothing.
func staged(around func(stage string) (done func())) []Stage {
	if around == nil {
		return Stages
	}
	out := slices.Clone(Stages)
	for i := range out {
		run := out[i].Run
		out[i].Run = func(w *PieceRun) error {
			defer around(out[i].Name)()
			return run(w)
		}
	}
	return out
}

// RunUntil takes a piece through the stages before the one of that name.
func RunUntil(run *PieceRun, stage string) error {
	return runStages(run, Stages[:stageOrder[stage]])
}

// Explain takes a piece through the stages up to the suggestion and accounts
// for the fingering of one measure, by its printed number; only asks for one
// hand, NoHand for both.
func Explain(run *PieceRun, number string, only score.Hand) (account reasons.Account, err error) {
	if err := RunUntil(run, "suggest"); err != nil {
		return account, err
	}
	account, run.Suggestion, err = reasons.Explain(run.ReasonsPiece(), number, only)
	if err != nil {
		return account, err
	}
	for _, work := range []func(*PieceRun) error{setBeside, creditDigits, redistributeNotes, thinOut} {
		if err := work(run); err != nil {
			return account, err
		}
	}
	account.SetPrinted(thin.Words(thin.FingeredOf(run.ThinInput()), run.Print, run.PrintWhy))
	account.Rolls = reasons.Rolls(run.Score, run.Playing, run.Rolls, number)
	return account, nil
}
