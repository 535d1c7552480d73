package suggest

import "fingerproof/corpus/score"

// A trill begins on the written note or on the note above it, as the time of the music and the player have it (common practice);
// two digits over the sign are its two fingers in the order of playing. In the right hand the upper key has the higher finger, in
// the left hand the lower: so the order of the digits says on which note it begins (of 108 trills with two digits in the open
// editions that were looked at, 43 begin above). The first of the fingers stands for the
// note, as the first digit does in print, and where it begins above, that is the upper key's.

// fromAbove gives a sign that goes to the upper note and back as it goes from above; ok is false for others, a mordent and a turn
// among them, which begin as their sign says.
func (s spoken) fromAbove() (above spoken, ok bool) {
	if s.delayed || len(s.steps) != 3 || s.steps[0] != 0 || s.steps[1] != 1 {
		return s, false
	}
	s.steps, s.above = []int{1, 0, 1, 0}, true
	return s, true
}

// beginning gives a sign as it begins: as the digits have it that stand at its note or were decided, else, where a trill's two
// fingers are printed and nothing is given, as all pairs over trills of the text do.
func (in *Input) beginning(note int, s spoken, left bool) spoken {
	above, can := s.fromAbove()
	if !can {
		return s
	}
	if row := in.decidedRow(note); row != nil {
		return s.as(above, row, left)
	}
	if row := givenRow(&in.Score.Notes[note], in.Whose[note]); row != nil {
		return s.as(above, row, left)
	}
	if s.trill && in.bound(note) == 0 && in.Policy.PrintsRows() && in.pairsFromAbove() {
		return above
	}
	return s
}

// as chooses between a sign from the written note and from above by a row of digits.
func (s spoken) as(above spoken, row []int, left bool) spoken {
	if !s.inOrder(row, left) && above.inOrder(row, left) {
		return above
	}
	return s
}

// pairsFromAbove says that digits over trills stand in the text, and that all of them begin above.
func (in *Input) pairsFromAbove() bool {
	some := false
	for n := range in.Score.Notes {
		note := &in.Score.Notes[n]
		if len(note.Ornaments) == 0 || !in.Playing.Plays(n) {
			continue
		}
		row := givenRow(note, in.Whose[n])
		s, _, ok := signOf(note)
		above, can := s.fromAbove()
		if !ok || !can || !s.trill || row == nil {
			continue
		}
		if left := in.Playing.Hand(n) == score.Left; !above.inOrder(row, left) {
			return false
		}
		some = true
	}
	return some
}
