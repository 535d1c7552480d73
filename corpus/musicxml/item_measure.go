package musicxml

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
)

// attributeItems reads what <attributes> puts on the page.
func (p *partReader) attributeItems(e *element) {
	line := 0
	add := func(kind score.ItemKind, c *element, reading string) {
		if line == 0 {
			line = p.place(e.span.start).Line
		}
		if hidden(c) {
			reading += ", not shown"
		}
		i := p.here(kind, reading, line)
		i.Staff = max(atoi(c.attribute("number")), 0)
		p.add(i)
	}
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "clef":
			if c.attribute("number") == "" { // the first staff (MusicXML 4.0, clef)
				c.attributes = append(c.attributes, numberOne)
			}
			add(score.ItemClef, c, clefWords(c))
			if sign := c.child("sign"); sign != nil && !clefSigns[sign.trimmed()] {
				p.unreadable(-1, sign, "the sign of the clef", "the notes are read by their pitches")
			}
		case "key":
			add(score.ItemKey, c, keyWords(c))
		case "time":
			add(score.ItemMetre, c, metreWords(c))
		case "staves":
			add(score.ItemStaff, c, wording.Count(atoi(c.trimmed()), "stave"))
		case "staff-details":
			if words := staffWords(c); words != "" {
				add(score.ItemStaff, c, words)
			}
		case "measure-style":
			if c.first != nil {
				add(score.ItemMeasureSign, c, describe(c.first))
			}
		}
	}
}

// clefNames are the clefs that have names, by sign and line.
var clefNames = map[string]string{
	"G2": "treble clef", "F4": "bass clef", "C3": "alto clef", "C4": "tenor clef", "C1": "soprano clef",
	"C2": "mezzo-soprano clef", "F3": "baritone clef", "G1": "French violin clef",
}

// clefSigns are the signs that a clef may have (MusicXML 4.0, clef-sign).
var clefSigns = map[string]bool{
	"G": true, "F": true, "C": true, "percussion": true, "TAB": true, "jianpu": true, "none": true,
}

// clefLines are the lines of clefs that name none (MusicXML 4.0, clef).
var clefLines = map[string]string{"G": "2", "F": "4", "C": "3"}

func clefWords(e *element) string {
	sign, on := e.childText("sign"), e.childText("line")
	if on == "" {
		on = clefLines[sign]
	}
	words, known := clefNames[sign+on]
	switch {
	case known:
	case on != "" && clefLines[sign] != "":
		words = sign + " clef on line " + on
	default:
		words = sign + " clef"
	}
	switch n := atoi(e.childText("clef-octave-change")); {
	case n < 0:
		words += fmt.Sprintf(", %d below", 1-7*n)
	case n > 0:
		words += fmt.Sprintf(", %d above", 1+7*n)
	}
	return words
}

func keyWords(e *element) string {
	if f := e.child("fifths"); f != nil {
		switch n := atoi(f.trimmed()); {
		case n < 0:
			return wording.Count(-n, "flat")
		case n > 0:
			return wording.Count(n, "sharp")
		}
		return "no sharps or flats"
	}
	var out []string
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "key-step":
			out = append(out, c.trimmed())
		case "key-alter", "key-accidental":
			out = append(out, spaced(c.trimmed()))
		}
	}
	return "key of its own: " + strings.Join(out, " ")
}

func metreWords(e *element) string {
	var parts []string
	beats := ""
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "senza-misura":
			parts = append(parts, strings.TrimSpace("senza misura "+c.trimmed()))
		case "beats":
			beats = c.trimmed()
		case "beat-type":
			parts = append(parts, beats+"/"+c.trimmed())
		case "interchangeable":
			parts = append(parts, "("+content(c)+")")
		}
	}
	words := strings.Join(parts, "+")
	switch symbol := e.attribute("symbol"); symbol {
	case "", "normal":
	case "common":
		words = "C"
	case "cut":
		words = "C|"
	default:
		words += ", as " + spaced(symbol)
	}
	return words
}

// usualLines is how many lines a staff has (MusicXML 4.0, staff-lines).
const usualLines = 5

// staffWords describes a staff where it is not the usual one.
func staffWords(e *element) string {
	var out []string
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "staff-type":
			if t := c.trimmed(); t != "regular" {
				out = append(out, t+" staff")
			}
		case "staff-lines":
			if n := atoi(c.trimmed()); n != usualLines {
				out = append(out, wording.Count(n, "line"))
			}
		case "staff-size":
		case "line-detail":
			if hidden(c) {
				out = append(out, "line "+c.attribute("line")+" not shown")
			}
		default:
			out = append(out, describe(c))
		}
	}
	return strings.Join(out, ", ")
}

