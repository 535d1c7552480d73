package main

import (
	"strconv"

	"github.com/beevik/etree"
)

// event writes a note, the notes of a chord, a rest, or moves on over an empty place.
func (w *scoreWriter) event(e *Event, v *Voice) {
	if e.Kind == space {
		forward := w.measure.CreateElement("forward")
		add(forward, "duration", w.ticks(e.Ticks))
		add(forward, "voice", strconv.Itoa(v.Number))
		add(forward, "staff", strconv.Itoa(e.Staff))
		return
	}
	if e.Kind == rest {
		w.note(e, v, nil, 0)
	}
	for i, note := range e.Notes {
		w.note(e, v, note, i)
	}
}

// note writes one note element, in the order of children the schema asks for.
func (w *scoreWriter) note(e *Event, v *Voice, note *Tone, index int) {
	w.notes++
	element := add(w.measure, "note", "", "id", "n"+strconv.Itoa(w.notes))
	if e.Grace == slashedGrace {
		add(element, "grace", "", "slash", "yes")
	} else if e.Grace == plainGrace {
		element.CreateElement("grace")
	}
	if index > 0 {
		element.CreateElement("chord")
	}
	if note == nil {
		silence := element.CreateElement("rest")
		if e.WholeMeasure {
			silence.CreateAttr("measure", "yes")
		}
	} else {
		pitch := element.CreateElement("pitch")
		add(pitch, "step", string(stepLetters[note.Pitch.Step]-'a'+'A'))
		if note.Pitch.Alter != 0 {
			add(pitch, "alter", strconv.Itoa(note.Pitch.Alter))
		}
		add(pitch, "octave", strconv.Itoa(note.Pitch.Octave))
	}
	if e.Grace == noGrace {
		add(element, "duration", w.ticks(e.Ticks))
	}
	if note != nil && note.Tied {
		add(element, "tie", "", "type", "stop")
	}
	if note != nil && note.Tie {
		add(element, "tie", "", "type", "start")
	}
	add(element, "voice", strconv.Itoa(v.Number))
	if !e.WholeMeasure {
		add(element, "type", e.Type)
	}
	for range e.Dots {
		element.CreateElement("dot")
	}
	if note != nil && note.Sign != "" {
		add(element, "accidental", note.Sign)
	}
	if e.Tuplet != nil {
		modification := element.CreateElement("time-modification")
		add(modification, "actual-notes", strconv.Itoa(e.Tuplet.Actual))
		add(modification, "normal-notes", strconv.Itoa(e.Tuplet.Normal))
	}
	if e.Stem != "" {
		add(element, "stem", e.Stem)
	}
	add(element, "staff", strconv.Itoa(e.Staff))
	if index == 0 {
		for level, beam := range e.Beams {
			add(element, "beam", beam, "number", strconv.Itoa(level+1))
		}
	}
	w.notations(element, e, v, note, index)
}

// markElement says where a mark stands within notations, and its element.
var markElement = map[string][2]string{
	"trill": {"ornaments", "trill-mark"}, "trill#": {"ornaments", "trill-mark"}, "trillb": {"ornaments", "trill-mark"},
	"trilln": {"ornaments", "trill-mark"}, "turn": {"ornaments", "turn"}, "mordent": {"ornaments", "mordent"},
	"upper": {"ornaments", "inverted-mordent"}, "staccato": {"articulations", "staccato"},
	"tenuto": {"articulations", "tenuto"},
	"accent": {"articulations", "accent"}, "staccatissimo": {"articulations", "staccatissimo"},
	"marcato": {"articulations", "strong-accent"}, "breath": {"articulations", "breath-mark"},
	"fermata": {"", "fermata"},
}

var trillSign = map[string]string{"trill#": "sharp", "trillb": "flat", "trilln": "natural"}

func (w *scoreWriter) notations(element *etree.Element, e *Event, v *Voice, note *Tone, index int) {
	notations := etree.NewElement("notations")
	groups := map[string]*etree.Element{}
	inGroup := func(group string) *etree.Element {
		if groups[group] == nil {
			groups[group] = notations.CreateElement(group)
		}
		return groups[group]
	}
	if note != nil && note.Tied {
		add(notations, "tied", "", "type", "stop")
	}
	if note != nil && note.Tie {
		add(notations, "tied", "", "type", "start")
	}
	if index == 0 {
		for number := 1; number <= 2; number++ {
			identity := strconv.Itoa(2*(v.Number-1) + number)
			if e.SlurEnd[number] {
				add(notations, "slur", "", "type", "stop", "number", identity)
			}
			if e.SlurStart[number] {
				slur := add(notations, "slur", "", "type", "start", "number", identity)
				if e.SlurSide != "" {
					slur.CreateAttr("placement", e.SlurSide)
				}
			}
		}
		if e.TupletStart {
			add(
				notations, "tuplet", "", "type", "start", "bracket",
				map[bool]string{true: "no", false: "yes"}[len(e.Beams) > 0],
			)
		}
		if e.TupletEnd {
			add(notations, "tuplet", "", "type", "stop")
		}
		for _, mark := range e.Marks {
			place, known := markElement[mark]
			switch {
			case !known: // stems and rolled chords stand elsewhere
			case place[0] == "":
				add(notations, place[1], "", "type", "upright")
			default:
				add(inGroup(place[0]), place[1], "")
				if sign := trillSign[mark]; sign != "" {
					add(inGroup(place[0]), "accidental-mark", sign, "placement", "above")
				}
			}
		}
	}
	if note != nil {
		w.fingers(inGroup, note, v)
	}
	for _, mark := range e.Marks {
		if mark == "arp" {
			notations.CreateElement("arpeggiate")
		}
	}
	if len(notations.ChildElements()) > 0 {
		element.AddChild(notations)
	}
}

// fingers writes the digits, for a witness in old numbering with + for the thumb and one less for the others (common
// practice of older English prints; from memory).
func (w *scoreWriter) fingers(inGroup func(string) *etree.Element, note *Tone, v *Voice) {
	placement := "above"
	if v.Staff == 2 || v.Number == 2 {
		placement = "below"
	}
	for _, finger := range note.Fingers {
		text := strconv.Itoa(finger.Digit)
		if w.witness != nil && w.witness.OldNumbering {
			text = strconv.Itoa(finger.Digit - 1)
			if finger.Digit == 1 {
				text = "+"
			}
		}
		element := add(inGroup("technical"), "fingering", text)
		if finger.Substitution {
			element.CreateAttr("substitution", "yes")
		}
		if finger.Alternate {
			element.CreateAttr("alternate", "yes")
		}
		element.CreateAttr("placement", placement)
	}
}
