package lint

import "fingerproof/corpus/score"

// OfferedTo says that a sign in parentheses offers a note to a hand: one of its part, of that hand, in its measure or the
// one before, with no other hand sign between. The digits that such a passage has in the look of alternatives are the
// fingers of that hand, and say nothing of the hand that has the notes in the text (score.Score.Offered).
func (p *Inspection) OfferedTo(n int, to score.Hand) bool {
	note := &p.Score.Notes[n]
	last := -1
	for i := range p.Score.Directions {
		d := &p.Score.Directions[i]
		if d.Kind != score.HandSign || d.Part != note.Part || d.Measure > note.Measure || d.Measure < note.Measure-1 ||
			d.Measure == note.Measure && note.Onset.Less(d.Onset) {
			continue
		}
		if last < 0 || !before(d, &p.Score.Directions[last]) {
			last = i
		}
	}
	return last >= 0 && p.Score.Directions[last].Hand == to && p.Score.Offered(&p.Score.Directions[last])
}

// before says that a direction stands earlier in the music than another of its part.
func before(a, b *score.Direction) bool {
	return a.Measure < b.Measure || a.Measure == b.Measure && a.Onset.Less(b.Onset)
}
