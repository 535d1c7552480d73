package engrave

import (
	"fmt"
	"slices"

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

// slursThrough gives the slurs that are open behind a measure; those before it are not changed.
func slursThrough(open []openSlur, measure *etree.Element) []openSlur {
	out := slices.Clone(open)
	for _, note := range measure.SelectElements("note") {
		for _, slur := range note.FindElements("notations/slur") {
			number := slur.SelectAttrValue("number", "1")
			switch slur.SelectAttrValue("type", "") {
			case "start":
				out = append(out, openSlur{number, sideOf(slur, note), note})
			case "stop":
				for k := len(out) - 1; k >= 0; k-- {
					if out[k].number == number {
						out = slices.Delete(out, k, k+1)
						break
					}
				}
			}
		}
	}
	return out
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
		if end == nil {
			end = slur.note // it goes on behind the excerpt, too
		}
		putEnd(measures[0], end, slur, "start")
	}
	for _, slur := range after {
		putEnd(measures[len(measures)-1], slur.note, slur, "stop")
	}
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
