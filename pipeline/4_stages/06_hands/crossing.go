package hands

import (
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
)

// handOver gives to the hand of the other staff what a voice writes there while that hand has nothing of its own:
// neither a note nor a written rest. So engravers show a figure that both hands play by turns (the rests of the
// hand taken for granted are left out; common practice); where the other hand does play or rests, a voice that
// crosses over only saves ledger lines and keeps its hand.
func handOver(s *score.Score, h *playing.Hands, part int, said func(i int) bool) {
	var own [2]spans
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Part != part || n.Hidden || n.Staff != n.HomeStaff || n.Staff < 1 || n.Staff > 2 {
			continue
		}
		at := s.At(i)
		if to := at.Add(n.Duration); at.Less(to) {
			own[n.Staff-1] = append(own[n.Staff-1], struct{ from, to score.Fraction }{at, to})
		}
	}
	for staff := range own {
		own[staff] = own[staff].joined()
	}
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Part != part || !h.Piano[i] || n.TiedFrom >= 0 || n.Staff == n.HomeStaff || n.Staff < 1 || n.Staff > 2 ||
			own[n.Staff-1].cover(s.At(i)) ||
			said(i) {
			continue
		}
		hand := score.Right
		if n.Staff == 2 {
			hand = score.Left
		}
		for t := i; t >= 0; t = s.Notes[t].TiedTo {
			h.Hand[t] = hand
		}
	}
}
