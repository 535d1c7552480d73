package engrave

import (
	"strconv"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"

	"github.com/beevik/etree"
)

// repair gives the engraver numbers that make sense, as the reader of scores takes them, in place of those that do
// not. The engraver believes what it is told: a gap of a thousand million beats it would fill, rest by rest.
type repair struct{ divisions int64 }

// Bounds of what is drawn. The reader keeps longer durations, with a warning; no picture could show them.
var longestDrawn = score.Whole(1000) // quarters of one duration

const (
	mostStaves = 16 // of a part, as the reader has it
	mostLines  = 12 // of a staff
	mostShift  = 5  // octaves of a clef
)

// through repairs a measure; measures come in their order.
func (r *repair) through(measure *etree.Element) {
	oncePerChord(measure)
	for _, child := range measure.ChildElements() {
		switch child.Tag {
		case "attributes":
			r.attributes(child)
		case "note", "backup", "forward":
			duration := child.SelectElement("duration")
			if duration == nil {
				continue
			}
			if d, ok := musicxml.Duration(textOf(duration), r.divisions); ok && !longestDrawn.Less(d) {
				continue
			}
			if child.Tag == "note" { // its type says how it looks
				duration.SetText("0")
			} else {
				measure.RemoveChild(child)
			}
		}
	}
}

// oncePerChord takes from the further notes of a chord the accents and dots that its first note has: a file may say them at
// every note, print has them once.
func oncePerChord(measure *etree.Element) {
	var first map[string]bool
	for _, note := range measure.SelectElements("note") {
		further := note.SelectElement("chord") != nil
		if !further {
			first = map[string]bool{}
		}
		for _, notations := range note.SelectElements("notations") {
			for _, list := range notations.SelectElements("articulations") {
				for _, sign := range list.ChildElements() {
					switch {
					case !further:
						first[sign.Tag] = true
					case first[sign.Tag]:
						list.RemoveChild(sign)
					}
				}
			}
		}
	}
}

func (r *repair) attributes(attributes *etree.Element) {
	for _, c := range attributes.SelectElements("divisions") {
		if d, ok := musicxml.Divisions(textOf(c)); ok {
			r.divisions = d
		} else {
			c.SetText(strconv.FormatInt(r.divisions, 10))
		}
	}
	within(attributes, "staves", 1, mostStaves)
	for _, clef := range attributes.SelectElements("clef") {
		within(clef, "line", 1, mostLines)
		within(clef, "clef-octave-change", -mostShift, mostShift)
	}
	for _, details := range attributes.SelectElements("staff-details") {
		within(details, "staff-lines", 0, mostLines)
	}
}

// within takes out children of a name whose number does not lie within limits.
func within(parent *etree.Element, name string, low, high int) {
	for _, c := range parent.SelectElements(name) {
		if n, err := strconv.Atoi(textOf(c)); err != nil || n < low || n > high {
			parent.RemoveChild(c)
		}
	}
}
