package pipeline

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/weighing"
	"fingerproof/rules/lint"
)

// WeighInput is what an editor's passages are weighed in; with allHands for every hand, supple and stiff.
func (run *PieceRun) WeighInput(allHands bool) weighing.Input {
	return run.weighInput(run.Whose, allHands)
}

func (run *PieceRun) weighInput(whose [][]score.Responsibility, allHands bool) weighing.Input {
	in := weighing.Input{
		Suggest: run.SuggestInput(), Suggestion: run.Suggestion, Bound: run.Bound, Limits: weighing.LimitsOf(run.Policy),
		Reason: run.reasonFor, AllHands: allHands,
	}
	in.Suggest.Whose = whose
	if run.Piece.Draft != nil {
		in.Drafted, in.DraftBy = true, run.Piece.Draft.By
	}
	return in
}

// reasonFor gives the reason that stands beside the decision on a note's digit, "" where there is none.
func (run *PieceRun) reasonFor(n int) string {
	if n < len(run.Decided.Deciding) && run.Decided.Deciding[n] != nil {
		return run.Decided.Deciding[n].OwnWhy()
	}
	return ""
}

// Weighed weighs the passages of a piece that an editor fingered otherwise than is best for the many.
// What was taken as suggested is nobody's own way, and is left out.
func (run *PieceRun) Weighed(allHands bool) []weighing.Passage {
	return run.weighed(run.Whose, allHands)
}

// EditorsDigits says that a digit of an editor's own stands in the piece or is decided: only such digits are weighed.
func (run *PieceRun) EditorsDigits() bool {
	in := run.weighInput(run.Whose, false)
	return in.HasEditor()
}

func (run *PieceRun) weighed(whose [][]score.Responsibility, allHands bool) []weighing.Passage {
	in := run.weighInput(whose, allHands)
	if !in.HasEditor() {
		return nil
	}
	var kept weighing.Kept
	_ = run.Keep("for the many", "suggest", func() error { // which has no error of its own
		kept = weighing.KeptOf(weighing.Free(in.Suggest))
		return nil
	}, &kept)
	in.Free = kept.Suggestion()
	return slices.DeleteFunc(weighing.Passages(in), func(p weighing.Passage) bool {
		for k, n := range p.Notes {
			if p.Differs(k) && (n >= len(run.Bound) || run.Bound[n].Verb != decision.Take) {
				return false
			}
		}
		return true
	})
}

// personal gives lint the passages that suit their editor rather than most; whose are the digits as lint sees them.
func (run *PieceRun) personal(whose [][]score.Responsibility) (out []lint.Personal) {
	if run.Policy.LintPersonal() == 0 {
		return nil
	}
	for _, p := range run.weighed(whose, false) {
		if !p.Verdict.Personal() {
			continue
		}
		q := lint.Personal{Says: p.Finding()}
		for k, n := range p.Notes {
			if p.Differs(k) {
				q.Notes, q.Own, q.Many = append(q.Notes, n), append(q.Own, p.Own[k]), append(q.Many, p.Many[k])
			}
		}
		out = append(out, q)
	}
	return out
}
