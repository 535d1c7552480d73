package mark

import (
	"slices"

	"fingerproof/corpus/score"
)

// lone finds chords of one voice of which one key alone shows a digit, and says on which side it is read as that key's: a
// lone digit is read as that of the chord's outermost key on its side (common practice, no source; 15_thin chooses so). Of
// an inner voice, whose digits stand between the staves, the digit of the outer key goes outside therefore. It stays where
// it is if another key that the hand strikes there, without a digit, lies further out.
func (s *sides) lone(in Fingered) {
	for l := range in.Playing.Lines {
		for k := range in.Playing.Lines[l].Strokes {
			notes := in.Playing.Lines[l].Strokes[k].Notes
			for _, i := range notes {
				if !in.Print[i] || s.chord[i] != nil {
					continue
				}
				chord := slices.DeleteFunc(slices.Clone(notes), func(o int) bool { return !in.Score.Notes[o].InVoiceOf(&in.Score.Notes[i]) })
				alone := len(chord) > 1 && !slices.ContainsFunc(chord, func(o int) bool { return o != i && showsDigit(in, o) })
				if !alone {
					continue
				}
				by := score.Above
				switch i {
				case chord[0]:
					by = score.Below
				case chord[len(chord)-1]:
				default:
					continue // an inner key: no side says which
				}
				if !coveredBy(in, notes, i, by) {
					s.chord[i] = &by
				}
			}
		}
	}
}

// coveredBy says that the hand strikes a key on the same staff further out on a side, and that it shows no digit.
func coveredBy(in Fingered, notes []int, i int, side score.Placement) bool {
	n := &in.Score.Notes[i]
	return slices.ContainsFunc(notes, func(o int) bool {
		further := in.Score.Notes[o].Midi - n.Midi
		if side == score.Below {
			further = -further
		}
		return further > 0 && in.Score.Notes[o].Staff == n.Staff && in.Score.Notes[o].Part == n.Part && !showsDigit(in, o)
	})
}

// showsDigit says that a digit stands at a note: of the text, or added.
func showsDigit(in Fingered, i int) bool { return in.Print[i] || hasDigit(&in.Score.Notes[i]) }

func hasDigit(n *score.Note) bool {
	for k := range n.Indications {
		if printedFirst(&n.Indications[k]) {
			return true
		}
	}
	return false
}
