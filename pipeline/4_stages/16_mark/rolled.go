package mark

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/policies"
	"fingerproof/rules/fingering"
)

// Rolled adds the signs of chords that the edition rolls, or offers to roll: the sign itself at each note, and a word
// beside it in brackets or parentheses. The word is what tells it from the composer's in every engraver: the standard's
// layer with its brackets (MusicXML 4.0, level) is drawn by none that was tried. A chord through both staves has one sign.
func Rolled(s *score.Score, all []fingering.Roll, policy *policies.Policy, m *score.Marking) {
	if policy.RollMarks() == "none" {
		return
	}
	small := policy.RollMarks() == "small"
	for _, r := range all {
		if slices.ContainsFunc(r.Notes, func(n int) bool { return s.Notes[n].Arpeggio.Enclosure != score.NoEnclosure }) {
			continue // it stands there already: an edition of ours that another program has written anew
		}
		sign := score.MarkRoll{Down: r.Down, Enclosure: score.Parentheses, Small: small}
		words := "(" + score.RollSign + ")"
		if r.Decided {
			sign.Enclosure, words = score.Brackets, "["+score.RollSign+"]"
		}
		top := slices.Min(r.Notes) // the word stands before the first of them in the file, on the highest staff
		for _, n := range r.Notes {
			if s.Notes[n].Staff < s.Notes[top].Staff {
				top = n
			}
		}
		place := score.Above
		across := slices.ContainsFunc(r.Notes, func(n int) bool { return s.Notes[n].Staff != s.Notes[top].Staff })
		if number, others := freeNumber(s, r.Notes[0]); across || others || stems(s, r.Notes) > 1 {
			sign.Number = number
		}
		if !across && r.Hand == score.Left {
			place = score.Below
		}
		for _, n := range r.Notes {
			m.Roll(n, sign)
		}
		style := policy.WordStyle()
		if small {
			style.Size = "small"
		}
		m.Direct(top, score.MarkDirection{
			Kind: score.MarkRollWords, Text: words, Style: style, Placement: place, Staff: s.Notes[top].Staff,
		})
	}
}

// stems counts the stems on which notes hang.
func stems(s *score.Score, notes []int) int {
	heads := map[int]bool{}
	for _, n := range notes {
		for n > 0 && s.Notes[n].Chord {
			n--
		}
		heads[n] = true
	}
	return len(heads)
}

// freeNumber is a number that no other roll at the moment of a note has, and whether there are others.
func freeNumber(s *score.Score, note int) (number int, others bool) {
	at := &s.Notes[note]
	for i := range s.Notes {
		if n := &s.Notes[i]; n.Part == at.Part && n.Measure == at.Measure && n.Onset.Equal(at.Onset) && n.Arpeggio.Rolled {
			number, others = max(number, n.Arpeggio.Number), true
		}
	}
	return number + 1, others
}
