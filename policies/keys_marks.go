package policies

// Keys of the house style of digits: how many, where, and whose.

// placements are where digits can stand.
var placements = []string{"house", "outside", "inside", "above", "below", "engraver"}

func makeCourtesyKeys() []Key {
	return []Key{
		{
			Path: "courtesy.first", kind: yesNo,
			Doc: "Whether the first note of each hand has its digit, also where the fingering could be read without " +
				"it.",
		},
		{
			Path: "courtesy.rest", kind: number, Low: 1, High: 64, orZero: true,
			Doc: "Digits after a rest of at least so many quarters, also where the fingering could be read without " +
				"them; 0 for none. A digit that prints so may make others readable, which then do not print.",
		},
		{
			Path: "courtesy.system", kind: yesNo,
			Doc: "Whether the first notes of a system have their digits, also where the fingering could be read " +
				"without them.",
		},
		{
			Path: "courtesy.return", kind: yesNo,
			Doc: "Whether a passage that returns begins with its digits, also where the fingering could be read " +
				"without them.",
		},
	}
}

// makeLookKeys are the keys of the looks of digits, the same for each responsibility.
func makeLookKeys() []Key {
	var out []Key
	for _, who := range Responsibilities {
		m := "marks." + who + "."
		out = append(out,
			Key{Path: m + "italic", kind: yesNo, Doc: "Whether digits of " + who + " responsibility are italic."},
			Key{Path: m + "bold", kind: yesNo, Doc: "Whether they are bold."},
			Key{
				Path: m + "size", kind: size,
				Doc: "Their size in points (7.5), or a word: small, medium, large; none for the engraver's own.",
			},
			Key{
				Path: m + "colour", kind: colour,
				Doc: "Their colour as #rrggbb, none for black. Never the only difference: pages are printed in black.",
			},
			Key{
				Path: m + "enclosure", kind: word, Values: []string{"none", "parentheses", "brackets"},
				Doc: "What stands around them. Digits that stand in the text keep their own.",
			},
			Key{
				Path: m + "placement", kind: word, Values: placements,
				Doc: "Where they stand when they are added: as the house places all (`marks.placement`), outside " +
					"the system, between the staves (inside), above or below the staff, or wherever the engraver " +
					"puts them.",
			},
		)
	}
	return out
}

func makeMarkKeys() []Key {
	return []Key{
		{
			Path: "marks.placement", kind: word, Values: []string{"outside", "engraver"},
			Doc: "Where added digits stand: outside the system (right hand above, left hand below its staff), or " +
				"wherever the engraver puts them.",
		},
		{
			Path: "marks.polyphony", kind: word, Values: []string{"voices", "outside"},
			Doc: "Where one hand plays two voices: voices puts the digits of the inner voice between the staves, " +
				"outside all of them outside.",
		},
		{
			Path: "marks.chords", kind: word, Values: []string{"all", "outer", "needed"},
			Doc: "Which digits of a chord are added: all, the outer two (and inner ones that cannot be guessed), or " +
				"those needed to read it.",
		},
		{
			Path: "marks.substitution", kind: word, Values: []string{"slur", "dash"},
			Doc: "A change of finger on a held key: slur writes two digits and says that the second takes over, for " +
				"the engraver to join by a slur; dash writes one sign, 4-3, without a slur.",
		},
		{
			Path: "marks.ties", kind: word, Values: []string{"change", "first"},
			Doc: "Where a change of finger on tied notes stands: change writes the new digit at the tied note on " +
				"which it falls, first writes it at the first note of the tie.",
		},
		{
			Path: "marks.ornaments", kind: word, Values: []string{"row", "first"},
			Doc: "Trills, turns and keys repeated fast: a row of digits for all fingers, or the first digit only.",
		},
		{
			Path: "marks.alternative", kind: word, Values: []string{"parentheses", "brackets", "none"},
			Doc: "What stands around an alternative, a second fingering offered beside the first, and around an editor's digit " +
				"beside one of the composer's or of an earlier hand, which stays. Where that is none, they stand in brackets all the same: " +
				"nothing else would tell a second digit from a change of finger, nor which of the two is whose.",
		},
		{
			Path: "marks.smaller_hand", kind: yesNo,
			Doc: "Whether the alternative for the `smaller_hand` is printed beside the fingering that exceeds it.",
		},
		{
			Path: "marks.layers", kind: word, Values: []string{"joined", "levels"},
			Doc: "How added digits are written: joined with the text's own in one place of the note, which all " +
				"programs read, or in an editorial level of their own, the standard's way, which many programs drop.",
		},
		{
			Path: "marks.legend", kind: word, Values: []string{"none", "title"},
			Doc: "Where a legend of the looks of digits stands in the edition: none, or title, a line a look on the " +
				"first page of music (Verovio draws it; MuseScore 3 draws no credit that is not placed). The commentary always has it.",
		},
		{
			Path: "beside.composer", kind: word, Values: []string{"never", "request", "saving"},
			Doc: "Whether an editor's fingering is set beside the composer's digits, as an alternative: never, " +
				"where a decision asks for it, or where it saves more than `beside.saving`.",
		},
		{
			Path: "beside.saving", kind: number, Low: 100, High: 100000,
			Doc: "How much effort a fingering beside the composer's must save, in thousandths of the unit that " +
				"`explain` counts in.",
		},
		{
			Path: "witness.constrains", kind: word, Values: []string{"none", "agreeing", "composer", "all"},
			Doc: "Which digits of witnesses bind the suggestion where the text has none: none, those in which two " +
				"witnesses agree, the composer's, or all.",
		},
		{
			Path: "witness.binds.*", kind: yesNo, named: siglum,
			Doc: "Whether the digits of one witness bind the suggestion, by its siglum, whatever " +
				"`witness.constrains` says.",
		},
		{
			Path: "witness.prints", kind: word, Values: []string{"none", "composer", "all"},
			Doc: "Which digits that stand in witnesses and not in the text are printed, where the fingering takes " +
				"them up (those that bind always): none, the composer's, or all. Where `digits` is composer-only " +
				"the composer's alone count. What is not taken up stands in the commentary.",
		},
		{
			Path: "witness.single", kind: word, Values: []string{"none", "parentheses", "brackets"},
			Doc: "What stands around the composer's digits that are added from a single witness. Only witnesses of " +
				"the composer's count: what an earlier hand repeats makes no second one.",
		},
		{Path: "agents.*", kind: text, named: initials, Doc: "The name behind initials, as the commentary prints it."},
	}
}
