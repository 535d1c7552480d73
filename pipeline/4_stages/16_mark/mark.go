// Package mark is the stage that turns fingers into marks in the house style,
// in no format's own terms.
package mark

import (
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/policies"
)

// Fingered is everything the stage looks at. Slices run parallel to Score.Notes;
// those that are nil say nothing.
type Fingered struct {
	Score        *score.Score
	Whose        [][]score.Responsibility
	Playing      *playing.Playing
	Finger       []int
	Substitution []int    // the finger that follows on the held key, 0 if none
	Row          [][]int  // the fingers of a sign, in order of playing
	Print        []bool   // whether a digit is added
	Credit       []Credit // whose the added digit is
	// Alternatives are second fingerings offered beside the first, by note; 0 for none.
	Alternatives []int
	Policy       *policies.Policy
	Unattributed bool // nothing tells whose the digits in the text are
}

// Credit is whose an added digit is.
type Credit struct {
	Who    score.Responsibility
	Single bool // the composer's, and one witness alone has it
}

// Marking marks a piece: added digits in the look of whoever is responsible
// for them, open suggestions in theirs; digits that stand in the text likewise.
func Marking(in Fingered) score.Marking {
	out := score.Marking{Fields: []score.Field{
		{Name: "edition", Value: "1"},
		{Name: policies.LooksField, Value: in.Policy.Looks()},
	}}
	if thin.ByPreface(in.Policy.Digits()) {
		out.Fields = append(out.Fields, score.Field{Name: thin.DigitsField, Value: in.Policy.Digits()})
	}
	sides := sidesOf(in)
	for i := range in.Score.Notes {
		m := score.Mark{Note: i}
		for k := range in.Score.Notes[i].Indications {
			if r, change := restyle(in, i, k, sides); change {
				m.Restyles = append(m.Restyles, r)
			}
		}
		if in.Print[i] {
			m.Digits = digits(in, i, sides)
		}
		m.Digits = append(m.Digits, changeOnTie(in, i, sides)...)
		if in.Alternatives != nil && in.Alternatives[i] > 0 && !offers(&in.Score.Notes[i], in.Alternatives[i]) {
			m.Digits = append(m.Digits, score.MarkDigit{
				Text: strconv.Itoa(in.Alternatives[i]), Alternate: true,
				Style: in.Policy.AlternativeStyle(score.Open), Placement: side(in, i, score.Open, sides), Who: score.Open,
			})
		}
		if len(m.Digits)+len(m.Restyles) > 0 {
			out.Marks = append(out.Marks, m)
		}
	}
	return out
}

// offers reports whether an alternative stands at a note already.
func offers(n *score.Note, finger int) bool {
	return slices.ContainsFunc(n.Indications,
		func(ind score.Indication) bool { return ind.Alternate && slices.Equal(ind.Fingers, []int{finger}) })
}

// restyle gives a digit of the text the look of its responsibility. Size and
// colour that the policy leaves open stay as they are; so does an enclosure,
// which is part of the text, and the side, where the file names one: where it
// does not, engravers choose each their own, and a voice would have its digits
// now above and now below.
func restyle(in Fingered, i, k int, sides *sides) (score.Restyle, bool) {
	ind := &in.Score.Notes[i].Indications[k]
	look := in.Policy.Style(in.Whose[i][k])
	look.Enclosure = ""
	r := score.Restyle{Ordinal: k, Style: look}
	if ind.Placement == score.PlacementUnset && !ind.Hidden && in.Playing.Plays(i) {
		r.Placement = side(in, i, in.Whose[i][k], sides)
	}
	return r, !ind.Style.Fits(look) || r.Placement != score.PlacementUnset
}

func creditOf(in Fingered, i int) Credit {
	if in.Credit == nil || in.Credit[i].Who == score.Unattributed {
		return Credit{Who: score.Open}
	}
	return in.Credit[i]
}

