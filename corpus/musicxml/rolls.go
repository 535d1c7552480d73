package musicxml

import (
	"cmp"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// addedRolls finds the signs of rolls that an edition has added by the words beside them (score.RollSign), which other
// programs keep where they drop the layer of a sign. Of several chords with a sign on their staff that of the highest
// number is meant (an edition gives its own a number that no other has there), else the one of most keys.
func (r *reader) addedRolls() {
	s := r.score
	for i := range s.Directions {
		d := &s.Directions[i]
		enclosure := score.RollEnclosure(d.Text)
		if d.Kind != score.Words || enclosure == score.NoEnclosure {
			continue
		}
		best := -1
		for n := range s.Notes {
			if at := &s.Notes[n]; standsAt(at, d) && at.Staff == max(d.Staff, 1) && !at.Chord &&
				(best < 0 || cmp.Or(cmp.Compare(at.Arpeggio.Number, s.Notes[best].Arpeggio.Number),
					cmp.Compare(r.onStem(n), r.onStem(best))) > 0) {
				best = n
			}
		}
		if best < 0 {
			continue
		}
		for n := best; n < best+r.onStem(best); n++ {
			s.Notes[n].Arpeggio.Enclosure = enclosure
		}
		for n := range s.Notes {
			number := s.Notes[best].Arpeggio.Number
			if at := &s.Notes[n]; number > 0 && standsAt(at, d) && at.Arpeggio.Number == number {
				at.Arpeggio.Enclosure = enclosure
			}
		}
	}
	for n := range s.Notes {
		if s.Notes[n].Arpeggio.Enclosure == score.NoEnclosure {
			r.layout.notes[n].roll = xmltree.Span{} // the composer's
		}
	}
	for i := range s.Items {
		item := &s.Items[i]
		if item.Kind != score.ItemArpeggio || item.Note < 0 || !s.Notes[item.Note].Arpeggio.Rolled {
			continue
		}
		switch s.Notes[item.Note].Arpeggio.Enclosure {
		case score.Brackets:
			item.Reading += ", in brackets"
		case score.Parentheses:
			item.Reading += ", in parentheses"
		}
	}
}

// onStem counts the notes of a chord from its first.
func (r *reader) onStem(n int) int {
	to := n + 1
	for to < len(r.score.Notes) && r.score.Notes[to].Chord {
		to++
	}
	return to - n
}

// standsAt says that a note with the sign of a roll stands at a direction.
func standsAt(n *score.Note, d *score.Direction) bool {
	return n.Part == d.Part && n.Measure == d.Measure && n.Onset.Equal(d.Onset) && n.Arpeggio.Rolled
}
