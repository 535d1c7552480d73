package engrave

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/format"

	"github.com/beevik/etree"
)

// Sheet is a score made fit for the engraver. Changing Notes changes what is drawn; the score it came from is never
// touched.
type Sheet struct {
	// Notes has one entry for each element named note of the whole document, rests and parts left out included: the
	// index is `n` of the results.
	Notes []NoteMarks
	// Measures is the number of measures of the longest part kept.
	Measures int

	parts []sheetPart
}

// NoteMarks is what a picture shows of one note beside its music.
type NoteMarks struct {
	ID     string       // of the note in pictures (`data-id`), MEI and timemap: "n" and the index
	Digits []DrawnDigit // the fingering signs at the note, in written order
	// Ring, where set, is the class of a ring that is drawn round the note head: of a redistributed note, for one.
	Ring string
	// Label, where set, stands small beside the ring: the number of a remark.
	Label string
	// Ornament says that the note has a sign whose notes the digits finger in turn.
	Ornament bool
}

// DrawnDigit is one fingering sign.
type DrawnDigit struct {
	Text         string // "3", or as printed: "(3)", "4–3"
	Italic, Bold bool
	Substitution bool   // follows the digit before it on the held key: both are drawn as one sign, "4–3"
	Alternative  bool   // offered beside the digit before it
	Placement    string // "above", "below" or ""
	Class        string // further classes in the picture, such as the responsibility
	Boxed        bool   // drawn in a box: a digit that changed, plain without colour
	Label        string // small beside the box: the number of a remark
}

type sheetPart struct {
	id, name string
	measures []*etree.Element
	before   []running // what is in force when each measure begins
	slurs    [][]openSlur
}

// CopyOptions say what of a score is wanted.
type CopyOptions struct {
	// Parts are the ids of the parts to draw; all where empty.
	Parts []string
}

// Copy makes the engraving copy of a score in UTF-8; one that is no partwise MusicXML is written so first: every note with an id, every fingering sign
// of a note gathered in one list (the engraver reads only a note's first notations, and no style), page layout and
// everything else that would make excerpts differ from each other left out.
func Copy(musicxml []byte, options CopyOptions) (*Sheet, error) {
	musicxml, err := format.Partwise(musicxml)
	if err != nil {
		return nil, fmt.Errorf("making the engraving copy: %w", err)
	}
	document := etree.NewDocument()
	// The bytes are UTF-8, whatever the declaration of the original file said.
	document.ReadSettings.CharsetReader = passThrough
	if err := document.ReadFromBytes(musicxml); err != nil {
		return nil, fmt.Errorf("making the engraving copy: %w", err)
	}
	root := document.Root()
	if root == nil || root.Tag != "score-partwise" {
		return nil, fmt.Errorf("making the engraving copy: the document is not a partwise MusicXML score")
	}
	sheet := &Sheet{}
	// The index counts in document order, so ids are given before any part is left out.
	var note func(*etree.Element)
	note = func(element *etree.Element) {
		for _, child := range element.ChildElements() {
			if child.Tag == "note" {
				sheet.takeNote(child)
			} else {
				note(child)
			}
		}
	}
	note(root)
	wantsAccidentals := leavesAccidentals(root.SelectElements("part"))
	partNames := map[string]string{}
	for _, scorePart := range root.FindElements("part-list/score-part") {
		partNames[scorePart.SelectAttrValue("id", "")] = textOf(scorePart.SelectElement("part-name"))
	}
	for _, part := range root.SelectElements("part") {
		id := part.SelectAttrValue("id", "")
		if len(options.Parts) > 0 && !slices.Contains(options.Parts, id) {
			continue
		}
		kept := sheetPart{id: id, name: partNames[id]}
		var slurs []openSlur
		state, times, fifths := running{}, repair{divisions: 1}, 0
		for _, measure := range part.SelectElements("measure") {
			tidyMeasure(measure)
			markBrackets(measure)
			times.through(measure)
			tuplets(measure)
			besideMetronome(measure)
			if wantsAccidentals {
				setAccidentals(measure, &fifths)
			}
			kept.before = append(kept.before, state.clone())
			state.through(measure)
			kept.measures = append(kept.measures, measure)
			kept.slurs, slurs = append(kept.slurs, slurs), slursThrough(slurs, measure)
		}
		sheet.Measures = max(sheet.Measures, len(kept.measures))
		sheet.parts = append(sheet.parts, kept)
	}
	if sheet.Measures == 0 {
		return nil, fmt.Errorf("making the engraving copy: no measure in the parts wanted")
	}
	return sheet, nil
}

// Clone gives a sheet whose notes can be changed apart, for a picture before and one after.
func (s *Sheet) Clone() *Sheet {
	clone := *s
	clone.Notes = slices.Clone(s.Notes)
	for i := range clone.Notes {
		clone.Notes[i].Digits = slices.Clone(clone.Notes[i].Digits)
	}
	return &clone
}

