package engrave

import (
	"io"
	"maps"
	"slices"
	"strconv"

	"github.com/beevik/etree"
)

// running is what is in force at a point of a part, so that an excerpt can begin there: it must be written again at
// its head.
type running struct {
	divisions, staves, time *etree.Element
	keys, clefs, transposes map[string]*etree.Element // by number of the staff; "" for all
	shifts                  map[string]*etree.Element // open octave shifts by number: the direction that began each
}

func (r *running) maps() []*map[string]*etree.Element {
	return []*map[string]*etree.Element{&r.keys, &r.clefs, &r.transposes, &r.shifts}
}

func (r running) clone() running {
	for _, m := range r.maps() {
		*m = maps.Clone(*m)
	}
	return r
}

// through moves the state from the beginning of a measure to its end.
func (r *running) through(measure *etree.Element) {
	if r.keys == nil {
		for _, m := range r.maps() {
			*m = map[string]*etree.Element{}
		}
	}
	// The last clef in the file need not be the last in time: voices are written one after the other.
	at, clefAt := 0, map[string]int{}
	for _, element := range measure.ChildElements() {
		switch element.Tag {
		case "note":
			if element.SelectElement("chord") == nil && element.SelectElement("grace") == nil {
				at += durationOf(element)
			}
		case "forward":
			at += durationOf(element)
		case "backup":
			at -= durationOf(element)
		case "attributes":
			for _, child := range element.ChildElements() {
				r.take(child, at, clefAt)
			}
		case "direction":
			for _, shift := range element.FindElements("direction-type/octave-shift") {
				number := shift.SelectAttrValue("number", "1")
				switch shift.SelectAttrValue("type", "") {
				case "up", "down":
					r.shifts[number] = element
				case "stop":
					delete(r.shifts, number)
				}
			}
		}
	}
}

func (r *running) take(child *etree.Element, at int, clefAt map[string]int) {
	number := child.SelectAttrValue("number", "")
	switch child.Tag {
	case "divisions":
		r.divisions = child
	case "staves":
		r.staves = child
	case "time":
		r.time = child
	case "key":
		if number == "" {
			clear(r.keys) // one key for all staves takes the place of those of single staves
		}
		r.keys[number] = child
	case "transpose":
		r.transposes[number] = child
	case "clef":
		if last, seen := clefAt[number]; !seen || at >= last {
			r.clefs[number], clefAt[number] = child, at
		}
	}
}

// head writes the state as the first elements of an excerpt; a metre that goes on is in force but not shown.
func (r running) head(showTime bool) []*etree.Element {
	attributes := etree.NewElement("attributes")
	add := func(element *etree.Element) *etree.Element {
		if element == nil {
			return nil
		}
		added := element.Copy()
		attributes.AddChild(added)
		return added
	}
	addAll := func(byNumber map[string]*etree.Element) {
		for _, number := range slices.Sorted(maps.Keys(byNumber)) {
			add(byNumber[number])
		}
	}
	add(r.divisions)
	addAll(r.keys)
	if time := add(r.time); time != nil && !showTime {
		time.CreateAttr("print-object", "no")
	}
	add(r.staves)
	addAll(r.clefs)
	addAll(r.transposes)
	elements := []*etree.Element{attributes}
	for _, number := range slices.Sorted(maps.Keys(r.shifts)) {
		shift := r.shifts[number].Copy()
		removeAll(shift, "offset", "sound")
		elements = append(elements, shift)
	}
	return elements
}

func durationOf(element *etree.Element) int {
	value, err := strconv.Atoi(textOf(element.SelectElement("duration")))
	if err != nil {
		return 0
	}
	return value
}

// passThrough is the reader for a text that is UTF-8 already.
func passThrough(_ string, input io.Reader) (io.Reader, error) { return input, nil }
