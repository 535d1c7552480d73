package mei

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// finger is a digit at a note: its element in the document, and as MusicXML says it.
type finger struct {
	at     *xmltree.Element
	made   *xmltree.Element
	copied bool             // it is written elsewhere
	whole  *xmltree.Element // the element that holds it for our sake: a <fingGrp>, a <supplied>; at where there is none
}

// fing lets a digit stand at its note.
func (r *reader) fing(m *measure, e *xmltree.Element, attributes []string) {
	var notes []*event
	where, ok := r.moment(m, e, "startid", "tstamp")
	if !ok {
		r.lostDigit(m, e)
		return
	}
	switch ev := where.event; {
	case ev == nil:
		notes = r.at(where, e.Attribute("layer"), false)
	case ev.on.Name == "chord" && ev.head == nil && idOf(ev.on) == strings.TrimPrefix(e.Attribute("startid"), "#"):
		notes = ev.chord
	case ev.kind == "note":
		notes = []*event{ev}
	}
	if len(notes) == 0 {
		r.lostDigit(m, e)
		return
	}
	r.give(notes, e, attributes)
}

// lostDigit notes a digit that stands at no note.
func (r *reader) lostDigit(m *measure, e *xmltree.Element) {
	r.odd = append(r.odd, oddity{score.OddValue, nil, m.index, e, fmt.Sprintf("the digit %.20q stands at no note; it is left out", r.textOf(e))})
}

// give sets a digit at one of several notes that it may be meant for: digits that share a place go to its notes in turn,
// from the highest down, as they are printed over each other (FACTS §7.1); a single one goes to the outer note.
func (r *reader) give(notes []*event, e *xmltree.Element, attributes []string) {
	to := notes[0]
	if len(notes) > 1 {
		order := slices.Clone(notes)
		slices.SortStableFunc(order, func(a, b *event) int { return b.pitch.midi() - a.pitch.midi() })
		if e.Attribute("place") == "below" && r.alone(e) {
			slices.Reverse(order)
		}
		to = order[0]
		for _, n := range order {
			if len(n.fingers) < len(to.fingers) {
				to = n
			}
		}
	}
	f := r.fingering(e, attributes)
	to.fingers = append(to.fingers, finger{at: e, made: f, whole: cmp.Or(r.within, e), copied: r.called != nil})
}

// alone says that no other digit stands next to one at the same place.
func (r *reader) alone(e *xmltree.Element) bool {
	next := e.Next
	return next == nil || next.Name != "fing" || next.Attribute("startid") != e.Attribute("startid") ||
		next.Attribute("tstamp") != e.Attribute("tstamp")
}

func (p pitch) midi() int {
	if !p.ok {
		return -1
	}
	return score.Pitch{Step: p.step[0], Alter: int8(p.alter), Octave: int8(p.octave)}.Midi()
}

// fingering is a digit in MusicXML's words.
func (r *reader) fingering(e *xmltree.Element, attributes []string) *xmltree.Element {
	style := r.styleOf(e)
	all := append([]string{
		"placement", side(e.Attribute("place")), "font-style", style["font-style"], "font-weight", style["font-weight"],
		"font-size", style["font-size"], "color", style["color"],
	}, attributes...)
	if e.Attribute("type") == typeAlternative && !slices.Contains(attributes, "alternate") {
		all = append(all, "alternate", "yes")
	}
	return saying(e, "fingering", r.digitText(e), all...)
}

// digitText is what a digit prints: what is set in parentheses has them (MEI 5.1, data.TEXTRENDITION).
func (r *reader) digitText(e *xmltree.Element) string {
	text := r.textOf(e)
	for c := range r.content(e) {
		switch {
		case c.Name != "rend" || r.textOf(c) != text:
		case c.Attribute("rend") == "paren":
			return "(" + text + ")"
		case c.Attribute("rend") == "brack":
			return "[" + text + "]"
		}
	}
	return text
}

// fingGroup reads digits that belong together: alternatives, a change of finger on the held key, or several fingers.
func (r *reader) fingGroup(m *measure, e *xmltree.Element) {
	i := 0
	for c := range r.content(e) {
		if c.Name == "fing" {
			r.layout.grouped[e.Span] = append(r.layout.grouped[e.Span], c.Span)
		}
	}
	children := slices.Collect(r.content(e))
	if e.Attribute("form") == "combi" && r.upwards(m, e, children) {
		slices.Reverse(children)
	}
	for _, c := range children {
		switch c.Name {
		case "fing":
			r.within = e
			r.fing(m, r.anchored(c, e), groupRole(e.Attribute("form"), i))
			r.within = nil
			i++
		case "fingGrp":
			r.fingGroup(m, r.anchored(c, e))
		}
	}
}

// upwards says that the digits of a chord that stand in one group without notes of their own go from its lowest note up: the
// fingers of the right hand rise with the keys, those of the left fall. The hand is taken to be that of the staff.
func (r *reader) upwards(m *measure, e *xmltree.Element, children []*xmltree.Element) bool {
	where, ok := r.moment(m, e, "startid", "tstamp")
	if !ok || where.event != nil && where.event.on.Name != "chord" {
		return false
	}
	rising := len(children) > 1
	falling := rising
	for k, c := range children {
		if c.Attribute("startid")+c.Attribute("tstamp") != "" {
			return false
		}
		if k > 0 {
			before, now := atoi(r.textOf(children[k-1])), atoi(r.textOf(c))
			rising, falling = rising && before < now, falling && before > now
		}
	}
	if r.staves[where.staff].local > 1 {
		return falling
	}
	return rising
}

// groupRole says what a digit is in its group, but for the first.
func groupRole(form string, i int) []string {
	switch {
	case i == 0:
		return nil
	case form == "subst":
		return []string{"substitution", "yes"}
	case form == "alter":
		return []string{"alternate", "yes"}
	}
	return nil
}

// anchored gives a digit of a group the place and side of the group, where it has none of its own.
func (r *reader) anchored(e, group *xmltree.Element) *xmltree.Element {
	out := *e
	out.Attributes = slices.Clone(e.Attributes)
	own := e.Attribute("startid")+e.Attribute("tstamp") != ""
	for _, a := range group.Attributes {
		anchor := a.Name.Local == "startid" || a.Name.Local == "tstamp" || a.Name.Local == "plist"
		if anchor && own || e.Attribute(a.Name.Local) != "" || a.Name.Space != "" || a.Name.Local == "form" {
			continue
		}
		switch a.Name.Local {
		case "startid", "tstamp", "plist", "place", "staff", "layer":
			out.Attributes = append(out.Attributes, a)
		}
	}
	return &out
}
