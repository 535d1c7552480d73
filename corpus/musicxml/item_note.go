package musicxml

import (
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// noteItems reads what hangs on a note, once its place is known.
func (p *partReader) noteItems(e *xmltree.Element, n *score.Note, index int) {
	base := score.Item{
		Part: p.part, Measure: p.measure, Onset: n.Onset, Staff: n.Staff, Note: index, Line: n.Line,
	}
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "accidental":
			p.put(base, score.ItemAccidental, accidentalWords(c), c)
		case "notehead":
			if words := noteheadWords(c); words != "" {
				p.put(base, score.ItemNotehead, words, nil)
			}
		case "type":
			if size := c.Attribute("size"); size == "cue" || size == "grace-cue" && n.Grace == 0 {
				p.put(base, score.ItemNotehead, "small", nil)
			}
		case "beam":
			if fan := c.Attribute("fan"); fan != "" && fan != "none" {
				p.put(base, score.ItemNotation, "feathered beam ("+plain(fan)+")", nil)
			}
		case "notehead-text":
			p.put(base, score.ItemNotehead, "letters "+content(c), nil)
		case "lyric":
			p.lyricItem(base, c)
			p.syllableSign(c, n.Voice)
		case "unpitched":
			words := "note"
			if line := c.ChildText("display-step") + c.ChildText("display-octave"); line != "" {
				words += " on the line of " + line
			}
			if n.Type != "" {
				words += ", " + n.Type
			}
			p.put(base, score.ItemUnpitched, words, nil)
		case "notations":
			if hidden(c) {
				p.hiddenTuplets(base.Note, c)
			} else {
				p.notationItems(base, c)
			}
		}
	}
	p.furtherIn(e, base)
}

// put keeps an item; e, where given, says on which side it stands and how it is set.
func (p *partReader) put(base score.Item, kind score.ItemKind, reading string, e *xmltree.Element) {
	base.Kind, base.Reading = kind, reading
	if e != nil {
		base.Reading += enclosedWords(e)
		base.Side = sideOf(e)
	}
	p.add(base)
}

// enclosedWords says how a sign is enclosed, in MEI's words.
func enclosedWords(e *xmltree.Element) string {
	switch v := e.Attribute("enclose"); v {
	case "":
		return ""
	case "paren":
		return " in parentheses"
	case "brack":
		return " in brackets"
	default:
		return " in a " + plain(v)
	}
}

func accidentalWords(e *xmltree.Element) string {
	words := spaced(e.Trimmed())
	switch words {
	case "flat flat":
		words = "double flat"
	case "sharp sharp":
		words = "two sharps"
	}
	switch {
	case e.Attribute("parentheses") == "yes":
		words += " in parentheses"
	case e.Attribute("bracket") == "yes":
		words += " in brackets"
	case e.Attribute("cautionary") == "yes":
		words += ", courtesy"
	case e.Attribute("editorial") == "yes":
		words += ", editorial"
	}
	return words
}

// noteheadWords describes a head that is not the usual one.
func noteheadWords(e *xmltree.Element) string {
	words := spaced(e.Trimmed())
	if words == "normal" {
		words = ""
	}
	if v := e.Attribute("filled"); v != "" {
		words += map[string]string{"yes": " filled", "no": " open"}[v]
	}
	if e.Attribute("parentheses") == "yes" {
		words += " in parentheses"
	}
	words += enclosedWords(e)
	return strings.TrimSpace(words)
}

// lyricItem reads the syllable of one verse: "Freu-", "verse 2: Welt", "ah _".
func (p *partReader) lyricItem(base score.Item, e *xmltree.Element) {
	if hidden(e) {
		return
	}
	var b strings.Builder
	broken, extended := false, false
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "text":
			b.WriteString(c.Text)
		case "elision":
			b.WriteString("‿")
		case "syllabic":
			broken = c.Trimmed() == "begin" || c.Trimmed() == "middle"
		case "extend":
			kind := c.Attribute("type")
			extended = kind == "" || kind == "start"
		case "laughing", "humming":
			b.WriteString("(" + c.Name + ")")
		}
	}
	words := plain(b.String())
	if words == "" {
		return
	}
	if broken {
		words += "-"
	}
	if extended {
		words += " _"
	}
	if n := e.Attribute("number"); n != "" && n != "1" {
		words = "verse " + n + ": " + words
	}
	base.Side = score.Below // where nothing else is said
	if sideOf(e) == score.Above {
		base.Side = score.Above
	}
	base.Kind, base.Reading = score.ItemLyric, words+enclosedWords(e)
	p.add(base)
}

func fermataWords(e *xmltree.Element) string {
	shape := spaced(e.Trimmed())
	if shape == "" || shape == "normal" {
		return "fermata"
	}
	return shape + " fermata"
}

