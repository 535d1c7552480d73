package mei

import (
	"fmt"
	"slices"
	"strconv"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// severalRests says for how many measures a measure stands that holds rests for several (<multiRest>) and no music, and
// where it says so.
func (m *measure) severalRests() (several int, at *xmltree.Element) {
	for _, l := range m.layers {
		for _, ev := range l.events {
			switch {
			case ev.at.Name == "multiRest":
				if n := atoi(ev.at.Attribute("num")); n > several {
					several, at = n, ev.at
				}
			case ev.at.Name != "mRest" && ev.at.Name != "mSpace":
				return 0, nil
			}
		}
	}
	return several, at
}

// restsBefore puts in the measures that the one before stands for beside itself, where the number of the next says that
// it stands for them: then signs, decisions and findings count measures as the page does.
func (r *reader) restsBefore(e *xmltree.Element) error {
	if len(r.measures) == 0 {
		return nil
	}
	first := r.measures[len(r.measures)-1]
	from := atoi(first.number)
	n, at := first.severalRests()
	if n < 2 {
		return nil
	}
	if from <= 0 || atoi(e.Attribute("n"))-from != n {
		r.oneRest(n, at, fmt.Sprintf("the number of the next measure is %.40q after %.40q", e.Attribute("n"), first.number))
		return nil
	}
	last := first
	for k := 1; k < n; k++ {
		if len(r.measures) >= r.limits.Music.Measures {
			return r.tooMany(e)
		}
		m := &measure{
			index: len(r.measures), at: first.at, number: strconv.Itoa(from + k), defs: turned(last.defs), inserted: true, elsewhere: first.elsewhere,
			directions: map[int][]direction{}, names: map[*xmltree.Element]names{},
		}
		for _, l := range first.layers {
			one := &layer{at: l.at, staff: l.staff, n: l.n, ratio: score.Whole(1), actual: 1, normal: 1, copied: true, hidden: l.hidden}
			for _, ev := range l.events {
				rest := *ev
				rest.measure, rest.layer, rest.index, rest.copied = m.index, one, -1, true
				one.events = append(one.events, &rest)
			}
			m.layers = append(m.layers, one)
		}
		if err := r.time(m); err != nil {
			return err
		}
		r.measures = append(r.measures, m)
		r.layout.measures = append(r.layout.measures, first.at.Span)
		last = m
	}
	last.right, last.backward = first.right, first.backward
	first.right, first.backward = "", false
	for n, d := range r.defs { // each by itself: any order will do
		if slices.Equal(d.metres, first.defs[n].metres) { // else another metre begins behind the rests
			d.metre, d.metres = last.defs[n].metre, last.defs[n].metres
		}
	}
	return nil
}

// turned is what is in force a measure later, where metres alternate.
func turned(defs map[int]definition) map[int]definition {
	out := make(map[int]definition, len(defs))
	for n, d := range defs { // copies: any order will do
		d.inTurn()
		out[n] = d
	}
	return out
}

// restAtEnd says of rests for several measures in the last measure that nothing says where they end.
func (r *reader) restAtEnd() {
	if n, at := r.measures[len(r.measures)-1].severalRests(); n > 1 {
		r.oneRest(n, at, "no measure follows whose number would say so")
	}
}

// oneRest says of rests for several measures, in the measure that was read last, that they are read as one.
func (r *reader) oneRest(n int, at *xmltree.Element, because string) {
	r.oddAt(score.OddValue, nil, at, "a rest for %d measures (<multiRest>) is read as one measure: %s", n, because)
}

// later is the measure so many measures of the document after another; inserted ones are none of its own.
func (r *reader) later(from, measures int) int {
	for ; measures > 0 && from < len(r.measures); measures-- {
		from++
		for from < len(r.measures) && r.measures[from].inserted {
			from++
		}
	}
	return from
}
