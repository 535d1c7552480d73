package mark

import (
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/policies"
)

// handNamed notes the hand that a sign names.
func handNamed(hands *map[score.Hand]bool, policy *policies.Policy, text string) {
	right, left := policy.HandSigns()
	if *hands == nil {
		*hands = map[score.Hand]bool{}
	}
	(*hands)[score.Right] = (*hands)[score.Right] || strings.Contains(text, right)
	(*hands)[score.Left] = (*hands)[score.Left] || strings.Contains(text, left)
}

// occurs says what stands in an edition that a legend explains: digits of the
// text and added ones, signs and brackets.
func occurs(in Fingered, m *score.Marking) policies.Occurs {
	o := policies.Occurs{Who: map[score.Responsibility]bool{}, Text: map[score.Responsibility]bool{}, OfSource: in.Unattributed}
	for i := range in.Score.Notes {
		n := &in.Score.Notes[i]
		for k := range n.Indications {
			if !n.Indications[k].Hidden {
				o.Text[in.Whose[i][k]] = true
			}
		}
		if in.Print[i] {
			switch c := creditOf(in, i); {
			case c.Single:
				o.Single = true
			case c.Who == score.Editor && besideWhose(in, i) == score.Composer:
				o.Beside = true
			case c.Who == score.Editor && besideWhose(in, i) == score.Earlier:
				o.BesideEarlier = true
			default:
				o.Who[c.Who] = true
			}
		}
		o.Alternative = o.Alternative || in.Alternatives != nil && in.Alternatives[i] > 0
	}
	for _, at := range m.Marks {
		offered := false
		for _, d := range at.Directions {
			switch {
			case d.Kind == score.MarkSign && d.Change:
				o.Change = true
				handNamed(&o.ChangeTo, in.Policy, d.Text)
			case d.Kind == score.MarkRollWords && strings.HasPrefix(d.Text, "("):
				o.RollOffered = true
			case d.Kind == score.MarkRollWords:
				o.Roll = true
			case d.Kind == score.MarkSign && strings.HasPrefix(d.Text, "("):
				offered = true
				handNamed(&o.OfferedTo, in.Policy, d.Text)
			}
		}
		for _, d := range at.Directions {
			if d.Kind == score.MarkBracketStart {
				o.OfferedBracket, o.Bracket = o.OfferedBracket || offered, o.Bracket || !offered
			}
		}
		o.Offered = o.Offered || offered
		for _, d := range at.Digits {
			if d.Alternate && (in.Alternatives == nil || in.Alternatives[at.Note] == 0) {
				o.OfferedDigits = true
			}
		}
	}
	o.Alternative = o.Alternative || o.OfferedDigits
	return o
}
