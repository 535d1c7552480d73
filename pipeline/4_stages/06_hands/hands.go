package hands

import (
	"cmp"
	"slices"

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
}

// Output is who plays what, and the hand that is fingered for.
type Output struct {
	Hands *playing.Hands
	// Playing says who plays what, in the order of playing.
	Playing *playing.Playing
	// Together lists, for each struck note that is played, the notes that its hand strikes with it.
	Together [][]int
	Profile  hand.Profile
}

// Find says who plays each note, as written and as decided.
func Find(in Input) (out Output, err error) {
	if out.Profile, err = ProfileOf(in.Policy); err != nil {
		return out, err
	}
	if out.Hands, err = Assign(in.Score, in.Scoring); err != nil {
		return out, err
	}
	asDecided(out.Hands, in.Decided)
	out.Playing = playing.New(in.Score, *out.Hands)
	out.Together = struckTogether(in.Score, out.Hands)
	return out, nil
}

// asDecided gives notes to the hand that an editor decided. A hand sign in the
// text stands before it (DEVELOPERS.md, decision 3): such a note is not moved.
func asDecided(h *playing.Hands, decided []score.Hand) {
	for i, to := range decided {
		if to != score.NoHand && h.Piano[i] {
			h.Hand[i] = to
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
