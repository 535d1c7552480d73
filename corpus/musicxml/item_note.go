package musicxml

import (
	"strings"

	"fingerproof/corpus/score"
)

// noteItems reads what hangs on a note, once its place is known.
func (p *partReader) noteItems(e *element, n *score.Note, index int) {
	base := score.Item{
		Part: p.part, Measure: p.measure, Onset: n.Onset, Staff: n.Staff, Note: index, Line: n.Line,
	}
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "accidental":
			p.put(base, score.ItemAccidental, accidentalWords(c), c)
		case "notehead":
			if words := noteheadWords(c); words != "" {
				p.put(base, score.ItemNotehead, words, nil)
			}
		case "type":
			if size := c.attribute("size"); size == "cue" || size == "grace-cue" && n.Grace == 0 {
				p.put(base, score.ItemNotehead, "small", nil)
			}
		case "notehead-text":
			p.put(base, score.ItemNotehead, "letters "+content(c), nil)
		case "lyric":
			p.lyricItem(base, c)
		case "unpitched":
			words := "note"
			if line := c.childText("display-step") + c.childText("display-octave"); line != "" {
				words += " on the line of " + line
			}
			if n.Type != "" {
				words += ", " + n.Type
			}
			p.put(base, score.ItemUnpitched, words, nil)
		case "notations":
			if !hidden(c) {
				p.notationItems(base, c)
			}
		}
	}
}

// put keeps an item; e, where given, says on which side it stands and how it is set.
func (p *partReader) put(base score.Item, kind score.ItemKind, reading string, e *element) {
	base.Kind, base.Reading = kind, reading
	if e != nil {
		base.Side = sideOf(e)
	}
	p.add(base)
}

func accidentalWords(e *element) string {
	words := spaced(e.trimmed())
	switch words {
	case "flat flat":
		words = "double flat"
	case "sharp sharp":
		words = "two sharps"
	}
	switch {
	case e.attribute("parentheses") == "yes":
		words += " in parentheses"
	case e.attribute("bracket") == "yes":
		words += " in brackets"
	case e.attribute("cautionary") == "yes":
		words += ", courtesy"
	case e.attribute("editorial") == "yes":
		words += ", editorial"
	}
	return words
}

// noteheadWords describes a head that is not the usual one.
func noteheadWords(e *element) string {
	words := spaced(e.trimmed())
	if words == "normal" {
		words = ""
	}
	if v := e.attribute("filled"); v != "" {
		words += map[string]string{"yes": " filled", "no": " open"}[v]
	}
	if e.attribute("parentheses") == "yes" {
		words += " in parentheses"
	}
	return strings.TrimSpace(words)
}

// lyricItem reads the syllable of one verse: "Freu-", "verse 2: Welt", "ah _".
func (p *partReader) lyricItem(base score.Item, e *element) {
	if hidden(e) {
		return
	}
	var b strings.Builder
	broken, extended := false, false
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "text":
			b.WriteString(c.text)
		case "elision":
			b.WriteString("‿")
		case "syllabic":
			broken = c.trimmed() == "begin" || c.trimmed() == "middle"
		case "extend":
			kind := c.attribute("type")
			extended = kind == "" || kind == "start"
		case "laughing", "humming":
			b.WriteString("(" + c.name + ")")
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
	if n := e.attribute("number"); n != "" && n != "1" {
		words = "verse " + n + ": " + words
	}
	p.put(base, score.ItemLyric, words, e)
}

func fermataWords(e *element) string {
	shape := spaced(e.trimmed())
	if shape == "" || shape == "normal" {
		return "fermata"
	}
	return shape + " fermata"
}

