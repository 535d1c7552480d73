package mei

import (
	"encoding/xml"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// Of what is written once and meant again (@copyof) each copy is read as music of its own. A sign that is copied with
// its notes stands at the copies of the notes that it names.

// names are events by their ids.
type names map[string]*event

// copied gives what an element stands for that says only of what it is a copy; else itself.
func (r *reader) copied(e *xmltree.Element) *xmltree.Element {
	for depth := 0; e.First == nil && depth < r.limits.CopyOf; depth++ {
		id := strings.TrimPrefix(e.Attribute("copyof"), "#")
		if id == "" {
			return e
		}
		if r.copies++; r.copies > r.limits.Copies {
			if r.copies == r.limits.Copies+1 {
				r.oddAt(score.OddValue, nil, e, "copies of copies make more than %d elements; from here on they count as empty", r.limits.Copies)
			}
			return e
		}
		from := r.byID[id]
		if from == nil || from.Name != e.Name || from == e {
			r.oddAt(score.OddValue, nil, e, "this <%s> is a copy of %.40q, which is no such element; it counts as empty", e.Name, id)
			return e
		}
		whole := &xmltree.Element{Name: e.Name, Span: e.Span, First: from.First, Last: from.Last}
		whole.Attributes = append(whole.Attributes, e.Attributes...)
		for _, a := range from.Attributes {
			if e.Attribute(a.Name.Local) == "" && a.Name.Space == "" {
				whole.Attributes = append(whole.Attributes, a)
			}
		}
		if from.First != nil || from.Attribute("copyof") == "" {
			return whole
		}
		e = from
	}
	return e
}

// isCopy says of an element that it only stands for another.
func (r *reader) isCopy(e *xmltree.Element) bool {
	return e.First == nil && e.Attribute("copyof") != ""
}

// copiedSection reads a section, which may stand for another.
func (r *reader) copiedSection(e *xmltree.Element, depth int) error {
	outermost := r.isCopy(e) && !r.copying // a copy within one is said with it
	from := len(r.measures)
	r.copying = r.copying || outermost
	err := r.section(r.copied(e), depth+1)
	if outermost {
		r.copying = false
		r.copiedMeasures(from)
	}
	return err
}

// copiedMeasures says of the measures from one on, which are written elsewhere, that they get no digits, and what the
// signs in them name.
func (r *reader) copiedMeasures(from int) {
	if from >= len(r.measures) {
		return
	}
	all := names{}
	for _, m := range r.measures[from:] {
		for _, l := range m.layers {
			for _, ev := range l.events {
				ev.called(all)
			}
		}
	}
	for _, m := range r.measures[from:] {
		for _, c := range m.controls {
			m.names[c] = all
		}
	}
	first := r.measures[from]
	what := "this measure is"
	if n := len(r.measures) - from; n > 1 {
		what = fmt.Sprintf("%d measures from here on are", n)
	}
	if len(r.odd) < mostOddities {
		r.odd = append(r.odd, oddity{score.OddNoDigits, nil, from, first.at, what + " written elsewhere and only meant here " +
			"(@copyof): the notes are played and fingered, but no digits are printed at them"})
	}
}

// namedAnew lets the signs of a staff that is a copy, from one on, stand at its own notes; staff 0 means all.
func (m *measure) namedAnew(staff, from int) {
	all := names{}
	for _, l := range m.layers {
		if l.staff == staff || staff == 0 {
			for _, ev := range l.events {
				ev.called(all)
			}
		}
	}
	for _, c := range m.controls[from:] {
		m.names[c] = all
	}
}

// called adds an event, and the notes of its chord, to those that are known by their ids.
func (ev *event) called(all names) {
	add := func(ev *event, e *xmltree.Element) {
		if id := idOf(e); id != "" && all[id] == nil {
			all[id] = ev
		}
	}
	add(ev, ev.at)
	for _, n := range ev.chord {
		add(n, n.at)
	}
	if ev.on != ev.at {
		add(ev, ev.on)
	}
}

// saidOnce says once of the notes of a staff in a measure that nothing new can be written at them.
func (r *reader) saidOnce(ev *event) {
	key := fmt.Sprintf("unmarked %d %d", ev.measure, ev.staff)
	if r.noted[key] {
		return
	}
	r.noted[key] = true
	why := "is written elsewhere and only meant here (@copyof)"
	if ev.doubled {
		why = "has an id that stands at another element, too"
	}
	what := "a grace note here"
	if ev.grace == "" {
		what = "a note of a chord here"
	}
	if len(r.odd) < mostOddities {
		r.odd = append(r.odd, oddity{score.OddNoDigits, ev, ev.measure, ev.at, what + " " + why +
			": it is played and fingered, but no digit is printed at it, since neither an id nor a beat means it alone"})
	}
}

// onStaff gives a sign that stands in a staff the number of that staff, where it has none of its own.
func onStaff(e *xmltree.Element, staff int) *xmltree.Element {
	if e.Attribute("staff") != "" {
		return e
	}
	out := *e
	out.Attributes = append(slices.Clone(e.Attributes), xml.Attr{Name: xml.Name{Local: "staff"}, Value: strconv.Itoa(staff)})
	return &out
}
