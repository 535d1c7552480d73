package pipeline

import (
	"cmp"
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
)

// inspectionOf gathers what lint looks at.
func inspectionOf(w *PieceRun) *lint.Inspection {
	p := &lint.Inspection{
		Score: w.Score, Piano: w.Hands.Piano, Hand: w.Hands.Hand, Player: w.Hands.Player, Finger: fingers(w),
		Given: make([]int, len(w.Score.Notes)), Reason: make([]string, len(w.Score.Notes)),
		Sounding: w.Together, HandName: HandName(w.Profile), SignLanguage: w.Policy.SignLanguage(), Tempo: lint.Tempo{Marked: w.Tempo.Marked},
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

// HandName names a hand in print: "ninth hand (210 mm)".
func HandName(p hand.Profile) string {
	mm := int(p.Span / hand.MM(1))
	if named, err := hand.Named(p.Name); err == nil && named == p {
		return fmt.Sprintf("%s hand (%d mm)", p.Name, mm)
	}
	return fmt.Sprintf("hand of %d mm", mm)
}

// struckTogether lists, for each struck piano note, the notes its hand strikes
// at the same moment, itself included, lowest key first.
func struckTogether(s *score.Score, hands *playing.Hands) [][]int {
	type moment struct {
		player int
		hand   score.Hand
		at     score.Fraction
		grace  int
		after  bool
	}
	groups := map[moment][]int{}
	for i := range s.Notes {
		n := &s.Notes[i]
		if !hands.Piano[i] || n.TiedFrom >= 0 {
			continue
		}
		m := moment{hands.Player[i], hands.Hand[i], s.At(i), n.Grace, n.GraceAfter}
		groups[m] = append(groups[m], i)
	}
	out := make([][]int, len(s.Notes))
	for _, g := range groups { // each group touches its own notes only: any order will do
		slices.SortStableFunc(g, func(a, b int) int { return cmp.Or(cmp.Compare(s.Notes[a].Midi, s.Notes[b].Midi), cmp.Compare(a, b)) })
		for _, i := range g {
			out[i] = g
		}
	}
	return out
}
