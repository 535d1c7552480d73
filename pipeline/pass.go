package pipeline

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
)

// inspectionOf gathers what lint looks at.
func inspectionOf(w *PieceRun) *lint.Inspection {
	p := &lint.Inspection{
		Score: w.Score, Playing: w.Playing, Finger: w.Suggestion.Fingers(),
		Given: make([]int, len(w.Score.Notes)), Reason: make([]string, len(w.Score.Notes)),
		HandName: w.Profile.Description(), SignLanguage: w.Policy.SignLanguage(), Tempo: lint.Tempo{Marked: w.Tempo.Marked},
		FitsHand: func(h score.Hand, lowKey, highKey, lowFinger, highFinger int) bool {
			if h == score.Left { // the mirrored hand: the little finger lies lowest
				lowFinger, highFinger = highFinger, lowFinger
			}
			return w.Profile.Excess(lowFinger, highFinger, hand.Distance(lowKey, highKey)) <= 0
		},
	}
	for i := range w.Suggestion.Notes {
		n := &w.Suggestion.Notes[i]
		p.Given[i], p.Reason[i] = n.Given, string(n.OutOfReach)
	}
	widen(p, w)
	return p
}
