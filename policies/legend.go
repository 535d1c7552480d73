package policies

import (
	"maps"
	"strings"

	"fingerproof/corpus/printwords"
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

// Occurs says what of a legend there is in a piece.
type Occurs struct {
	Who    map[score.Responsibility]bool // whose digits the edition adds
	Text   map[score.Responsibility]bool // whose digits stand in the text: nothing is put around those
	Single bool                          // digits of the composer's from a single witness
	Beside bool                          // an editor's beside the composer's
	// BesideEarlier is an editor's beside an earlier hand's.
	BesideEarlier bool
	Alternative   bool
	Offered       bool // redistributions that nobody decided
	OfferedDigits bool // and the fingers of the hand to which they are offered
	// OfferedBracket is the brackets of those that have several strokes, Bracket those of decided ones.
	OfferedBracket, Bracket bool
	Change                  bool // signs where the hand changes
	Roll                    bool // signs of rolls that were decided
	RollOffered             bool // and of rolls that nobody decided
	OfSource                bool // nothing tells whose the digits in the text are
	// ChangeTo and OfferedTo are the hands that the signs of changes and of offered redistributions name; nil: both, as far as is known.
	ChangeTo, OfferedTo map[score.Hand]bool
}

// Add joins what occurs in another piece.
func (o *Occurs) Add(other Occurs) {
	if o.Who == nil {
		o.Who = map[score.Responsibility]bool{}
	}
	if o.Text == nil {
		o.Text = map[score.Responsibility]bool{}
	}
	for who := range other.Who {
		o.Who[who] = true
	}
	for who := range other.Text {
		o.Text[who] = true
	}
	o.Single, o.Beside = o.Single || other.Single, o.Beside || other.Beside
	o.BesideEarlier = o.BesideEarlier || other.BesideEarlier
	o.Alternative, o.Offered = o.Alternative || other.Alternative, o.Offered || other.Offered
	o.OfferedDigits = o.OfferedDigits || other.OfferedDigits
	o.OfferedBracket = o.OfferedBracket || other.OfferedBracket
	o.Bracket, o.Change = o.Bracket || other.Bracket, o.Change || other.Change
	o.Roll, o.RollOffered = o.Roll || other.Roll, o.RollOffered || other.RollOffered
	o.OfSource = o.OfSource || other.OfSource
	o.ChangeTo, o.OfferedTo = bothOf(o.ChangeTo, other.ChangeTo), bothOf(o.OfferedTo, other.OfferedTo)
}

func bothOf(a, b map[score.Hand]bool) map[score.Hand]bool {
	out := map[score.Hand]bool{}
	maps.Copy(out, a)
	maps.Copy(out, b)
	if len(out) == 0 {
		return nil
	}
	return out
}

// Legend explains what the policy may print, in English: the looks of digits in
// the order of Responsibilities, those of a single witness and of alternatives
// where there may be any, and the signs of redistributions that are offered.
// What looks alike shares a row.
func (p *Policy) Legend() []LegendRow {
	when, _ := p.BesideComposer()
	alone := p.Digits() == "composer-only" // then nothing open is printed
	return p.LegendOf(printwords.In("en"), Occurs{
		Who: map[score.Responsibility]bool{
			score.Composer: true, score.Earlier: true, score.Editor: true, score.Open: !alone,
		},
		Text:           map[score.Responsibility]bool{score.Composer: true, score.Earlier: true},
		Single:         p.WitnessPrints() != "none",
		Beside:         when != "never" && (alone || p.AlternativeStyle(score.Editor) != p.AlternativeStyle(score.Open)),
		Alternative:    p.PrintsAlternatives() && !alone,
		Offered:        p.RedistributeMarks() != "none" && !alone,
		OfferedDigits:  p.RedistributeMarks() != "none" && !alone,
		OfferedBracket: p.RedistributeMarks() == "bracket" && !alone,
		Roll:           p.RollMarks() != "none" && !alone,
		RollOffered:    p.RollMarks() != "none" && p.OffersRolls() && !alone,
	})
}

// LegendOf explains what occurs in a piece, for title page and commentary.
func (p *Policy) LegendOf(w *printwords.Words, o Occurs) []LegendRow {
	var out []LegendRow
	add := func(s score.Style, meaning string) {
		for i := range out {
			if out[i].Style == s {
				out[i].Meaning += w.Say("or") + meaning
				return
			}
		}
		out = append(out, LegendRow{Look: LookIn(w, s), Style: s, Meaning: meaning, Specimen: specimen(s)})
	}
	for _, who := range []score.Responsibility{score.Composer, score.Earlier, score.Editor, score.Open} {
		meaning := "whose." + who.String()
		if who == score.Composer && o.OfSource {
			meaning = "whose.source"
		}
		style := p.Style(who)
		bare := style
		bare.Enclosure = ""
		switch {
		case o.Text[who] && o.Who[who] && style != bare:
			out = append(out, LegendRow{
				Look:  w.Say("look.added", LookIn(w, bare), enclosedIn(w, style)),
				Style: style, Meaning: w.Say(meaning), Specimen: specimen(bare) + " " + specimen(style),
			})
		case o.Text[who]:
			add(bare, w.Say(meaning))
		case o.Who[who]:
			add(style, w.Say(meaning))
		}
	}
	if o.Single {
		add(p.SingleStyle(), w.Say("whose.single"))
	}
	if o.Beside && o.OfSource {
		add(p.BesideStyle(), w.Say("whose.beside.source"))
	} else if o.Beside {
		add(p.BesideStyle(), w.Say("whose.beside"))
	}
	if o.BesideEarlier {
		add(p.BesideStyle(), w.Say("whose.beside.earlier"))
	}
	if o.Alternative {
		add(p.AlternativeStyle(score.Open), w.Say("whose.alternative"))
	}
	sign := signWords[p.SignLanguage()]
	if o.Change {
		look, shown, of := w.Say("sign.change", sign[0], sign[1]), sign[1], alone(o.ChangeTo)
		plain := sign[0] + w.Say("cell.or") + sign[1]
		if of != "" {
			shown = sign[strings.Index("RL", of)]
			look, plain = w.Say("sign.change.alone", shown), shown
		}
		if p.ChangeSigns() == "plain" {
			look = plain
		} else {
			shown = "[" + shown + "]"
		}
		out = append(out, LegendRow{Look: look, Style: p.WordStyle(), Meaning: w.Say("sign.change.meaning" + dotted(of)), Specimen: shown})
	}
	if o.Bracket {
		out = append(out, LegendRow{Look: w.Say("sign.bracket"), Meaning: w.Say("sign.bracket.meaning"), Specimen: "┌┄┐"})
	}
	if o.Offered {
		row := LegendRow{
			Look: w.Say("sign.offered", sign[0], sign[1]), Style: p.WordStyle(),
			Meaning: w.Say("sign.offered.meaning"), Specimen: "(" + sign[1] + ")",
		}
		if of := alone(o.OfferedTo); of != "" {
			shown := sign[strings.Index("RL", of)]
			row.Look, row.Meaning, row.Specimen = w.Say("sign.offered.alone", shown), w.Say("sign.offered.meaning."+of), "("+shown+")"
		}
		if o.OfferedDigits {
			row.Meaning += w.Say("sign.offered.digits")
		}
		if o.OfferedBracket {
			row.Look += w.Say("sign.offered.bracket")
		}
		out = append(out, row)
	}
	return append(out, p.rollRows(w, o)...)
}

// alone gives the letter of the hand that signs name, "" where they name both or nothing tells which.
func alone(hands map[score.Hand]bool) string {
	switch {
	case hands[score.Right] == hands[score.Left]:
		return ""
	case hands[score.Right]:
		return "R"
	}
	return "L"
}

func dotted(word string) string {
	if word == "" {
		return ""
	}
	return "." + word
}

// Line is what a line of a legend shows before it says what it means: the words, and the specimen where they do not hold it.
func (r *LegendRow) Line() string {
	if strings.Contains(r.Look, r.Specimen) {
		return r.Look
	}
	return r.Look + " " + r.Specimen
}

// rollRows explains the signs of rolls that the edition adds.
func (p *Policy) rollRows(w *printwords.Words, o Occurs) (out []LegendRow) {
	style := p.WordStyle()
	if p.RollMarks() == "small" {
		style.Size = "small"
	}
	if o.Roll {
		shown := "[" + score.RollSign + "]"
		out = append(out, LegendRow{
			Look: w.Say("sign.roll", shown), Style: style, Meaning: w.Say("sign.roll.meaning"), Specimen: shown,
		})
	}
	if o.RollOffered {
		shown := "(" + score.RollSign + ")"
		out = append(out, LegendRow{
			Look: w.Say("sign.roll", shown), Style: style, Meaning: w.Say("sign.roll.offered"), Specimen: shown,
		})
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

// LegendWords puts a legend into the words for the first page of an edition, a line for each
// look: "Fingering: upright – the composer's;", "italic – the editor's.". Without a row it is empty.
func LegendWords(w *printwords.Words, legend []LegendRow) string {
	if len(legend) == 0 {
		return ""
	}
	var rows []string
	for _, row := range legend {
		rows = append(rows, row.Look+" – "+row.Meaning)
	}
	return w.Say("legend", strings.Join(rows, ";\n"))
}

// InWords says in English how digits look.
func InWords(s score.Style) string { return LookIn(printwords.In("en"), s) }

// LookIn says how digits look.
func LookIn(w *printwords.Words, s score.Style) string {
	words := []string{w.Say("look.upright")}
	if s.Italic {
		words[0] = w.Say("look.italic")
	}
	if s.Bold {
		words = append(words, w.Say("look.bold"))
	}
	switch {
	case s.Size == "":
	case s.Size[0] >= '0' && s.Size[0] <= '9':
		words = append(words, w.Say("look.points", s.Size))
	case printwords.Has("look." + s.Size):
		words = append(words, w.Say("look."+s.Size))
	default:
		words = append(words, s.Size)
	}
	if s.Colour != "" {
		words = append(words, s.Colour)
	}
	if around := enclosedIn(w, s); around != "" {
		words = append(words, around)
	}
	return strings.Join(words, ", ")
}

// enclosedIn says what stands around digits, "" for nothing.
func enclosedIn(w *printwords.Words, s score.Style) string {
	switch s.Enclosure {
	case score.Parentheses:
		return w.Say("look.parentheses")
	case score.Brackets:
		return w.Say("look.brackets")
	}
	return ""
}
