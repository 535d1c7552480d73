package engrave

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"
)

// hiddenEnd begins the id of a note at which a slur ends outside an excerpt; the picture has none of it.
const hiddenEnd = "outside"

// openSlur is a slur that is begun and not ended where a measure begins.
type openSlur struct {
	number    string
	placement string
	note      *etree.Element // at which it begins
}

// slursThrough gives the slurs that are open behind a measure; those before it are not changed. A slur from the lower staff to
// the upper one has its end written before its beginning (trial 15a-28).
func slursThrough(open []openSlur, measure *etree.Element) []openSlur {
	out := slices.Clone(open)
	var early []slurEnd
	now, onset := 0, 0
	for _, element := range measure.ChildElements() {
		long := atoi(textOf(element.SelectElement("duration")))
		switch element.Tag {
		case "backup":
			now -= long
		case "forward":
			now += long
		}
		if element.Tag != "note" {
			continue
		}
		if element.SelectElement("chord") == nil {
			onset, now = now, now+long
		}
		for _, slur := range element.FindElements("notations/slur") {
			number := slur.SelectAttrValue("number", "1")
			opened := func(o openSlur) bool { return o.number == number }
			switch slur.SelectAttrValue("type", "") {
			case "start":
				if k := slices.IndexFunc(early, func(e slurEnd) bool { return e.number == number && e.onset > onset }); k >= 0 {
					early = slices.Delete(early, k, k+1)
					continue
				}
				out = append(out, openSlur{number, sideOf(slur, element), element})
			case "stop":
				slices.Reverse(out)
				if k := slices.IndexFunc(out, opened); k >= 0 { // the last begun
					out = slices.Delete(out, k, k+1)
				} else {
					early = append(early, slurEnd{number, onset})
				}
				slices.Reverse(out)
			}
		}
	}
	return out
}

// slurEnd is the end of a slur that nothing has begun yet.
type slurEnd struct {
	number string
	onset  int
}

// sideOf is the side on which a slur is drawn: as the file says, else away from the stem of its first note.
func sideOf(slur, note *etree.Element) string {
	if side := slur.SelectAttrValue("placement", ""); side != "" {
		return side
	}
	switch slur.SelectAttrValue("orientation", "") + textOf(note.SelectElement("stem")) {
	case "over", "overup", "overdown", "down":
		return "above"
	case "under", "underup", "underdown", "up":
		return "below"
	}
	return ""
}

// showOpenSlurs lets slurs be drawn that leave an excerpt, from its edge or to it: the engraver draws none of which it is not
// given both ends. The end outside stands at a hidden note that takes no time.
func showOpenSlurs(part *etree.Element, before []openSlur) {
	measures := part.SelectElements("measure")
	if len(measures) == 0 {
		return
	}
	after := before
	for _, measure := range measures {
		after = slursThrough(after, measure)
	}
	for _, slur := range before {
		end := endOf(measures, slur.number)
		if slur.placement == "" {
			slur.placement = awayFromStems(measures, slur.note, nil, end)
		}
		if end == nil {
			end = slur.note // it goes on behind the excerpt, too
		}
		putEnd(measures[0], end, slur, "start")
	}
	for _, slur := range after {
		if slur.placement == "" && !slices.ContainsFunc(before, func(b openSlur) bool { return b.note == slur.note }) {
			if start := beginOf(slur.note, slur.number); start != nil {
				start.CreateAttr("placement", awayFromStems(measures, slur.note, slur.note, nil))
			}
		}
		putEnd(measures[len(measures)-1], slur.note, slur, "stop")
	}
}

// beginOf is the begin of a slur at its first note.
func beginOf(note *etree.Element, number string) *etree.Element {
	for _, slur := range note.FindElements("notations/slur") {
		if slur.SelectAttrValue("type", "") == "start" && slur.SelectAttrValue("number", "1") == number {
			return slur
		}
	}
	return nil
}