// takeNote gives a note its id, and moves its fingering signs from the document to the list.
func (s *Sheet) takeNote(element *etree.Element) {
	note := NoteMarks{ID: "n" + strconv.Itoa(len(s.Notes))}
	var kept *etree.Element
	for _, notations := range element.SelectElements("notations") {
		hidden := notations.SelectAttrValue("print-object", "yes") == "no"
		open, shut := enclosure(notations.SelectElement("level"))
		for _, technical := range notations.SelectElements("technical") {
			for _, fingering := range technical.SelectElements("fingering") {
				if text := strings.TrimSpace(fingering.Text()); !hidden && text != "" {
					note.Digits = append(note.Digits, DrawnDigit{
						Text:         open + text + shut,
						Italic:       fingering.SelectAttrValue("font-style", "") == "italic",
						Bold:         fingering.SelectAttrValue("font-weight", "") == "bold",
						Substitution: fingering.SelectAttrValue("substitution", "") == "yes",
						Alternative:  fingering.SelectAttrValue("alternate", "") == "yes",
						Placement:    fingering.SelectAttrValue("placement", ""),
					})
				}
				technical.RemoveChild(fingering)
			}
			if len(technical.ChildElements()) == 0 {
				notations.RemoveChild(technical)
			}
		}
		// The engraver reads the first notations only: what stands in further ones moves there.
		switch {
		case hidden:
			element.RemoveChild(notations)
		case kept == nil:
			kept = notations
			removeAll(kept, "level", "footnote")
		default:
			for _, child := range notations.ChildElements() {
				if child.Tag != "level" && child.Tag != "footnote" {
					kept.AddChild(child)
				}
			}
			element.RemoveChild(notations)
		}
	}
	note.Digits = digitsBeforeAlternatives(note.Digits)
	for _, sign := range element.FindElements("notations/ornaments/*") {
		note.Ornament = note.Ornament || slices.Contains(fingeredSigns, sign.Tag)
	}
	removeAll(element, "footnote", "level", "play", "listen")
	element.Attr = onlyAttributes(element.Attr, "print-object", "print-leger", "print-spacing", "color")
	element.CreateAttr("id", note.ID)
	s.Notes = append(s.Notes, note)
}

// digitsBeforeAlternatives puts behind a note's digit what is offered beside it. An edition of ours has it first in the file, for
// readers that show the last alone; drawn, the digit stands at the note and in the row of its neighbours, the other outside it.
func digitsBeforeAlternatives(digits []DrawnDigit) []DrawnDigit {
	k := slices.IndexFunc(digits, func(d DrawnDigit) bool { return !d.Alternative })
	if k <= 0 {
		return digits
	}
	return slices.Concat(digits[k:], digits[:k])
}

// fingeredSigns are the ornaments that have a digit for each of their notes.
var fingeredSigns = []string{
	"trill-mark", "turn", "delayed-turn", "inverted-turn", "delayed-inverted-turn", "vertical-turn", "shake", "mordent",
	"inverted-mordent", "haydn",
}

// enclosure gives what the standard's level element asks to be drawn round what it applies to.
func enclosure(level *etree.Element) (open, shut string) {
	switch {
	case level == nil:
		return "", ""
	case level.SelectAttrValue("bracket", "") == "yes":
		return "[", "]"
	case level.SelectAttrValue("parentheses", "") == "yes":
		return "(", ")"
	}
	return "", ""
}

// tidyMeasure takes out what belongs to the original's pages, to playback, or to measures that are not in an excerpt. Signs
// that repeat measures go too: the engraver sets them on all staves, and over notes that are there.
func tidyMeasure(measure *etree.Element) {
	removeAll(measure, "print", "sound", "listening", "grouping", "link", "bookmark", "figured-bass")
	for _, attributes := range measure.SelectElements("attributes") {
		for _, style := range attributes.SelectElements("measure-style") {
			for _, sign := range []string{"multiple-rest", "measure-repeat", "beat-repeat", "slash"} {
				if style.SelectElement(sign) != nil {
					attributes.RemoveChild(style)
					break
				}
			}
		}
	}
	number := measure.SelectAttrValue("number", "")
	implicit := measure.SelectAttrValue("implicit", "")
	measure.Attr = nil
	measure.CreateAttr("number", number)
	if implicit != "" {
		measure.CreateAttr("implicit", implicit)
	}
	for _, element := range measure.FindElements(".//*[@id]") {
		if element.Tag != "note" {
			element.RemoveAttr("id") // ids given by us must be the only ones
		}
	}
}

func removeAll(parent *etree.Element, tags ...string) {
	for _, child := range parent.ChildElements() {
		if slices.Contains(tags, child.Tag) {
			parent.RemoveChild(child)
		}
	}
}

// onlyAttributes keeps the named attributes only.
func onlyAttributes(attributes []etree.Attr, keep ...string) []etree.Attr {
	return slices.DeleteFunc(slices.Clone(attributes), func(a etree.Attr) bool { return !slices.Contains(keep, a.Key) })
}

func textOf(element *etree.Element) string {
	if element == nil {
		return ""
	}
	return strings.TrimSpace(element.Text())
}
