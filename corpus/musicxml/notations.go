package musicxml

import (
	"strings"

	"fingerproof/corpus/score"
)

var articulationMarks = map[string]score.Marks{
	"staccato": score.Staccato, "staccatissimo": score.Staccatissimo, "spiccato": score.Staccatissimo,
	"tenuto": score.Tenuto, "accent": score.Accent, "strong-accent": score.StrongAccent,
	"detached-legato": score.DetachedLegato, "breath-mark": score.BreathMark, "caesura": score.BreathMark,
}

var ornamentNames = map[string]string{
	"trill-mark": "trill", "turn": "turn", "delayed-turn": "turn", "vertical-turn": "turn",
	"inverted-turn": "inverted-turn", "delayed-inverted-turn": "inverted-turn", "inverted-vertical-turn": "inverted-turn",
	"mordent": "mordent", "inverted-mordent": "inverted-mordent", "schleifer": "schleifer", "shake": "trill",
	"wavy-line": "wavy-line", "haydn": "turn",
}

// notations reads what stands at a note.
func (p *partReader) notations(n *score.Note, lay *noteLayout, e *element) {
	level := e.childText("level")
	enclosure := score.NoEnclosure // of what the layer says of a sign of its own
	for c := e.first; c != nil; c = c.next {
		switch {
		case c.name == "level" && c.attribute("bracket") == "yes":
			enclosure = score.Brackets
		case c.name == "level" && c.attribute("parentheses") == "yes":
			enclosure = score.Parentheses
		}
	}
	hidden := e.attribute("print-object") == "no"
	first := e.span == lay.notations
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "tied":
			n.TieStart = n.TieStart || c.attribute("type") == "start"
			n.TieStop = n.TieStop || c.attribute("type") == "stop"
		case "slur":
			p.slur(n, c)
		case "fermata":
			n.Marks |= score.Fermata
		case "glissando", "slide":
			n.Marks |= score.Glissando
		case "arpeggiate":
			n.Arpeggio.Rolled, n.Arpeggio.Number = true, atoi(c.attribute("number"))
			n.Arpeggio.Down, n.Arpeggio.Enclosure = c.attribute("direction") == "down", enclosure
		case "non-arpeggiate":
			n.Arpeggio.NonRolled = true
		case "articulations":
			for a := c.first; a != nil; a = a.next {
				n.Marks |= articulationMarks[a.name]
			}
		case "ornaments":
			ornaments(n, c)
		case "technical":
			if first && !lay.technical.exists() {
				lay.technical = c.span
			}
			for t := c.first; t != nil; t = t.next {
				if t.name == "fingering" {
					lay.fingers = append(lay.fingers, t.span)
					ind := fingering(t)
					ind.Level, ind.Hidden = level, hidden
					at := p.place(t.span.start)
					ind.Line, ind.Column = at.Line, at.Column
					n.Indications = append(n.Indications, ind)
				}
			}
		}
	}
}

func (p *partReader) slur(n *score.Note, c *element) {
	kind := c.attribute("type")
	if kind != "start" && kind != "stop" {
		return
	}
	number := atoi(c.attribute("number"))
	if number == 0 {
		number = 1
	}
	look := c.attribute("line-type")
	if look == "solid" {
		look = ""
	}
	n.Slurs = append(n.Slurs, score.Slur{Number: number, Start: kind == "start", Look: look,
		Above: c.attribute("placement") == "above" || c.attribute("orientation") == "over"})
}

func ornaments(n *score.Note, e *element) {
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "tremolo":
			t := score.Tremolo{Strokes: atoi(c.trimmed())}
			switch c.attribute("type") {
			case "start":
				t.Start = true
			case "stop":
				t.Stop = true
			case "unmeasured":
				t.Unmeasured = true
			}
			n.Tremolo = t
		case "accidental-mark":
			if k := len(n.Ornaments); k > 0 {
				n.Ornaments[k-1].Accidental, n.Ornaments[k-1].HasAccidental = accidentalSemitones(c.trimmed()), true
			}
		default:
			if kind, known := ornamentNames[c.name]; known {
				n.Ornaments = append(n.Ornaments, score.Ornament{Kind: kind})
			}
		}
	}
}

func accidentalSemitones(s string) int8 {
	switch s {
	case "sharp":
		return 1
	case "flat":
		return -1
	case "double-sharp", "sharp-sharp":
		return 2
	case "flat-flat", "double-flat":
		return -2
	}
	return 0
}

// fingering reads one digit, or a row of digits, with its looks.
func fingering(e *element) score.Indication {
	ind := score.Indication{
		Text: e.text, Substitution: e.attribute("substitution") == "yes", Alternate: e.attribute("alternate") == "yes",
		Style: score.Style{
			Italic: e.attribute("font-style") == "italic", Bold: e.attribute("font-weight") == "bold",
			Size: e.attribute("font-size"), Colour: e.attribute("color"),
		},
	}
	switch e.attribute("placement") {
	case "above":
		ind.Placement = score.Above
	case "below":
		ind.Placement = score.Below
	}
	text := e.text
	for _, sign := range []string{"[", "\uED23"} { // a bracket beside the digit: it takes several keys (FACTS §5.4)
		if one, is := strings.CutSuffix(strings.TrimSpace(text), sign); is && strings.TrimSpace(one) != "" {
			text, ind.Several = one, true
		}
	}
	ind.Fingers, ind.Style.Enclosure, ind.Old = parseFingers(text)
	return ind
}

// parseFingers reads the text of a fingering: digits 1 to 5, alone, in a row
// ("4-3", "3 4", "1/2"), enclosed, in other shapes of the same digits
// (full-width, SMuFL fingering glyphs U+ED10 and U+ED80). A + or 0 is the
// thumb or a rest of the old numbering: then there are no fingers, only old.
// Anything else is no finger.
func parseFingers(text string) (fingers []int, enclosure score.Enclosure, old bool) {
	s := strings.TrimSpace(text)
	for _, pair := range []struct {
		open, close string
		enclosure   score.Enclosure
	}{{"(", ")", score.Parentheses}, {"[", "]", score.Brackets}, {"\uED28", "\uED29", score.Parentheses}, {"\uED2A", "\uED2B", score.Brackets}} {
		if strings.HasPrefix(s, pair.open) && strings.HasSuffix(s, pair.close) && len(s) > len(pair.open) {
			s = strings.TrimSpace(s[len(pair.open) : len(s)-len(pair.close)])
			enclosure = pair.enclosure
			break
		}
	}
	separated := true
	for _, c := range s {
		switch {
		case c >= '1' && c <= '5':
			c -= '0'
		case c >= '１' && c <= '５':
			c -= '０'
		case c >= 0xED11 && c <= 0xED15:
			c -= 0xED10
		case c >= 0xED81 && c <= 0xED85:
			c -= 0xED80
		case c == '+' || c == 'x' || c == 'X' || c == '×':
			old, separated = true, false
			continue
		case strings.ContainsRune(" -–—‑/,.~|_‿⁀\u00a0\uED20\uED21\uED22\uED2C\uED2D\uED2E", c):
			separated = true
			continue
		default:
			return nil, enclosure, false
		}
		if !separated {
			return nil, enclosure, false // "33" is a slip, not a row
		}
		fingers, separated = append(fingers, int(c)), false
	}
	if old {
		return nil, enclosure, true
	}
	if len(fingers) > 12 {
		return nil, enclosure, false
	}
	return fingers, enclosure, false
}
