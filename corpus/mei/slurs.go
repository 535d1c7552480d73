package mei

// Slurs, and the numbers that MusicXML follows them by.

import (
	"cmp"
	"fmt"
	"slices"

	"fingerproof/corpus/source/xmltree"
)

// slur is a slur that waits for a number.
type slur struct {
	e           *xmltree.Element
	from, to    *event // nil where it has none
	part        int
	first, last place // in the order of the document
	placement   string
	look        string
}

// place is where a note stands in the order in which notes are given on.
type place struct{ measure, staff, layer, at int }

func (p place) compare(q place) int {
	return cmp.Or(p.measure-q.measure, p.staff-q.staff, p.layer-q.layer, p.at-q.at)
}

// placeOf is where an event stands.
func (r *reader) placeOf(ev *event) place {
	l := ev.layer
	head := ev
	if ev.head != nil {
		head = ev.head
	}
	m := r.measures[ev.measure]
	if !m.placed { // each layer knows its place once
		m.placed = true
		for k, other := range m.layers {
			other.order = k
			for i, e := range other.events {
				e.order = i
			}
		}
	}
	return place{ev.measure, r.staves[l.staff].local, l.order, head.order}
}

func (r *reader) slur(slurs []slur, m *measure, e *xmltree.Element) []slur {
	from, ok := r.moment(m, e, "startid", "tstamp")
	if !ok {
		r.lostSign(m, e)
		return slurs
	}
	pick := func(w moment, last bool) *event {
		if w.event != nil {
			return w.event
		}
		all := r.at(w, e.Attribute("layer"), false)
		if len(all) == 0 {
			return nil
		}
		ev := all[0]
		if ev.head != nil {
			ev = ev.head
		}
		return ev
	}
	s := slur{e: e, from: pick(from, false), placement: side(e.Attribute("curvedir")), look: lineLook(e.Attribute("lform"))}
	if to, ended := r.end(m, e, from); ended {
		s.to = pick(to, true)
	}
	switch {
	case s.from == nil && s.to == nil:
		r.lostSign(m, e)
		return slurs
	case s.to == nil:
		s.first = r.placeOf(s.from)
		s.last = s.first
	case s.from == nil:
		s.first = r.placeOf(s.to)
		s.last = s.first
	default:
		s.first, s.last = r.placeOf(s.from), r.placeOf(s.to)
		if s.last.compare(s.first) < 0 {
			s.first, s.last = s.last, s.first
		}
	}
	one := s.from
	if one == nil {
		one = s.to
	}
	s.part = r.staves[one.layer.staff].part
	return append(slurs, s)
}

// lineLook is the look of a line in MusicXML's words.
func lineLook(form string) string {
	if form == "dashed" || form == "dotted" {
		return form
	}
	return ""
}

// number gives slurs the lowest numbers that are free, so that no two that are open together share one. They are open in
// the order of the document, in which numbers are followed.
func (r *reader) number(slurs []slur) {
	slices.SortStableFunc(slurs, func(a, b slur) int { return cmp.Or(a.part-b.part, a.first.compare(b.first)) })
	type busy struct {
		until   place
		forever bool
	}
	var taken []busy
	part := -1
	for _, s := range slurs {
		if s.part != part {
			taken, part = nil, s.part
		}
		k := 0
		for k < len(taken) && (taken[k].forever || taken[k].until.compare(s.first) >= 0) {
			k++
		}
		if b := (busy{s.last, s.to == nil}); k == len(taken) {
			taken = append(taken, b)
		} else {
			taken[k] = b
		}
		n := fmt.Sprint(k + 1)
		if s.from != nil {
			s.from.notations = append(s.from.notations, made(s.e, "slur", "type", "start", "number", n, "placement", s.placement, "line-type", s.look))
		}
		if s.to != nil {
			s.to.notations = append(s.to.notations, made(s.e, "slur", "type", "stop", "number", n))
		}
	}
}
