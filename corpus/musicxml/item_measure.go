package musicxml

import (
	"encoding/xml"
	"fmt"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
	"fingerproof/corpus/wording"
)

// numberOne is an attribute that the standard takes for said.
var numberOne = xml.Attr{Name: xml.Name{Local: "number"}, Value: "1"}

// attributeItems reads what <attributes> puts on the page.
func (p *partReader) attributeItems(e *xmltree.Element) {
	line := 0
	add := func(kind score.ItemKind, c *xmltree.Element, reading string) {
		if line == 0 {
			line = p.place(e.Span.Start).Line
		}
		if hidden(c) {
			reading += ", not shown"
		}
		i := p.here(kind, reading, line)
		i.Staff = max(atoi(c.Attribute("number")), 0)
		p.add(i)
	}
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "clef":
			if c.Attribute("number") == "" { // the first staff (MusicXML 4.0, clef)
				c.Attributes = append(c.Attributes, numberOne)
			}
			add(score.ItemClef, c, clefWords(c))
			p.beyondStaves(c)
			if sign := c.Child("sign"); sign != nil && !clefSigns[sign.Trimmed()] {
				p.unreadable(-1, sign, "the sign of the clef", "the notes are read by their pitches")
			}
		case "key":
			add(score.ItemKey, c, keyWords(c))
		case "time":
			add(score.ItemMetre, c, metreWords(c))
		case "staves":
			add(score.ItemStaff, c, wording.Count(atoi(c.Trimmed()), "stave"))
		case "staff-details":
			number, words := max(atoi(c.Attribute("number")), 1), staffWords(c)
			if was := p.staffHidden[number]; c.Attribute("print-object") != "" && was != hidden(c) {
				if p.staffHidden == nil {
					p.staffHidden = map[int]bool{}
				}
				p.staffHidden[number] = hidden(c)
				if words == "" {
					words = "staff" // with all that stands on it
				}
				if was {
					words += " shown again"
				}
			}
			if words != "" {
				add(score.ItemStaff, c, words)
			}
		case "directive":
			if words := plain(c.Text); words != "" {
				add(score.ItemWords, c, words)
			}
		case "measure-style":
			if c.First != nil {
				add(score.ItemMeasureSign, c, describe(c.First))
			}
		}
	}
}

// transpositionItem keeps how far a staff sounds from what is written, where that is not in force already.
func (p *partReader) transpositionItem(c *xmltree.Element, semitones int) {
	staff := max(atoi(c.Attribute("number")), 0)
	if p.transposed(staff) == semitones {
		return
	}
	reading := "sounds as written"
	switch {
	case semitones > 0:
		reading = "sounds " + wording.Count(semitones, "semitone") + " higher than written"
	case semitones < 0:
		reading = "sounds " + wording.Count(-semitones, "semitone") + " lower than written"
	}
	i := p.here(score.ItemTransposition, reading, p.place(c.Span.Start).Line)
	i.Staff = staff
	p.add(i)
}

// beyondStaves notes a clef for a staff that the part does not have.
func (p *partReader) beyondStaves(clef *xmltree.Element) {
	if n := atoi(clef.Attribute("number")); p.declared > 0 && n > p.declared {
		p.odd(score.OddValue, -1, p.part, p.measure, p.place(clef.Span.Start).Line,
			"the clef is one for staff %d, and the part has %d; nothing is under it", n, p.declared)
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

func clefWords(e *xmltree.Element) string {
	sign, on := e.ChildText("sign"), e.ChildText("line")
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
	switch n := atoi(e.ChildText("clef-octave-change")); {
	case n < 0:
		words += fmt.Sprintf(", %d below", 1-7*n)
	case n > 0:
		words += fmt.Sprintf(", %d above", 1+7*n)
	}
	return words
}

func keyWords(e *xmltree.Element) string {
	if f := e.Child("fifths"); f != nil {
		switch n := atoi(f.Trimmed()); {
		case n < 0:
			return wording.Count(-n, "flat")
		case n > 0:
			return wording.Count(n, "sharp")
		}
		return "no sharps or flats"
	}
	var out []string
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "key-step":
			out = append(out, c.Trimmed())
		case "key-alter", "key-accidental":
			out = append(out, spaced(c.Trimmed()))
		}
	}
	return "key of its own: " + strings.Join(out, " ")
}

