package lint

import (
	"slices"

	"fingerproof/corpus/score"
)

// StandingDigit is the indication that strikes a note: the first that is printed and
// neither an alternative nor the second finger of a change; nil for none.
func (p *Inspection) StandingDigit(n int) *score.Indication {
	for i := range p.Score.Notes[n].Indications {
		ind := &p.Score.Notes[n].Indications[i]
		if !ind.Alternate && !ind.Hidden && !ind.Substitution && len(ind.Fingers) > 0 {
			return ind
		}
	}
	return nil
}

// AskedFinger is the finger that an editor decided for a note or, where nobody did, the
// one of the digits that stand at it, 0 where there is neither: what a player of
// the edition is asked to do.
func (p *Inspection) AskedFinger(n int) int {
	if f := p.DecidedFinger(n); f > 0 {
		return f
	}
	return p.Digit(n)
}

// DecidedFinger is the finger that an editor decided for striking a note, 0
// where nobody did.
func (p *Inspection) DecidedFinger(n int) int {
	if p.Decided == nil || len(p.Decided[n]) == 0 {
		return 0
	}
	return p.Decided[n][0]
}

// Digit is the finger that strikes a note by the digits that stand at it in the
// text, 0 where there is none.
func (p *Inspection) Digit(n int) int {
	if ind := p.StandingDigit(n); ind != nil {
		return ind.Fingers[0]
	}
	return 0
}

// HoldingFinger is the finger that a note is held with by the digits that stand at it:
// the last of a change. 0 where there is none.
func (p *Inspection) HoldingFinger(n int) int {
	f := 0
	for _, ind := range p.Score.Notes[n].Indications {
		if !ind.Alternate && !ind.Hidden && len(ind.Fingers) > 0 {
			f = ind.Fingers[len(ind.Fingers)-1]
		}
	}
	return f
}

// ChangesFinger says that more than one finger stands at a note.
func (p *Inspection) ChangesFinger(n int) bool { return p.HoldingFinger(n) != p.Digit(n) }

// OfComposer says that a digit of the composer's stands at a note.
func (p *Inspection) OfComposer(n int) bool { return slices.Contains(p.Whose[n], score.Composer) }

// Printed says that the finger of a note stands in print.
func (p *Inspection) Printed(n int) bool {
	return p.Print != nil && p.Print[n] || p.Digit(n) > 0
}

// DoubledDigit is a digit that stands at a note for the second time, the same and in the same way; nil where there is
// none. Digits that are given out over a chord are not doubled: the thumb may take two of its keys.
func (p *Inspection) DoubledDigit(n int) *score.Indication {
	inds := p.Score.Notes[n].Indications
	chord := p.Playing.Together(n)
	givenOut := len(chord) > 1 && len(inds) == len(chord) &&
		!slices.ContainsFunc(chord, func(m int) bool { return m != n && len(p.Score.Notes[m].Indications) > 0 })
	for k := range inds {
		ind := &inds[k]
		if ind.Hidden || ind.Substitution || len(ind.Fingers) == 0 {
			continue
		}
		for j := range k {
			if o := &inds[j]; !o.Hidden && !o.Substitution && o.Alternate == ind.Alternate && o.Text == ind.Text &&
				(!givenOut || ind.Fingers[0] != 1 || p.Semitones(chord[0], chord[1]) > 2 && len(chord) == 2) {
				return ind
			}
		}
	}
	return nil
}
