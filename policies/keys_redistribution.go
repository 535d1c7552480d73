package policies

// Keys of redistributions: when they are offered, and how they look.

func makeRedistributionKeys() []Key {
	return []Key{
		{
			Path: "redistribute.reach", kind: yesNo,
			Doc: "Whether notes are offered to the other hand where a grip is out of reach.",
		},
		{
			Path: "redistribute.speed", kind: yesNo,
			Doc: "The same where a leap leaves too little time at the marked tempo.",
		},
		{
			Path: "redistribute.line", kind: yesNo,
			Doc: "The same where a slurred line or bass must connect and cannot.",
		},
		{
			Path: "redistribute.rhythm", kind: yesNo,
			Doc: "The same where one hand has two rhythms against each other that two hands would make clear.",
		},
		{
			Path: "redistribute.held", kind: yesNo,
			Doc: "The same where a key that lasts longer than a quarter, or is the right hand's highest, cannot be held for " +
				"as long as it is written and no pedal is marked.",
		},
		{
			Path: "redistribute.collision", kind: yesNo,
			Doc: "The same where the hands lie between one another or meet on one key.",
		},
		{
			Path: "redistribute.crossing", kind: yesNo,
			Doc: "Whether, for the music's sake, the free left hand is offered a voice of its own that lies above " +
				"the right hand's keys: it crosses over.",
		},
		{
			Path: "redistribute.clarity", kind: yesNo,
			Doc: "The same for the lower of two voices in the right hand, or the upper of two in the left, that the " +
				"free hand makes clear.",
		},
		{
			Path: "redistribute.evenness", kind: yesNo,
			Doc: "The same for a sweep that goes on under the free hand.",
		},
		{
			Path: "redistribute.turns", kind: yesNo,
			Doc: "The same for a figure that a hand leaps to, by more than an octave, and back from: the free hand " +
				"takes it in turn.",
		},
		{
			Path: "redistribute.line_threshold", kind: number, Low: 0, High: 100000,
			Doc: "What a redistribution by `redistribute.line` has to gain, in thousandths of the effort's unit: that " +
				"a line or bass is joined counts, and the change itself.",
		},
		{
			Path: "redistribute.crossing_threshold", kind: number, Low: 0, High: 100000,
			Doc: "What a redistribution by `redistribute.crossing` has to gain, in thousandths of the effort's unit; " +
				"that a voice begins counts, and the change itself.",
		},
		{
			Path: "redistribute.clarity_threshold", kind: number, Low: 0, High: 100000,
			Doc: "The same by `redistribute.clarity`.",
		},
		{
			Path: "redistribute.evenness_threshold", kind: number, Low: 0, High: 100000,
			Doc: "The same by `redistribute.evenness`.",
		},
		{
			Path: "redistribute.turns_threshold", kind: number, Low: 0, High: 100000,
			Doc: "The same by `redistribute.turns`; each leap saved counts.",
		},
		{
			Path: "redistribute.threshold", kind: number, Low: 0, High: 100000,
			Doc: "What a redistribution by one of the other reasons has to gain, in thousandths of the effort's " +
				"unit, both hands and the change itself counted.",
		},
		{
			Path: "redistribute.per_page", kind: number, Low: 0, High: 50,
			Doc: "How many redistributions a page may have, the best first; 0 for any number. Those for the music's " +
				"sake are counted apart, each kind once.",
		},
		{
			Path: "redistribute.marks", kind: word, Values: []string{"none", "bracket", "sign"},
			Doc: "How suggested redistributions stand in the edition: not at all, in a bracket on the side of the " +
				"hand that may take them, or by hand signs in `signs.language`.",
		},
		{
			Path: "redistribute.notation", kind: word, Values: []string{"as-written", "other-staff"},
			Doc: "Where redistributed notes stand: where the text has them, or on the staff of the hand that takes " +
				"them, each kept in its voice. The second changes the layout of the text.",
		},
	}
}
