package engrave

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"
)

// accidentals writes the accidentals of a part in which the file prints none at all, though notes differ from the key:
// the engraver draws what is printed, and would show other notes than those that sound. In force is what the key
// says, and in a measure what was written before on the same line or space of the staff (common practice; MusicXML 4.0
// says that alter sounds and accidental is printed).
type accidentals struct {
	wanted bool
	fifths int
}

// printsNone says that a part has notes with an alteration, and no accidental.
func printsNone(part *etree.Element) bool {
	return part.FindElement("measure/note/accidental") == nil && part.FindElement("measure/note/pitch/alter") != nil
}

// through writes the accidentals of a measure; measures come in their order.
func (a *accidentals) through(measure *etree.Element) {
	if !a.wanted {
		return
	}
	type struck struct {
		note *etree.Element
		at   int64
	}
	var all []struck
	now, last := int64(0), int64(0)
	for _, child := range measure.ChildElements() {
		duration, _ := strconv.ParseInt(textOf(child.SelectElement("duration")), 10, 64)
		switch child.Tag {
		case "attributes":
			if f, err := strconv.Atoi(textOf(child.FindElement("key/fifths"))); err == nil {
				a.fifths = f
			}
		case "backup":
			now -= duration
		case "forward":
			now += duration
		case "note":
			if child.SelectElement("chord") == nil {
				last = now
				now += duration
			}
			if child.SelectElement("pitch") != nil {
				all = append(all, struck{child, last})
			}
		}
	}
	slices.SortStableFunc(all, func(x, y struck) int { return int(max(-1, min(x.at-y.at, 1))) })
	inForce := map[string]int{}
	for _, s := range all {
		pitch := s.note.SelectElement("pitch")
		step := textOf(pitch.SelectElement("step"))
		alter, err := strconv.Atoi(textOf(pitch.SelectElement("alter")))
		if err != nil {
			alter = 0
		}
		place := textOf(s.note.SelectElement("staff")) + step + textOf(pitch.SelectElement("octave"))
		before, written := inForce[place]
		if !written {
			before = keyAlters(a.fifths, step)
		}
		tied := slices.ContainsFunc(s.note.SelectElements("tie"), func(t *etree.Element) bool {
			return t.SelectAttrValue("type", "") == "stop"
		})
		if name := accidentalNames[alter]; alter != before && name != "" && !tied {
			inForce[place] = alter
			accidentalOf(s.note, name)
		}
	}
}

var accidentalNames = map[int]string{-2: "flat-flat", -1: "flat", 0: "natural", 1: "sharp", 2: "double-sharp"}

// keyAlters gives what a key signature does to a step.
func keyAlters(fifths int, step string) int {
	sharps := "FCGDAEB"
	for k := range sharps {
		if sharps[k:k+1] == step {
			switch {
			case k < fifths:
				return 1
			case 7-k <= -fifths:
				return -1
			}
		}
	}
	return 0
}

// accidentalOf prints an accidental at a note, where the order of MusicXML has it: behind type and dots.
func accidentalOf(note *etree.Element, name string) {
	place := 0
	for _, child := range note.ChildElements() {
		switch child.Tag {
		case "grace", "cue", "chord", "pitch", "duration", "tie", "instrument", "footnote", "level", "voice", "type", "dot":
			place = child.Index() + 1
		}
	}
	accidental := etree.NewElement("accidental")
	accidental.SetText(name)
	note.InsertChildAt(place, accidental)
}
