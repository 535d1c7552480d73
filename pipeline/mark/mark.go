// Package mark is the stage that turns fingers into marks in the house style,
// in no format's own terms.
package mark

import (
	"strconv"

	"fingerproof/corpus/score"
	"fingerproof/policies"
)

// Input is everything the stage looks at. Slices run parallel to Score.Notes.
type Input struct {
	Score        *score.Score
	Whose        [][]score.Responsibility
	Hand         []score.Hand
	Finger       []int
	Substitution []int  // the finger that follows on the held key, 0 if none
	Print        []bool // whether a digit is added
	Policy       *policies.Policy
	Decided      []bool // whether the digit is an editor's; nil where none is
}

// Marking marks a piece: added digits in the look of open suggestions, digits
// that stand in the text in the look of whoever is responsible for them.
func Marking(in Input) score.Marking {
	out := score.Marking{Fields: []score.Field{
		{Name: "edition", Value: "1"},
		{Name: policies.LooksField, Value: in.Policy.Looks()},
	}}
	for i := range in.Score.Notes {
		m := score.Mark{Note: i}
		for k := range in.Score.Notes[i].Indications {
			if r, change := restyle(in, i, k); change {
				m.Restyles = append(m.Restyles, r)
			}
		}
		if in.Print[i] {
			m.Digits = digits(in, i)
		}
		if len(m.Digits)+len(m.Restyles) > 0 {
			out.Marks = append(out.Marks, m)
		}
	}
	return out
}

// restyle gives a digit of the text the look of its responsibility. Size and
// colour that the policy leaves open stay as they are; so does an enclosure,
// which is part of the text.
func restyle(in Input, i, k int) (score.Restyle, bool) {
	ind := &in.Score.Notes[i].Indications[k]
	look := in.Policy.Style(in.Whose[i][k])
	look.Enclosure = ""
	now := ind.Style
	changed := look.Italic != now.Italic || look.Bold != now.Bold || look.Size != "" && look.Size != now.Size || look.Colour != "" && look.Colour != now.Colour
	return score.Restyle{Ordinal: k, Style: look}, changed
}

func digits(in Input, i int) []score.MarkDigit {
	d := score.MarkDigit{Text: strconv.Itoa(in.Finger[i]), Style: in.Policy.Style(whoseDigit(in, i)), Placement: side(in, i)}
	if in.Substitution[i] == 0 {
		return []score.MarkDigit{d}
	}
	second := d
	second.Text, second.Substitution = strconv.Itoa(in.Substitution[i]), true
	return []score.MarkDigit{d, second}
}

// side is outside the system: right hand above, left hand below (FACTS §5.2).
func side(in Input, i int) score.Placement {
	switch {
	case !in.Policy.PlacesOutside():
		return score.PlacementUnset
	case in.Hand[i] == score.Left:
		return score.Below
	}
	return score.Above
}

// whoseDigit is the responsibility of an added digit.
func whoseDigit(in Input, i int) score.Responsibility {
	if in.Decided != nil && in.Decided[i] {
		return score.Editor
	}
	return score.Open
}
