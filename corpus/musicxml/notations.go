package musicxml

import (
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
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
func (p *partReader) notations(n *score.Note, lay *noteLayout, e *xmltree.Element) {
	level := e.ChildText("level")
	enclosure := score.NoEnclosure // of what the layer says of a sign of its own
	for c := e.First; c != nil; c = c.Next {
		switch {
		case c.Name == "level" && c.Attribute("bracket") == "yes":
			enclosure = score.Brackets
		case c.Name == "level" && c.Attribute("parentheses") == "yes":
			enclosure = score.Parentheses
		}
	}
	hidden := e.Attribute("print-object") == "no"
	first := e.Span == lay.notations
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "tied":
			n.TieStart = n.TieStart || c.Attribute("type") == "start"
			n.TieStop = n.TieStop || c.Attribute("type") == "stop"
			if look := c.Attribute("line-type"); look != "solid" && c.Attribute("type") == "start" {
				n.TieLook = look
			}
		case "slur":
			p.slur(n, c)
		case "fermata":
			n.Marks |= score.Fermata
		case "glissando", "slide":
			n.Marks |= score.Glissando
		case "arpeggiate":
			n.Arpeggio.Rolled, n.Arpeggio.Number = true, atoi(c.Attribute("number"))
			lay.roll = c.Span
			n.Arpeggio.Down, n.Arpeggio.Enclosure = c.Attribute("direction") == "down", enclosure
		case "non-arpeggiate":
			n.Arpeggio.NonRolled = true
		case "articulations":
			for a := c.First; a != nil; a = a.Next {
				n.Marks |= articulationMarks[a.Name]
			}
		case "ornaments":
			ornaments(n, c)
		case "technical":
			if first && !lay.technical.Exists() {
				lay.technical = c.Span
			}
			for t := c.First; t != nil; t = t.Next {
				if t.Name == "fingering" {
					lay.fingers = append(lay.fingers, t.Span)
					ind := fingering(t)
					ind.Level, ind.Hidden = level, hidden
					at := p.place(t.Span.Start)
					ind.Line, ind.Column = at.Line, at.Column
					n.Indications = append(n.Indications, ind)
				}
			}
		}
	}
}

func (p *partReader) slur(n *score.Note, c *xmltree.Element) {
	kind := c.Attribute("type")
	if kind != "start" && kind != "stop" {
		return
	}
	number := atoi(c.Attribute("number"))
	if number == 0 {
		number = 1
	}
	look := c.Attribute("line-type")
	if look == "solid" {
		look = ""
	}
	n.Slurs = append(n.Slurs, score.Slur{Number: number, Start: kind == "start", Look: look,
		Above: c.Attribute("placement") == "above" || c.Attribute("orientation") == "over"})
}

func ornaments(n *score.Note, e *xmltree.Element) {
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "tremolo":
			t := score.Tremolo{Strokes: atoi(c.Trimmed())}
			switch c.Attribute("type") {
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
				n.Ornaments[k-1].Accidental, n.Ornaments[k-1].HasAccidental = accidentalSemitones(c.Trimmed()), true
			}
		default:
			if kind, known := ornamentNames[c.Name]; known {
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
func fingering(e *xmltree.Element) score.Indication {
	ind := score.Indication{
		Text: e.Text, Substitution: e.Attribute("substitution") == "yes", Alternate: e.Attribute("alternate") == "yes",
		Style: score.Style{
			Italic: e.Attribute("font-style") == "italic", Bold: e.Attribute("font-weight") == "bold",
			Size: e.Attribute("font-size"), Colour: e.Attribute("color"),
		},
	}
	switch e.Attribute("placement") {
	case "above":
		ind.Placement = score.Above
	case "below":
		ind.Placement = score.Below
	}
	text := e.Text
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
