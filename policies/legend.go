package policies

import (
	"strings"

	"fingerproof/corpus/score"
)

// LegendRow explains one look to the reader of an edition.
type LegendRow struct {
	Look    string      // "italic, small", in words
	Style   score.Style // to show a specimen in
	Meaning string
	// Specimen is what is shown: "(3)", or a hand sign.
	Specimen string
}

var meanings = map[string]string{
	"composer": "the composer's",
	"earlier":  "an earlier hand's: a pupil, a reviser or an earlier editor",
	"editor":   "the editor's",
	"open":     "suggested, and not yet decided by an editor",
}

const besideComposer = "the editor's, set beside the composer's"

// Legend explains what the policy prints, for title page and commentary: the
// looks of digits in the order of Responsibilities, those of a single witness
// and of alternatives where there may be any, and the signs of redistributions
// that are offered. What looks alike shares a row.
func (p *Policy) Legend() []LegendRow {
	var out []LegendRow
	add := func(s score.Style, meaning string) {
		for i := range out {
			if out[i].Style == s {
				out[i].Meaning += ", or " + meaning
				return
			}
		}
		out = append(out, LegendRow{Look: InWords(s), Style: s, Meaning: meaning, Specimen: specimen(s)})
	}
	alone := p.Digits() == "composer-only" // then nothing open is printed
	for _, who := range []score.Responsibility{score.Composer, score.Earlier, score.Editor, score.Open} {
		if who != score.Open || !alone {
			add(p.Style(who), meanings[who.String()])
		}
	}
	if p.WitnessPrints() != "none" {
		add(p.SingleStyle(), "the composer's, in a single witness and not in the text")
	}
	if when, _ := p.BesideComposer(); when != "never" &&
		(alone || p.AlternativeStyle(score.Editor) != p.AlternativeStyle(score.Open)) {
		add(p.AlternativeStyle(score.Editor), besideComposer)
	}
	if p.PrintsAlternatives() && !alone {
		add(p.AlternativeStyle(score.Open), "an alternative, offered beside the first")
	}
	if p.RedistributeMarks() != "none" && !alone {
		sign := signWords[p.SignLanguage()]
		row := LegendRow{
			Look: sign[0] + " or " + sign[1] + " in parentheses", Style: p.WordStyle(),
			Meaning: "notes that the other hand may take", Specimen: "(" + sign[1] + ")",
		}
		if p.RedistributeMarks() == "bracket" {
			row.Look += ", with a broken bracket"
		}
		out = append(out, row)
	}
	return out
}

// specimen is a digit with what stands around it.
func specimen(s score.Style) string {
	switch s.Enclosure {
	case score.Parentheses:
		return "(3)"
	case score.Brackets:
		return "[3]"
	}
	return "3"
}

// signWords are the hand signs by language, right hand first.
var signWords = map[string][2]string{
	"it": {"m.d.", "m.s."}, "fr": {"m.d.", "m.g."}, "en": {"r.h.", "l.h."}, "de": {"r.H.", "l.H."},
}

// HandSigns are the signs of the right and of the left hand.
func (p *Policy) HandSigns() (right, left string) {
	s := signWords[p.SignLanguage()]
	return s[0], s[1]
}

// HandSignOf is the sign of a hand under a policy.
func HandSignOf(p *Policy, h score.Hand) string {
	right, left := p.HandSigns()
	if h == score.Left {
		return left
	}
	return right
}

// LegendOfSource is the legend of a piece of which nothing tells whose the digits in its text are: they look as the
// composer's, and are called of the source.
func (p *Policy) LegendOfSource() []LegendRow {
	rows := p.Legend()
	for i, row := range rows {
		if row.Style == p.Style(score.Composer) {
			rows[i].Meaning = strings.Replace(row.Meaning, meanings["composer"], "of the source", 1)
		}
		rows[i].Meaning = strings.Replace(rows[i].Meaning, besideComposer, "the editor's, set beside one of the source", 1)
	}
	return rows
}

// LegendWords puts a legend into the words for the first page of an edition, a line for each
// look: "Fingering: upright – the composer's;", "italic – the editor's."
func LegendWords(legend []LegendRow) string {
	var rows []string
	for _, row := range legend {
		rows = append(rows, row.Look+" – "+row.Meaning)
	}
	return "Fingering: " + strings.Join(rows, ";\n") + "."
}

// InWords says how digits look.
func InWords(s score.Style) string {
	words := []string{"upright"}
	if s.Italic {
		words[0] = "italic"
	}
	if s.Bold {
		words = append(words, "bold")
	}
	if s.Size != "" {
		if s.Size[0] >= '0' && s.Size[0] <= '9' {
			s.Size += " points"
		}
		words = append(words, s.Size)
	}
	if s.Colour != "" {
		words = append(words, s.Colour)
	}
	switch s.Enclosure {
	case score.Parentheses:
		words = append(words, "in parentheses")
	case score.Brackets:
		words = append(words, "in brackets")
	}
	return strings.Join(words, ", ")
}
