package engrave

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/corpus/score"
)

// leavesAccidentals says that a file leaves accidentals to the program that draws it, though some may stand there
// (score.WritesAccidentals): the engraver draws what is printed, and would show other notes than those that sound.
func leavesAccidentals(parts []*etree.Element) bool {
	missing, standing := 0, 0
	for _, part := range parts {
		fifths := 0
		for _, measure := range part.SelectElements("measure") {
			here, there := accidentalsOf(measure, &fifths)
			missing, standing = missing+len(here), standing+there
		}
	}
	return !score.WritesAccidentals(standing, missing)
}

// setAccidentals writes the accidentals that are missing in a measure; measures come in their order, with the key signature that each leaves.
func setAccidentals(measure *etree.Element, fifths *int) {
	missing, _ := accidentalsOf(measure, fifths)
	for _, m := range missing {
		accidentalOf(m.note, m.name)
	}
}

// missingAccidental is an accidental that a note needs and does not have.
type missingAccidental struct {
	note *etree.Element
	name string
}

// accidentalsOf gives the accidentals that are missing in a measure, and how many stand there. In force is what the key says, and
// in a measure what was altered before on the same line or space of the staff (common practice; MusicXML 4.0 says that alter sounds and
// accidental is printed).
func accidentalsOf(measure *etree.Element, fifths *int) (missing []missingAccidental, standing int) {
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
				*fifths = f
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
			before = keyAlters(*fifths, step)
		}
		tied := slices.ContainsFunc(s.note.SelectElements("tie"), func(t *etree.Element) bool {
			return t.SelectAttrValue("type", "") == "stop"
		})
		name := accidentalNames[alter]
		switch {
		case s.note.SelectElement("accidental") != nil:
			standing++
			inForce[place] = alter
		case alter != before && name != "" && !tied:
			inForce[place] = alter
			missing = append(missing, missingAccidental{s.note, name})
		}
	}
	return missing, standing
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
