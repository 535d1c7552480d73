package pipeline

import (
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/edition"
	"fingerproof/pipeline/4_stages/13_credit"
)

// keep gathers what the edition brings along; then has by note the fingers
// that follow on a digit.
func keep(whose [][]score.Responsibility, marking *score.Marking, credits []credit.Credit, fingers []int, then [][]int) edition.Embedded {
	out := edition.Embedded{Whose: edition.Letters(whose)}
	for _, m := range marking.Marks {
		if len(m.Digits) == 0 || m.Note >= len(credits) {
			continue
		}
		if c := credits[m.Note]; c.Who != score.Open && !c.Carried {
			out.Digits = append(out.Digits, edition.Digit{N: m.Note, Finger: fingers[m.Note], Then: then[m.Note], Who: c.Who, Agent: c.Agent, Sigla: c.Sigla})
		}
	}
	return out
}

// keepDecided adds to what an edition brings along all that was settled of its
// fingering, printed or not.
func keepDecided(kept *edition.Embedded, w *PieceRun) {
	for i := range w.Bound {
		if d := &w.Bound[i]; d.Verb != "" {
			kept.Decided = append(kept.Decided, edition.Decision{N: i, Verb: string(d.Verb), Fingers: d.Fingers, By: d.By, Always: d.Always, Carried: d.Carried})
		}
	}
	for i := range w.Decided.Redistributions {
		r := &w.Decided.Redistributions[i]
		k := edition.Redistribution{ID: r.ID, To: r.To, Why: r.Why, Notes: r.Notes}
		for _, f := range r.Fingers {
			k.Fingers = append(k.Fingers, int(f))
		}
		kept.Redistributions = append(kept.Redistributions, k)
	}
	kept.Declined = w.Decided.Declined
}
