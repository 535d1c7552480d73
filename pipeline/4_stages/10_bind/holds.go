package bind

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/hand"
	"fingerproof/rules/parallel"
)

// Carries says that a digit decided at one note may hold for the note that brings it back: not where one of them is rolled
// and the other is not, since the fingers of a rolled chord may cross over each other.
func Carries(p *playing.Playing, from, to int) bool { return p.Rolled(from) == p.Rolled(to) }

// OnOtherColour says that a finger that goes on to a key of the other colour is the thumb or the fifth, for which black keys are
// too far in: fingers are those of one digit, the keys those of the two notes.
func OnOtherColour(fingers []int, here, there int) bool {
	return hand.Black(here) != hand.Black(there) &&
		slices.ContainsFunc(fingers, func(f int) bool { return f == 1 || f == 5 })
}

// Holds says that the digit decided at the k-th note of a passage holds where it returns, or the other way round if back. It
// does not in the measures that its editor left out, where thumb or fifth finger would change the colour of its key, against
// what the text has beside it there, nor at a note that a correction put in the place of one that had a digit of its own: that digit
// is asked there.
func Holds(s *score.Score, p *playing.Playing, d *decide.Placed, r *parallel.Return, k int, back bool) bool {
	from, to := r.First[k], r.Later[k]
	if back {
		from, to = to, from
	}
	digit := &d.Digits[from]
	text := func(n int) int { return textFinger(&s.Notes[n]) }
	known := func(n int) int {
		if f := text(n); f > 0 {
			return f
		}
		return d.Digits[n].Finger()
	}
	return d.Hands[from] == d.Hands[to] && // else the digit is for the hand that one of them left
		Carries(p, from, to) &&
		(d.Corrected == nil || len(d.Corrected[to]) == 0) &&
		!slices.Contains(digit.Except, s.Measures[s.Notes[to].Measure].Number) &&
		!OnOtherColour(digit.Fingers, s.Notes[from].Midi, s.Notes[to].Midi) &&
		r.Agrees(k, back, text, known)
}

// textFinger is the finger that strikes a note by the text, 0 where it has none.
func textFinger(n *score.Note) int {
	for _, i := range n.Indications {
		if len(i.Fingers) > 0 && !i.Alternate {
			return i.Fingers[0]
		}
	}
	return 0
}