// notationItems reads what stands at a note, but for slurs, ties and digits, which the note itself has.
func (p *partReader) notationItems(base score.Item, e *element) {
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "slur", "footnote", "level":
		case "tied":
			if c.attribute("type") == "let-ring" {
				p.put(base, score.ItemLetRing, "let ring", c)
			}
		case "tuplet":
			p.tupletSign(base.Note, c)
			if c.attribute("type") == "start" {
				p.put(base, score.ItemTuplet, tupletWords(c), c)
			}
		case "glissando", "slide":
			if c.attribute("type") != "stop" {
				words := c.name
				if text := plain(c.text); text != "" {
					words += " (" + text + ")"
				}
				p.put(base, score.ItemGlissando, words, nil)
			}
		case "ornaments":
			p.ornamentItems(base, c)
		case "technical":
			for t := c.first; t != nil; t = t.next {
				if t.name != "fingering" {
					p.put(base, score.ItemTechnical, describe(t), t)
				}
			}
		case "articulations":
			for a := c.first; a != nil; a = a.next {
				p.put(base, score.ItemArticulation, articulationWords(a), a)
			}
		case "dynamics":
			p.put(base, score.ItemDynamics, dynamicsWords(c), c)
		case "fermata":
			at := base
			at.Side = map[string]score.Placement{"upright": score.Above, "inverted": score.Below}[c.attribute("type")]
			p.put(at, score.ItemFermata, fermataWords(c), nil)
		case "arpeggiate":
			words := "rolled"
			if c.attribute("direction") == "down" {
				words = "rolled downwards"
			}
			p.put(base, score.ItemArpeggio, words, nil)
		case "non-arpeggiate":
			p.put(base, score.ItemArpeggio, "bracket: not rolled", nil)
		case "accidental-mark":
			p.put(base, score.ItemAccidental, accidentalWords(c)+" beside the note", c)
		default:
			if !hidden(c) {
				p.put(base, score.ItemNotation, describe(c), c)
			}
		}
	}
}

func articulationWords(e *element) string {
	switch e.name {
	case "detached-legato":
		return "portato"
	case "other-articulation":
		return plain(e.text)
	}
	return spaced(e.name)
}

// tupletWords says what numbers a tuplet shows. Whether it has a bracket, programs decide by themselves.
func tupletWords(e *element) string {
	words := "number of the tuplet"
	switch e.attribute("show-number") {
	case "none":
		words = "no number"
	case "both":
		words = "both numbers of the tuplet"
	}
	if actual := e.childPath("tuplet-actual", "tuplet-number"); actual != "" {
		words += " " + actual
	}
	if v := e.attribute("show-type"); v != "" && v != "none" {
		words += ", note values"
	}
	return words
}

// ornamentItems reads ornaments with the accidentals that belong to them. The
// line of a trill is layout; one without a trill is a sign of its own.
func (p *partReader) ornamentItems(base score.Item, e *element) {
	trilled := e.child("trill-mark") != nil
	last := -1
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "accidental-mark":
			if words := accidentalWords(c); last >= 0 {
				p.score.Items[last].Reading += " with " + words
			} else {
				p.put(base, score.ItemAccidental, words+" beside the note", c)
			}
			continue
		case "wavy-line":
			i := base
			i.Kind, i.Reading = score.ItemTrillLine, "trill line"
			if !trilled && c.attribute("type") == "start" {
				i.Kind = score.ItemOrnament
			}
			p.span(c.attribute("number"), c.attribute("type"), i)
			if c.attribute("type") != "start" {
				continue
			}
		case "tremolo":
			if words := tremoloWords(c); words != "" {
				p.put(base, score.ItemOrnament, words, nil)
			}
		case "trill-mark":
			p.put(base, score.ItemOrnament, "trill", c)
		case "other-ornament":
			p.put(base, score.ItemOrnament, plain(c.text), c)
		default:
			p.put(base, score.ItemOrnament, spaced(c.name), c)
		}
		last = len(p.score.Items) - 1
	}
}

func tremoloWords(e *element) string {
	words := "tremolo"
	switch e.attribute("type") {
	case "stop":
		return ""
	case "start":
		words = "tremolo between notes"
	case "unmeasured":
		return "unmeasured tremolo"
	}
	if n := e.trimmed(); n != "" {
		words += ", " + n + " strokes"
	}
	return words
}
