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
// text, or by those of its chord that stand at another of its notes; 0 where there is none.
func (p *Inspection) Digit(n int) int {
	if f := p.Playing.Piled(n); f > 0 {
		return f
	}
	if ind := p.StandingDigit(n); ind != nil {
		return ind.Fingers[0]
	}
	return 0
}

// HoldingFinger is the finger that a note is held with by the digits that stand at it:
// the last of a change. 0 where there is none.
func (p *Inspection) HoldingFinger(n int) int {
	f := p.Playing.Piled(n)
	if f > 0 {
		return f
	}
	for _, ind := range p.Score.Notes[n].Indications {
		if !ind.Alternate && !ind.Hidden && len(ind.Fingers) > 0 {
			f = ind.Fingers[len(ind.Fingers)-1]
		}
	}
	return f
}

// ChangesFinger says that more than one finger stands at a note.
func (p *Inspection) ChangesFinger(n int) bool { return p.HoldingFinger(n) != p.Digit(n) }

// TwoRows says that two digits stand at each of two notes, and that neither the first nor the second of them is the same at
// both: they are two fingerings, one above the other, rather than changes of finger.
func (p *Inspection) TwoRows(n, m int) bool {
	a, b := p.row(n), p.row(m)
	return len(a) == 2 && len(b) == 2 && a[0] != b[0] && a[1] != b[1]
}

// row lists the digits at a note, those of alternatives left out.
func (p *Inspection) row(n int) (out []int) {
	if f := p.Playing.Piled(n); f > 0 {
		return []int{f}
	}
	for k := range p.Score.Notes[n].Indications {
		if ind := &p.Score.Notes[n].Indications[k]; !ind.Alternate && !ind.Hidden {
			out = append(out, ind.Fingers...)
		}
	}
	return out
}

// DigitsAt is how many digits stand at a note, those of alternatives left out.
func (p *Inspection) DigitsAt(n int) int { return len(p.row(n)) }

// RowsNear says that two digits stand at two notes in a row, each struck alone, in the measure of a note: two fingerings of
// the passage, one above the other, of which a note with two digits has its part.
func (p *Inspection) RowsNear(n int) bool {
	st := p.Playing.Stroke(n)
	if st == nil {
		return false
	}
	strokes := p.Playing.Lines[st.Line].Strokes
	row := func(i int) bool {
		return i >= 0 && i < len(strokes) && len(strokes[i].Notes) == 1 && p.DigitsAt(strokes[i].Notes[0]) == 2 &&
			p.Score.Notes[strokes[i].Notes[0]].Measure == p.Score.Notes[n].Measure
	}
	inMeasure := func(i int) bool {
		return i >= 0 && i < len(strokes) && p.Score.Notes[strokes[i].Notes[0]].Measure == p.Score.Notes[n].Measure
	}
	inRow := func(i int) bool { return row(i) && row(i+1) && (row(i-1) || row(i+2)) } // two notes may have a change each
	for i := st.Index; inMeasure(i); i-- {
		if inRow(i - 1) {
			return true
		}
	}
	for i := st.Index; inMeasure(i); i++ {
		if inRow(i) {
			return true
		}
	}
	return false
}

// OnlySuggested says that a digit at a note was worked out, and nobody has decided it.
func (p *Inspection) OnlySuggested(n int) bool { return slices.Contains(p.Whose[n], score.Open) }

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

// ColumnFinger is the finger that a column gives a note: one note of those that its hand strikes together has as many digits
// as these are, and no other has any. 0 for none.
func (p *Inspection) ColumnFinger(n int) int {
	chord := p.Playing.Together(n)
	if len(chord) < 2 {
		return 0
	}
	at := -1
	for _, m := range chord {
		if len(p.Score.Notes[m].Indications) == 0 {
			continue
		}
		if at >= 0 || len(p.Score.Notes[m].Indications) != len(chord) {
			return 0
		}
		at = m
	}
	if at < 0 {
		return 0
	}
	var fingers []int // from the lowest key
	for k := range p.Score.Notes[at].Indications {
		ind := &p.Score.Notes[at].Indications[k]
		if ind.Alternate || ind.Hidden || ind.Substitution || len(ind.Fingers) != 1 {
			return 0
		}
		fingers = append(fingers, ind.Fingers[0])
	}
	slices.Sort(fingers)
	if p.Playing.Hand(n) == score.Left {
		slices.Reverse(fingers)
	}
	return fingers[slices.Index(chord, n)]
}
