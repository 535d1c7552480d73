package engrave

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"
)

// tuplets marks groups of notes in another time (three in the time of two) for which a measure has no tuplet: programs
// write such notes without it where no number is printed, and the engraver would take them for plain ones, and set
// them beside the wrong notes of other voices. The marks are not drawn. A group ends where its notes, as they look,
// fill what their ratio asks for, or where other notes follow.
func tuplets(measure *etree.Element) {
	marked := map[string]bool{} // voice → it says where its tuplets are
	groups := map[string]*tupletGroup{}
	var order []string
	for _, note := range measure.SelectElements("note") {
		if note.FindElement("notations/tuplet") != nil {
			marked[textOf(note.SelectElement("voice"))] = true
		}
	}
	for _, note := range measure.SelectElements("note") {
		voice := textOf(note.SelectElement("voice"))
		if marked[voice] || note.SelectElement("chord") != nil || note.SelectElement("grace") != nil {
			continue
		}
		ratio := note.SelectElement("time-modification")
		looks, ok := looksLike(note)
		if groups[voice] == nil {
			groups[voice] = &tupletGroup{}
			order = append(order, voice)
		}
		g := groups[voice]
		if ratio == nil || !ok || note.FindElement("notations/ornaments/tremolo") != nil {
			g.end()
			continue
		}
		actual, normal := textOf(ratio.SelectElement("actual-notes")), textOf(ratio.SelectElement("normal-notes"))
		if len(g.notes) > 0 && (g.actual != actual || g.normal != normal) {
			g.end()
		}
		g.actual, g.normal = actual, normal
		g.notes, g.length = append(g.notes, note), g.length+looks
		if g.least == 0 || looks < g.least {
			g.least = looks
		}
		if g.full() {
			g.end()
		}
	}
	for _, voice := range order {
		groups[voice].end()
	}
}

// tupletGroup is a group of notes with one ratio.
type tupletGroup struct {
	actual, normal string
	notes          []*etree.Element
	length, least  int // as the notes look, in eighths of the shortest value
}

// full says that the notes, as they look, are a multiple of as many of the shortest of them as the ratio has.
func (g *tupletGroup) full() bool {
	actual, err := strconv.Atoi(g.actual)
	return err == nil && actual > 0 && actual <= 1024 && g.length%(g.least*actual) == 0
}

// end marks the notes of a group, and begins a new one.
func (g *tupletGroup) end() {
	if n := len(g.notes); n > 0 {
		tupletMark(g.notes[0], "start")
		tupletMark(g.notes[n-1], "stop")
	}
	*g = tupletGroup{}
}

func tupletMark(note *etree.Element, kind string) {
	mark := notationsOf(note).CreateElement("tuplet")
	mark.CreateAttr("type", kind)
	if kind == "start" {
		mark.CreateAttr("bracket", "no")
		mark.CreateAttr("show-number", "none")
	}
}

// noteValues lists the values of notes that the engraver draws, the shortest first; each lasts twice as long as the one
// before (MusicXML 4.0, note-type-value).
var noteValues = []string{
	"256th", "128th", "64th", "32nd", "16th", "eighth", "quarter", "half", "whole", "breve", "long",
}

// looksLike gives how long a note looks, with up to three dots, in eighths of the shortest value.
func looksLike(note *etree.Element) (length int, ok bool) {
	k := slices.Index(noteValues, textOf(note.SelectElement("type")))
	dots := len(note.SelectElements("dot"))
	if k < 0 || dots > 3 {
		return 0, false
	}
	length = 8 << k
	return 2*length - length>>dots, true
}