// barlineWords are the looks of barlines (MusicXML 4.0, bar-style).
var barlineWords = map[string]string{
	"light-light": "double barline", "light-heavy": "final barline", "heavy-light": "heavy and light barline",
	"heavy-heavy": "double heavy barline", "none": "no barline",
}

// barlineItems reads a barline with what belongs to it.
func (p *partReader) barlineItems(e *element) {
	line := p.place(e.span.start).Line
	i := p.here("", "", line)
	location := e.attribute("location")
	if location == "left" {
		i.Onset = score.Fraction{}
	}
	add := func(kind score.ItemKind, reading string) {
		if location != "left" && location != "middle" {
			p.atEnd = append(p.atEnd, len(p.score.Items))
		}
		i.Kind, i.Reading = kind, reading
		p.add(i)
	}
	style, repeated := e.childText("bar-style"), ""
	for c := e.first; c != nil; c = c.next {
		switch c.name {
		case "repeat":
			repeated = c.attribute("direction")
			reading := "sign to repeat from"
			if repeated == "backward" {
				reading = "sign to repeat back"
				if n := atoi(c.attribute("times")); n > 2 {
					reading += fmt.Sprintf(", %d times", n)
				}
			}
			add(score.ItemRepeat, reading)
		case "ending":
			p.endingItem(c, line)
		case "fermata":
			add(score.ItemFermata, fermataWords(c))
		case "segno", "coda":
			add(score.ItemJump, c.name+" sign")
		case "wavy-line":
			add(score.ItemNotation, "wavy line")
		}
	}
	// Files may leave out what a sign of repetition looks like.
	usual := repeated == "forward" && style == "heavy-light" || repeated == "backward" && style == "light-heavy"
	if style != "" && style != "regular" && !usual {
		words := barlineWords[style]
		if words == "" {
			words = style + " barline"
		}
		add(score.ItemBarline, words)
	}
}

// endingItem follows an ending from its beginning to its end.
func (p *partReader) endingItem(e *element, line int) {
	number := e.attribute("number")
	i := p.here(score.ItemEnding, "ending "+strings.Join(strings.Fields(strings.ReplaceAll(number, ",", " ")), ", "), line)
	if text := plain(e.text); text != "" && strings.Trim(text, ". ") != strings.Trim(number, ". ") {
		i.Reading += " (" + text + ")"
	}
	if hidden(e) {
		p.hiddenEndings = true
		return
	}
	switch e.attribute("type") {
	case "start":
		i.Onset = score.Fraction{}
		p.openLine("", i)
	case "discontinue":
		i.Reading, i.Onset = leftOpen, atMeasureEnd
		p.closeLine("", i)
	default:
		i.Reading, i.Onset = "end of an ending", atMeasureEnd
		p.closeLine("", i)
	}
}

// printItems reads where pages and systems break and how measures are numbered.
func (p *partReader) printItems(e *element) {
	i := p.here("", "", p.place(e.span.start).Line)
	i.Onset = score.Fraction{}
	switch {
	case e.attribute("new-page") == "yes":
		i.Kind, i.Reading = score.ItemPageBreak, "new page"
		p.add(i)
	case e.attribute("new-system") == "yes":
		i.Kind, i.Reading = score.ItemSystemBreak, "new system"
		p.add(i)
	}
	if c := e.child("measure-numbering"); c != nil {
		i.Kind, i.Reading = score.ItemMeasureNumbering, c.trimmed()
		p.add(i)
	}
}

// harmonyItem reads a chord symbol.
func (p *partReader) harmonyItem(e *element) {
	if hidden(e) {
		return
	}
	i := p.here(score.ItemChordSymbol, content(e), p.place(e.span.start).Line)
	i.Staff, i.Side = max(atoi(e.childText("staff")), 1), sideOf(e)
	p.add(i)
}

// figuresItem reads figured bass.
func (p *partReader) figuresItem(e *element) {
	if hidden(e) {
		return
	}
	var figures []string
	for c := e.first; c != nil; c = c.next {
		if c.name == "figure" {
			figures = append(figures, content(c))
		}
	}
	i := p.here(score.ItemFiguredBass, strings.Join(figures, ", "), p.place(e.span.start).Line)
	i.Side = sideOf(e)
	p.add(i)
}