// digits gives the digit of a note; two where the finger changes on the held
// key, and for a sign the row of all its fingers in one.
func digits(in Fingered, i int, sides *sides) []score.MarkDigit {
	credit := creditOf(in, i)
	d := score.MarkDigit{
		Text: strconv.Itoa(in.Finger[i]), Style: in.Policy.Style(credit.Who),
		Placement: side(in, i, credit.Who, sides), Who: credit.Who,
	}
	if credit.Single {
		d.Style = in.Policy.SingleStyle()
	}
	if credit.Who == score.Editor && besideWhose(in, i) != score.Unattributed {
		d.Alternate, d.Style = true, in.Policy.BesideStyle()
	}
	if row := rowOf(in, i); row != "" {
		d.Text = row
		return []score.MarkDigit{d}
	}
	if in.Substitution[i] == 0 || onTie(in, i) >= 0 {
		return []score.MarkDigit{d}
	}
	if in.Policy.JoinsChanges() {
		d.Text += "-" + strconv.Itoa(in.Substitution[i])
		return []score.MarkDigit{d}
	}
	second := d
	second.Text, second.Substitution = strconv.Itoa(in.Substitution[i]), true
	return []score.MarkDigit{d, second}
}

// beside gives the digit that stands at a note already, the composer's or an earlier hand's, and whose it is; nil where
// neither does. An editor's is set beside it in the look of alternatives: two bare digits at one key are read as those of two keys.
func beside(in Fingered, i int) (*score.Indication, score.Responsibility) {
	for k := range in.Score.Notes[i].Indications {
		ind := &in.Score.Notes[i].Indications[k]
		if who := in.Whose[i][k]; printedFirst(ind) && (who == score.Composer || who == score.Earlier) {
			return ind, who
		}
	}
	return nil, score.Unattributed
}

// besideWhose says beside whose digit an editor's is set: that of its key, or that of the text's grip. Where the text has its finger on
// another key of the grip and the editor another there, it would be read with the text's digit, one finger on two keys, did it
// stand bare (FACTS §5.4: rows of alternatives are never mixed).
func besideWhose(in Fingered, i int) score.Responsibility {
	if text, who := beside(in, i); text != nil {
		return who
	}
	for _, m := range in.Playing.Together(i) {
		text, who := beside(in, m)
		if text != nil && text.Fingers[0] == in.Finger[i] && in.Finger[m] != in.Finger[i] && in.Score.Notes[m].Midi != in.Score.Notes[i].Midi {
			return who
		}
	}
	return score.Unattributed
}

// rowOf spells the row of digits of a sign, "" where it has none or the first
// digit is to do.
func rowOf(in Fingered, i int) string {
	if in.Row == nil || len(in.Row[i]) < 2 || !in.Policy.PrintsRows() {
		return ""
	}
	words := make([]string, len(in.Row[i]))
	for k, f := range in.Row[i] {
		if f < 1 || f > 5 {
			return ""
		}
		words[k] = strconv.Itoa(f)
	}
	return strings.Join(words, " ")
}

// onTie finds the tied note on which the change of finger falls: the first
// that the second finger holds; -1 where it falls on the note itself, or the
// policy writes it there.
func onTie(in Fingered, i int) int {
	if !in.Policy.ChangesOnTies() || in.Substitution[i] == 0 {
		return -1
	}
	for t := in.Score.Notes[i].TiedTo; t >= 0; t = in.Score.Notes[t].TiedTo {
		if in.Finger[t] == in.Substitution[i] {
			return t
		}
	}
	return -1
}

// changeOnTie gives a tied note the digit of a change that falls on it.
func changeOnTie(in Fingered, i int, sides *sides) []score.MarkDigit {
	if in.Score.Notes[i].TiedFrom < 0 || !in.Policy.ChangesOnTies() {
		return nil
	}
	for _, ind := range in.Score.Notes[i].Indications {
		if !ind.Hidden {
			return nil // the text says it
		}
	}
	head := i
	for in.Score.Notes[head].TiedFrom >= 0 {
		head = in.Score.Notes[head].TiedFrom
	}
	if !in.Print[head] || onTie(in, head) != i || rowOf(in, head) != "" {
		return nil
	}
	credit := creditOf(in, head)
	return []score.MarkDigit{
		{
			Text: strconv.Itoa(in.Substitution[head]), Style: in.Policy.Style(credit.Who),
			Placement: side(in, i, credit.Who, sides), Who: credit.Who,
		},
	}
}
