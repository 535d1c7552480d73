package mei

import (
	"strconv"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// severalRests says for how many measures a measure stands that holds rests for several (<multiRest>) and no music.
func (m *measure) severalRests() int {
	several := 0
	for _, l := range m.layers {
		for _, ev := range l.events {
			switch {
			case ev.at.Name == "multiRest":
				several = max(several, atoi(ev.at.Attribute("num")))
			case ev.at.Name != "mRest" && ev.at.Name != "mSpace":
				return 0
			}
		}
	}
	return several
}

// restsBefore puts in the measures that the one before stands for beside itself, where the number of the next says that
// it stands for them: then signs, decisions and findings count measures as the page does.
func (r *reader) restsBefore(e *xmltree.Element) error {
	if len(r.measures) == 0 {
		return nil
	}
	first := r.measures[len(r.measures)-1]
	from := atoi(first.number)
	n := first.severalRests()
	if n < 2 || from <= 0 || atoi(e.Attribute("n"))-from != n {
		return nil
	}
	last := first
	for k := 1; k < n; k++ {
		if len(r.measures) >= r.limits.Music.Measures {
			return r.tooMany(e)
		}
		m := &measure{
			index: len(r.measures), at: first.at, number: strconv.Itoa(from + k), defs: first.defs, inserted: true, elsewhere: first.elsewhere,
			directions: map[int][]direction{}, names: map[*xmltree.Element]names{},
		}
		for _, l := range first.layers {
			one := &layer{at: l.at, staff: l.staff, n: l.n, ratio: score.Whole(1), actual: 1, normal: 1, copied: true}
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
	return nil
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
