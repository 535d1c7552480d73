package formats

import (
	"strings"

	"fingerproof/corpus/score"
)

// habits lists what exporters do, of which publishers' files are full (common practice, and files seen).
func habits() []habit {
	upper := n("C5", 1, "") + n("D5", 1, "") + n("E5:2", 1, "")
	one := func(more string) string { return both(n("C5", 1, more) + n("D5", 1, "") + n("E5:2", 1, "")) }
	piano := func(measures ...string) string { return asScore(append([]string{"Piano", grandStaff}, measures...)) }
	plain := func(s string) string { return strings.ReplaceAll(s, "<staff>1</staff>", "") }
	lower := strings.ReplaceAll(n("C3:1", 1, ""), "<staff>1</staff>", "")
	repeats := func(sign string) string {
		return `<attributes><measure-style number="1"><` + sign + ` type="start">1</` + sign + `></measure-style></attributes>`
	}
	low := `<clef><sign>F</sign><line>4</line></clef>`
	return []habit{
		{"two parts called the same", asScore([]string{"Piano", "", plain(upper)}, []string{"Piano", low, lower}),
			all(plays("D5", score.Right), plays("C3", score.Left))},
		{"two parts called by their hands", asScore([]string{"Right Hand", "", plain(upper)}, []string{"Left Hand", low, lower}),
			all(plays("D5", score.Right), plays("C3", score.Left))},
		{"a third staff of the part", asScore([]string{"Piano", strings.Replace(grandStaff, "2</staves>", "3</staves>", 1),
			both(upper) + `<backup><duration>16</duration></backup>` + n("G4:1", 3, "")}), all(plays("D5", score.Right), plays("C3", score.Left))},
		{"a third staff as a part called the same", asScore([]string{"Piano", "", plain(n("C6:1", 1, ""))}, []string{"Piano", grandStaff, both(upper)}),
			all(plays("C6", score.Right), finds("parts-read-as-one"))},
		{"an ossia staff", asScore([]string{"Piano", strings.Replace(grandStaff, "2</staves>", "3</staves>", 1) +
			`<staff-details number="3"><staff-type>ossia</staff-type></staff-details>`,
			both(upper) + `<backup><duration>16</duration></backup>` + n("A5:1", 3, "")}),
			all(plays("A5", score.NoHand), finds("gets-no-digits"))},
		{"an ossia as a part of its own", asScore([]string{"Piano", grandStaff, both(upper)}, []string{"Ossia", "", plain(upper)}),
			all(plays("D5", score.Right), finds("gets-no-digits"))},
		{"a sign that repeats a measure", piano(both(upper), repeats("measure-repeat")+both(upper)), finds("gets-no-digits")},
		{"slashes instead of notes", piano(both(upper), repeats("slash")+both(upper)), finds("gets-no-digits")},
		{"cue notes", piano(both(strings.Replace(n("A5", 1, ""), "<note>", "<note><cue/>", 1) + n("D5", 1, "") + n("E5:2", 1, ""))),
			plays("A5", score.NoHand)},
		{"hidden notes", piano(both(strings.Replace(n("A5", 1, ""), "<note>", `<note print-object="no">`, 1) + n("D5", 1, "") + n("E5:2", 1, ""))),
			plays("A5", score.NoHand)},
		{"hidden rests", piano(both(strings.Replace(n("r", 1, ""), "<note>", `<note print-object="no">`, 1) + n("D5", 1, "") + n("E5:2", 1, ""))),
			note("D5", func(n *score.Note) bool { return n.Onset == score.Whole(1) }, "stands elsewhere")},
		{"a digit as words", piano(both(words("3") + upper)), finds("digit-as-text")},
		{"a digit as sung text", piano(one("<lyric><text>3</text></lyric>")), finds("digit-as-text")},
		{"a digit in parentheses as sung text", piano(one("<lyric><text>(3)</text></lyric>")), finds("digit-as-text")},
		{"a digit as a figure of a bass", piano(`<figured-bass><figure><figure-number>3</figure-number></figure></figured-bass>` + one("")),
			finds("digit-as-text")},
		{"a change in one digit", piano(one(technical(digit("4-3", "")))), has("C5", "4 3")},
		{"two digits with a stroke", piano(one(technical(digit("1/2", "")))), has("C5", "1 2")},
		{"a digit in parentheses", piano(one(technical(digit("(3)", "")))), has("C5", "3")},
		{"a digit in brackets", piano(one(technical(digit("[3]", "")))), has("C5", "3")},
		{"a change by its flag", piano(one(technical(digit("4", ""), digit("3", ` substitution="yes"`)))), has("C5", "4→3")},
		{"an alternative by its flag", piano(one(technical(digit("4", ""), digit("3", ` alternate="yes"`)))), has("C5", "4|3")},
		{"digits in layers of their own", piano(one(technical(digit("4", "")) + technical(digit("3", ` substitution="yes"`)))), has("C5", "4→3")},
		{"an octave line", piano(both(`<direction placement="above"><direction-type><octave-shift type="down" size="8"/></direction-type><staff>1</staff></direction>` +
			n("C6", 1, "") + n("D6", 1, "") + n("E6:2", 1, "") +
			`<direction><direction-type><octave-shift type="stop" size="8"/></direction-type><staff>1</staff></direction>`)), plays("C6", score.Right)},
		{"grace notes after a note", piano(both(n("C5", 1, "") + n("D5:2", 1, "") +
			`<note><grace steal-time-previous="50"/><pitch><step>A</step><octave>5</octave></pitch><voice>1</voice><type>16th</type><staff>1</staff></note>` +
			n("E5", 1, ""))), note("A5", func(n *score.Note) bool { return n.GraceAfter }, "is no after-note")},
		{"a tremolo between notes", piano(both(tremoloOf("C5", "start") + tremoloOf("G5", "stop") + n("E5:2", 1, ""))),
			all(note("C5", func(n *score.Note) bool { return n.Tremolo.Start }, "begins no tremolo"),
				note("G5", func(n *score.Note) bool { return n.Onset == score.Whole(1) }, "stands elsewhere"))},
		{"a cadenza in small notes", piano(both(upper), cadenza()), either(plays("A5", score.Right), finds("value-unreadable"))},
		{"a staff for the pedal", asScore([]string{"Piano", grandStaff, both(upper)}, []string{"Pedal",
			`<clef><sign>percussion</sign></clef><staff-details><staff-lines>1</staff-lines></staff-details>`,
			`<direction placement="below"><direction-type><pedal type="start"/></direction-type></direction>` + plain(strings.Replace(n("r:1", 1, ""), "<rest/>", `<rest measure="yes"/>`, 1))}),
			all(plays("D5", score.Right), plays("C3", score.Left))},
		{"a timewise score", timewise(piano(both(upper))), all(plays("D5", score.Right), plays("C3", score.Left))},
	}
}

// tremoloOf is one of two halves between which a tremolo goes.
func tremoloOf(pitch, kind string) string {
	return strings.Replace(n(pitch, 1, `<notations><ornaments><tremolo type="`+kind+`">3</tremolo></ornaments></notations>`),
		"<type>quarter</type>", "<type>half</type><time-modification><actual-notes>2</actual-notes><normal-notes>1</normal-notes></time-modification>", 1)
}

// cadenza is a measure of small notes that are to be played.
func cadenza() string {
	var b strings.Builder
	for _, pitch := range []string{"A5", "B5", "C6", "D6", "E6", "F6", "G6", "A6"} {
		b.WriteString(strings.Replace(n(pitch+":8", 1, ""), "<type>", `<type size="cue">`, 1))
	}
	return both(b.String())
}

// timewise turns a score of one part and one measure round.
func timewise(text string) string {
	return strings.NewReplacer("score-partwise", "score-timewise", `<part id="P1"><measure number="1">`, `<measure number="1"><part id="P1">`,
		"</measure></part>", "</part></measure>").Replace(text)
}
