package policies

// Keys of rolled chords that the edition adds: whether they are offered, and how they look.

func makeRollKeys() []Key {
	return []Key{
		{
			Path: "rolls.offer", kind: yesNo,
			Doc: "Whether it is suggested to roll a chord that is beyond the hand, where the hand can take it key after key " +
				"and there is time. Where notes of it are offered to the other hand, the roll is no more than reported.",
		},
		{
			Path: "rolls.marks", kind: word, Values: []string{"none", "brackets", "small"},
			Doc: "How rolls that the edition adds are shown: not at all, or by the sign of a rolled chord with the word arp. " +
				"beside it, in square brackets once an editor has decided it and in parentheses while it is suggested; small " +
				"has the word and the sign in small.",
		},
	}
}

// OffersRolls says that rolls are suggested where a grip is beyond the hand.
func (p *Policy) OffersRolls() bool { return p.is("rolls.offer") }

// RollMarks is none, brackets or small: how rolls that the edition adds are shown.
func (p *Policy) RollMarks() string { return p.values["rolls.marks"].Text }