func metreWords(e *xmltree.Element) string {
	var parts []string
	beats := ""
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "senza-misura":
			parts = append(parts, strings.TrimSpace("senza misura "+c.Trimmed()))
		case "beats":
			beats = c.Trimmed()
		case "beat-type":
			parts = append(parts, beats+"/"+c.Trimmed())
		case "interchangeable":
			parts = append(parts, "("+content(c)+")")
		}
	}
	words := strings.Join(parts, "+")
	switch symbol := e.Attribute("symbol"); symbol {
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
func staffWords(e *xmltree.Element) string {
	var out []string
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "staff-type":
			if t := c.Trimmed(); t != "regular" {
				out = append(out, t+" staff")
			}
		case "staff-lines":
			if n := atoi(c.Trimmed()); n != usualLines {
				out = append(out, wording.Count(n, "line"))
			}
		case "staff-size":
		case "line-detail":
			if hidden(c) {
				out = append(out, "line "+c.Attribute("line")+" not shown")
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
func (p *partReader) barlineItems(e *xmltree.Element) {
	line := p.place(e.Span.Start).Line
	i := p.here("", "", line)
	location := e.Attribute("location")
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
	style, repeated := e.ChildText("bar-style"), ""
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "repeat":
			repeated = c.Attribute("direction")
			reading := "sign to repeat from"
			if repeated == "backward" {
				reading = "sign to repeat back"
				if n := atoi(c.Attribute("times")); n > 2 {
					reading += fmt.Sprintf(", %d times", n)
				}
			}
			if wings := c.Attribute("winged"); wings != "" && wings != "none" {
				reading += ", with wings"
			}
			add(score.ItemRepeat, reading)
		case "ending":
			p.endingItem(c, line)
		case "fermata":
			add(score.ItemFermata, fermataWords(c))
		case "segno", "coda":
			add(score.ItemJump, c.Name+" sign")
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
func (p *partReader) endingItem(e *xmltree.Element, line int) {
	number := e.Attribute("number")
	i := p.here(score.ItemEnding, "ending "+strings.Join(strings.Fields(strings.ReplaceAll(number, ",", " ")), ", "), line)
	names := i.Reading
	if text := plain(e.Text); text != "" && strings.Trim(text, ". ") != strings.Trim(number, ". ") {
		i.Reading += " (" + text + ")"
	}
	if e.Attribute("type") == "start" {
		p.closeHiddenEnding()
	}
	if hidden(e) {
		p.hiddenEndings = true
		if e.Attribute("type") == "start" {
			p.hiddenEnding = &i
		} else {
			p.hiddenEnding = nil
		}
		return
	}
	if e.Attribute("type") != "start" {
		p.hiddenEnding = nil
	}
	switch e.Attribute("type") {
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
	if last := len(p.lines) - 1; e.Attribute("type") != "start" && strings.TrimSpace(number) != "" {
		p.lines[last].names = names
	}
}

// closeHiddenEnding notes an ending whose bracket is not shown and that has no end where the next begins, or the part is over.
func (p *partReader) closeHiddenEnding() {
	if i := p.hiddenEnding; i != nil {
		p.odd(score.OddEnding, -1, i.Part, i.Measure, i.Line, "%s begins here, its bracket not shown, and has no end", i.Reading)
	}
	p.hiddenEnding = nil
}

// printItems reads where pages and systems break and how measures are numbered.
func (p *partReader) printItems(e *xmltree.Element) {
	i := p.here("", "", p.place(e.Span.Start).Line)
	i.Onset = score.Fraction{}
	switch {
	case e.Attribute("new-page") == "yes":
		i.Kind, i.Reading = score.ItemPageBreak, "new page"
		p.add(i)
	case e.Attribute("new-system") == "yes":
		i.Kind, i.Reading = score.ItemSystemBreak, "new system"
		p.add(i)
	}
	if c := e.Child("measure-numbering"); c != nil {
		i.Kind, i.Reading = score.ItemMeasureNumbering, c.Trimmed()
		p.add(i)
	}
}

// harmonyItem reads a chord symbol.
func (p *partReader) harmonyItem(e *xmltree.Element) {
	if hidden(e) {
		return
	}
	i := p.here(score.ItemChordSymbol, content(e), p.place(e.Span.Start).Line)
	i.Staff, i.Side = max(atoi(e.ChildText("staff")), 1), sideOf(e)
	p.add(i)
}

// figuresItem reads figured bass.
func (p *partReader) figuresItem(e *xmltree.Element) {
	if hidden(e) {
		return
	}
	var figures []string
	for c := e.First; c != nil; c = c.Next {
		if c.Name == "figure" {
			figures = append(figures, content(c))
		}
	}
	i := p.here(score.ItemFiguredBass, strings.Join(figures, ", "), p.place(e.Span.Start).Line)
	i.Side = sideOf(e)
	p.add(i)
}
