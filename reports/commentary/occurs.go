package commentary

import (
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"
)

// occursIn finds in the results of a piece what a legend has to explain. Signs
// where the hand changes are no part of results: they are explained where the
// piece was marked.
func occursIn(r *state.Result, policy *policies.Policy) policies.Occurs {
	o := policies.Occurs{Who: map[score.Responsibility]bool{}, Text: map[score.Responsibility]bool{}, OfSource: r.Summary.Unattributed}
	struck := keysOf(r.Notes)
	for i := range r.Notes {
		n := &r.Notes[i]
		inText := false
		for _, s := range n.Source {
			if !s.WitnessOnly {
				o.Text[s.Responsibility], inText = true, true
			}
		}
		if n.Printed && !inText {
			who := n.Responsibility
			if who == score.Unattributed {
				who = score.Open
			}
			if who != score.Open || !r.Summary.Press {
				o.Who[who] = true
			}
		}
		if n.Printed && n.Responsibility == score.Editor && struck.differ(n, earlierFinger) {
			o.BesideEarlier = true
		}
		o.Alternative = o.Alternative || n.Beside > 0 && !r.Summary.Press
	}
	for i := range r.Redistributions {
		switch decided := r.Redistributions[i].Decided; {
		case policy.RedistributeMarks() == "none":
		case decided:
			o.Bracket = o.Bracket || policy.RedistributeMarks() == "bracket"
		case !r.Summary.Press && policy.Digits() != "composer-only":
			o.Offered, o.Alternative = true, true
			if o.OfferedTo == nil {
				o.OfferedTo = map[score.Hand]bool{}
			}
			o.OfferedTo[r.Redistributions[i].To] = true
		}
	}
	for i := range r.Rolls {
		switch roll := &r.Rolls[i]; {
		case policy.RollMarks() == "none":
		case roll.Decided:
			o.Roll = true
		case !roll.OtherHand && !r.Summary.Press && policy.Digits() != "composer-only":
			o.RollOffered = true
		}
	}
	return o
}