// awayFromStems is the side of a slur of which the file says none, as the engraver chooses it where it has both ends: below the
// notes where all stems under it point upwards, else above; in one of several voices on the side of its stems. A hidden note
// at the edge has a stem of its own, which would decide it otherwise. from and to are nil where it leaves the excerpt.
func awayFromStems(measures []*etree.Element, first, from, to *etree.Element) string {
	voice, staff := textOf(first.SelectElement("voice")), textOf(first.SelectElement("staff"))
	middle, inside, down := 34, from == nil, false // of the treble clef
	foremost, alone := true, true                  // among the voices of the staff
	for i, measure := range measures {
		for _, element := range measure.ChildElements() {
			if element.Tag == "attributes" {
				for _, clef := range element.SelectElements("clef") {
					if number := clef.SelectAttrValue("number", "1"); number == staff || staff == "" {
						middle = middleLine(clef, middle)
					}
				}
			}
			if element.Tag != "note" || element.SelectElement("pitch") == nil || textOf(element.SelectElement("staff")) != staff {
				continue
			}
			if other := textOf(element.SelectElement("voice")); other != voice {
				alone, foremost = alone && !inside, foremost && (!inside || atoi(voice) < atoi(other))
				continue
			}
			inside = inside || element == from
			down = down || inside && stemDown(element, middle)
			inside = inside && element != to
		}
		if i == 0 && from == nil {
			down = down || stemDown(first, middle) // it stands before the excerpt
		}
	}
	if alone && down || !alone && foremost {
		return "above"
	}
	return "below"
}

// stemDown says that the stem of a note points downwards: as the file says, else from the middle line upwards.
func stemDown(note *etree.Element, middle int) bool {
	if stem := textOf(note.SelectElement("stem")); stem != "" {
		return stem == "down"
	}
	pitch := note.SelectElement("pitch")
	if pitch == nil {
		return false
	}
	return 7*atoi(textOf(pitch.SelectElement("octave")))+strings.Index("CDEFGAB", textOf(pitch.SelectElement("step"))) >= middle
}

// middleLine is the note on the middle line in a clef, counted in steps from C of octave 0.
func middleLine(clef *etree.Element, before int) int {
	line := atoi(textOf(clef.SelectElement("line")))
	var at int
	switch textOf(clef.SelectElement("sign")) {
	case "G":
		at, line = 4*7+4, cmp.Or(line, 2)
	case "F":
		at, line = 3*7+3, cmp.Or(line, 4)
	case "C":
		at, line = 4*7, cmp.Or(line, 3)
	default:
		return before
	}
	return at + 2*(3-line) + 7*atoi(textOf(clef.SelectElement("clef-octave-change")))
}

func atoi(text string) int {
	n, _ := strconv.Atoi(text)
	return n
}

// endOf is the note at which the first slur of a number ends.
func endOf(measures []*etree.Element, number string) *etree.Element {
	for _, measure := range measures {
		for _, note := range measure.SelectElements("note") {
			for _, slur := range note.FindElements("notations/slur") {
				if slur.SelectAttrValue("type", "") == "stop" && slur.SelectAttrValue("number", "1") == number {
					return note
				}
			}
		}
	}
	return nil
}

// putEnd puts a hidden note with the end of a slur before the first note of a measure, or behind its last, in the voice of
// the slur's other end or else on its staff.
func putEnd(measure, other *etree.Element, slur openSlur, end string) {
	notes := measure.SelectElements("note")
	if end == "stop" {
		slices.Reverse(notes)
	}
	beside := func(name string) int {
		return slices.IndexFunc(notes, func(n *etree.Element) bool {
			return textOf(n.SelectElement(name)) == textOf(other.SelectElement(name))
		})
	}
	at := beside("voice")
	if at < 0 {
		at = beside("staff")
	}
	if at < 0 {
		return
	}
	hidden := etree.NewElement("note")
	hidden.CreateAttr("print-object", "no")
	hidden.CreateAttr("id", fmt.Sprintf("%s-%s-%s", hiddenEnd, end, slur.number))
	hidden.CreateElement("grace")
	pitch := other.SelectElement("pitch")
	if pitch == nil {
		return
	}
	hidden.AddChild(pitch.Copy())
	if voice := notes[at].SelectElement("voice"); voice != nil {
		hidden.AddChild(voice.Copy())
	}
	hidden.CreateElement("type").SetText("eighth")
	if staff := notes[at].SelectElement("staff"); staff != nil {
		hidden.AddChild(staff.Copy())
	}
	sign := hidden.CreateElement("notations").CreateElement("slur")
	sign.CreateAttr("type", end)
	sign.CreateAttr("number", slur.number)
	if slur.placement != "" && end == "start" {
		sign.CreateAttr("placement", slur.placement)
	}
	place := notes[at].Index()
	if end == "stop" {
		place++
	}
	measure.InsertChildAt(place, hidden)
}
