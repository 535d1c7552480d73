package engrave

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/beevik/etree"
)

// MusicXML gives measures first to last (from 0, both included) as a document of its own. Each fingering sign stands
// as one element, a substitution as two, so that an independent reader sees what the score says.
func (s *Sheet) MusicXML(first, last int) ([]byte, error) { return s.cut(first, last, false) }

// cut writes the measures as a document; joined writes a substitution as one sign, the way it is drawn.
func (s *Sheet) cut(first, last int, joined bool) ([]byte, error) {
	return s.cutAs(first, last, joined, false)
}

// cutAs does so, and where a piece of its own is wanted numbers the measures from 1 and shows their metre.
func (s *Sheet) cutAs(first, last int, joined, own bool) ([]byte, error) {
	if first < 0 || last < first || last >= s.Measures {
		return nil, fmt.Errorf("cutting measures %d to %d out of a score with %d", first, last, s.Measures)
	}
	document := etree.NewDocument()
	root := document.CreateElement("score-partwise")
	root.CreateAttr("version", "4.0")
	list := root.CreateElement("part-list")
	for _, part := range s.parts {
		scorePart := list.CreateElement("score-part")
		scorePart.CreateAttr("id", part.id)
		name := scorePart.CreateElement("part-name")
		if len(s.parts) > 1 {
			name.SetText(part.name) // a single part needs no label
		}
	}
	for _, part := range s.parts {
		target := root.CreateElement("part")
		target.CreateAttr("id", part.id)
		for index := first; index <= last && index < len(part.measures); index++ {
			measure := part.measures[index].Copy()
			s.writeDigits(measure, joined)
			if index == first && first > 0 {
				begin(measure, part.before[index], own)
			}
			if own {
				measure.CreateAttr("number", strconv.Itoa(index-first+1))
			}
			target.AddChild(measure)
		}
		if joined && first < len(part.slurs) {
			showOpenSlurs(target, part.slurs[first])
		}
	}
	text, err := document.WriteToBytes()
	if err != nil {
		return nil, fmt.Errorf("writing the engraving copy: %w", err)
	}
	return text, nil
}

// mostInMeasure is how many notes and signs of one measure are drawn: the engraver's work grows with their square. The
// longest unmeasured cadenzas have some hundreds.
const mostInMeasure = 600

// crowded gives the first of the measures first to last that has too much in it to be drawn, and how much; -1 for none.
func (s *Sheet) crowded(first, last int) (measure, things int) {
	for measure = first; measure <= last; measure++ {
		things = 0
		for _, part := range s.parts {
			if measure >= len(part.measures) {
				continue
			}
			for _, child := range part.measures[measure].ChildElements() {
				things++
				if note := s.note(child.SelectAttrValue("id", "")); note != nil {
					things += max(0, len(note.Digits)-1)
				}
			}
		}
		if things > mostInMeasure {
			return measure, things
		}
	}
	return -1, 0
}

// begin writes what is in force at the head of an excerpt's first measure, together with what that measure changes at
// once; the metre shows where the measure changes it, or where it is asked for.
func begin(measure *etree.Element, state running, ownTime bool) {
	none := map[string]int{}
	state = state.clone()
	for _, child := range measure.ChildElements() {
		if child.Tag == "note" || child.Tag == "backup" || child.Tag == "forward" {
			break
		}
		if child.Tag != "attributes" {
			continue
		}
		ownTime = ownTime || child.SelectElement("time") != nil
		for _, change := range child.ChildElements() {
			switch change.Tag {
			case "divisions", "staves", "time", "key", "clef", "transpose":
				state.take(change, 0, none)
				child.RemoveChild(change)
			}
		}
		if len(child.ChildElements()) == 0 {
			measure.RemoveChild(child)
		}
	}
	for i, element := range state.head(ownTime) {
		measure.InsertChildAt(i, element)
	}
}

// writeDigits puts the signs of the list back into the notes of a measure.
func (s *Sheet) writeDigits(measure *etree.Element, joined bool) {
	for _, element := range measure.SelectElements("note") {
		note := s.note(element.SelectAttrValue("id", ""))
		if note == nil || len(note.Digits) == 0 {
			continue
		}
		technical := notationsOf(element).CreateElement("technical")
		signs := note.Digits
		if joined {
			signs = note.joined()
		}
		for _, digit := range signs {
			fingering := technical.CreateElement("fingering")
			fingering.SetText(digit.Text)
			if digit.Placement != "" {
				fingering.CreateAttr("placement", digit.Placement)
			}
			if digit.Substitution {
				fingering.CreateAttr("substitution", "yes")
			}
			if digit.Alternative {
				fingering.CreateAttr("alternate", "yes")
			}
		}
	}
}

// notationsOf gives the notations of a note, made where it has none.
func notationsOf(note *etree.Element) *etree.Element {
	if has := note.SelectElement("notations"); has != nil {
		return has
	}
	notations := etree.NewElement("notations")
	place := len(note.Child)
	if lyric := note.SelectElement("lyric"); lyric != nil {
		place = lyric.Index()
	}
	note.InsertChildAt(place, notations)
	return notations
}

// joined makes one sign of a digit and the digit that takes over on the held key: "4–3". Over a trill the digits are those of
// its notes in turn, however the text writes them, and are drawn as such a row is: "2 3".
func (n *NoteMarks) joined() []DrawnDigit {
	between := "–"
	if n.Ornament {
		between = " "
	}
	var signs []DrawnDigit
	for _, digit := range n.Digits {
		if digit.Substitution && len(signs) > 0 {
			before := &signs[len(signs)-1]
			before.Text += between + digit.Text
			before.Boxed = before.Boxed || digit.Boxed
			continue
		}
		signs = append(signs, digit)
	}
	return signs
}

// note finds the entry of an id given by Copy.
func (s *Sheet) note(id string) *NoteMarks {
	index, err := strconv.Atoi(strings.TrimPrefix(id, "n"))
	if err != nil || index < 0 || index >= len(s.Notes) || s.Notes[index].ID != id {
		return nil
	}
	return &s.Notes[index]
}
