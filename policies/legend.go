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
}

var meanings = map[string]string{
	"composer": "the composer's",
	"earlier":  "an earlier hand's: a pupil, a reviser or an earlier editor",
	"editor":   "the editor's",
	"open":     "suggested, and not yet decided by an editor",
}

// Legend explains the looks of digits, for title page and commentary, in the
// order of Responsibilities. Where editor and open look alike they share a row.
func (p *Policy) Legend() []LegendRow {
	var out []LegendRow
	for _, name := range Responsibilities {
		var who score.Responsibility
		_ = who.UnmarshalText([]byte(name)) // never fails
		row := LegendRow{InWords(p.Style(who)), p.Style(who), meanings[name]}
		if name == "open" && p.Style(score.Editor) == row.Style {
			out[len(out)-1].Meaning += ", or " + row.Meaning
			continue
		}
		out = append(out, row)
	}
	if p.WitnessPrints() != "none" {
		out = append(out, LegendRow{InWords(p.SingleStyle()), p.SingleStyle(), "the composer's, in a single witness and not in the text"})
	}
	if when, _ := p.BesideComposer(); when != "never" || p.SmallerHand() != "none" && p.PrintsSmallerHand() {
		out = append(out, LegendRow{InWords(p.AlternativeStyle(score.Open)), p.AlternativeStyle(score.Open), "an alternative, offered beside the first"})
	}
	return out
}

// LegendWords is the legend for the first page of an edition, a line for each
// look: "Fingering: upright – the composer's;", "italic – the editor's."
func (p *Policy) LegendWords() string {
	var rows []string
	for _, row := range p.Legend() {
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
