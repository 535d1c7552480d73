package hands

import (
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/policies"
	"fingerproof/rules/hand"
)

// Input is everything the stage looks at.
type Input struct {
	Score   *score.Score
	Scoring Scoring
	Policy  *policies.Policy
	// Decided are the hands that editors decided, parallel to Score.Notes; NoHand elsewhere.
	Decided []score.Hand
	// Rolled are the chords that editors decided to roll, parallel to Score.Notes; nil: none.
	Rolled []score.Rolling
	// Whose says of each digit of the text whose it is; nil: nothing of it.
	Whose [][]score.Responsibility
	// Given are the fingers that an editor decided for a note, nil for none; the function may be nil.
	Given func(note int) []int
}

// Output is who plays what, and the hand that is fingered for.
type Output struct {
	Playing *playing.Playing
	Profile hand.Profile
}

// Find says who plays each note, as written and as decided, and in what order.
func Find(in Input) (out Output, err error) {
	if out.Profile, err = ProfileOf(in.Policy); err != nil {
		return out, err
	}
	hands, err := Assign(in.Score, in.Scoring)
	if err != nil {
		return out, err
	}
	asDecided(hands, in.Decided)
	hands.Rolled = in.Rolled
	p := playing.New(in.Score, *hands)
	given := in.Given
	if given == nil {
		given = func(int) []int { return nil }
	}
	out.Playing = p.WithPiles(pilesOf(in.Score, p, out.Profile, in.open, given))
	return out, nil
}

// open says that a digit of the text was suggested before and nobody decided it.
func (in *Input) open(n, k int) bool {
	return in.Whose != nil && in.Whose[n][k] == score.Open
}

// asDecided gives notes to the hand that an editor decided. A hand sign in the
// text stands before it (DEVELOPERS.md, decision 3): such a note is not moved.
func asDecided(h *playing.Hands, decided []score.Hand) {
	for i, to := range decided {
		if to != score.NoHand && h.Piano[i] {
			h.Hand[i], h.By[i] = to, playing.ByDecision
		}
	}
}

// ProfileOf gives the hand a policy fingers for.
func ProfileOf(p *policies.Policy) (hand.Profile, error) {
	if mm := p.SpanMM(); mm > 0 {
		return hand.Measured(mm)
	}
	return hand.Named(p.HandName())
}