// notationItems reads what stands at a note, but for slurs, ties and digits, which the note itself has.
func (p *partReader) notationItems(base score.Item, e *xmltree.Element) {
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "slur", "footnote", "level":
		case "tied":
			if c.Attribute("type") == "let-ring" {
				p.put(base, score.ItemLetRing, "let ring", c)
			}
		case "tuplet":
			p.tupletSign(base.Note, c)
			if c.Attribute("type") == "start" {
				p.put(base, score.ItemTuplet, tupletWords(c), c)
			}
		case "glissando", "slide":
			if c.Attribute("type") != "stop" {
				words := c.Name
				if look := c.Attribute("line-type"); look == "dashed" || look == "dotted" {
					words += ", " + look
				}
				if text := plain(c.Text); text != "" {
					words += " (" + text + ")"
				}
				p.put(base, score.ItemGlissando, words, nil)
			}
		case "ornaments":
			p.ornamentItems(base, c)
		case "technical":
			for t := c.First; t != nil; t = t.Next {
				if t.Name != "fingering" {
					p.put(base, score.ItemTechnical, describe(t), t)
				}
			}
		case "articulations":
			for a := c.First; a != nil; a = a.Next {
				p.put(base, score.ItemArticulation, articulationWords(a), a)
			}
		case "dynamics":
			p.put(base, score.ItemDynamics, dynamicsWords(c), c)
		case "fermata":
			at := base
			at.Side = map[string]score.Placement{"upright": score.Above, "inverted": score.Below}[c.Attribute("type")]
			p.put(at, score.ItemFermata, fermataWords(c)+enclosedWords(c), nil)
		case "arpeggiate":
			words := "rolled"
			switch c.Attribute("direction") {
			case "down":
				words = "rolled downwards"
			case "up":
				words = "rolled, with an arrow upwards"
			}
			p.put(base, score.ItemArpeggio, words, nil)
		case "non-arpeggiate":
			p.put(base, score.ItemArpeggio, "bracket: not rolled", nil)
		case "accidental-mark":
			p.put(base, score.ItemNotation, accidentalWords(c)+" over or under the note", c)
		default:
			if !hidden(c) {
				p.put(base, score.ItemNotation, describe(c), c)
			}
		}
	}
}

func articulationWords(e *xmltree.Element) string {
	switch e.Name {
	case "detached-legato":
		return "portato"
	case "other-articulation":
		return plain(e.Text)
	}
	return spaced(e.Name)
}

// tupletWords says what numbers a tuplet shows. Whether it has a bracket, programs decide by themselves.
func tupletWords(e *xmltree.Element) string {
	words := "number of the tuplet"
	switch e.Attribute("show-number") {
	case "none":
		words = "no number"
	case "both":
		words = "both numbers of the tuplet"
	}
	if actual := e.ChildPath("tuplet-actual", "tuplet-number"); actual != "" {
		words += " " + actual
	}
	if v := e.Attribute("show-type"); v != "" && v != "none" {
		words += ", note values"
	}
	return words
}

// ornamentItems reads ornaments with the accidentals that belong to them. The
// line of a trill is layout; one without a trill is a sign of its own.
func (p *partReader) ornamentItems(base score.Item, e *xmltree.Element) {
	trilled := e.Child("trill-mark") != nil
	last := -1
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "accidental-mark":
			if words := accidentalWords(c); last >= 0 {
				if c.Attribute("placement") == "below" { // of a turn: it alters the lower note
					words += " below"
				}
				p.score.Items[last].Reading += " with " + words
			} else {
				p.put(base, score.ItemNotation, words+" over or under the note", c)
			}
			continue
		case "wavy-line":
			i := base
			i.Kind, i.Reading = score.ItemTrillLine, "trill line"
			if !trilled && c.Attribute("type") == "start" {
				i.Kind = score.ItemOrnament
			}
			p.line(c.Attribute("number"), c.Attribute("type"), i)
			if c.Attribute("type") != "start" {
				continue
			}
		case "tremolo":
			if words := tremoloWords(c); words != "" {
				p.put(base, score.ItemOrnament, words, nil)
			}
		case "trill-mark":
			p.put(base, score.ItemOrnament, "trill", c)
		case "other-ornament":
			p.put(base, score.ItemOrnament, plain(c.Text), c)
		default:
			p.put(base, score.ItemOrnament, ornamentWords(c), c)
		}
		last = len(p.score.Items) - 1
	}
}

// ornamentWords names an ornament with what makes it another one (MusicXML 4.0, mordent and turn).
func ornamentWords(e *xmltree.Element) string {
	words := spaced(e.Name)
	if e.Attribute("long") == "yes" {
		words = "long " + words
	}
	for _, name := range [...]string{"approach", "departure"} {
		if side := e.Attribute(name); side != "" {
			words += ", " + name + " from " + plain(side)
		}
	}
	if e.Attribute("slash") == "yes" {
		words += " with a slash"
	}
	return words
}

func tremoloWords(e *xmltree.Element) string {
	words := "tremolo"
	switch e.Attribute("type") {
	case "stop":
		return ""
	case "start":
		words = "tremolo between notes"
	case "unmeasured":
		return "unmeasured tremolo"
	}
	if n := e.Trimmed(); n != "" {
		words += ", " + n + " strokes"
	}
	return words
}
