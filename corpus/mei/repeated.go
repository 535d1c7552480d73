package mei

import (
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// repeatSign reads a sign that stands for music before it: its measure (mRpt), its two measures or more (mRpt2,
// multiRpt), its half measure or its beat. What is repeated is played, so that it is there as notes by a sign
// (score.Note.BySign).
func (r *reader) repeatSign(m *measure, l *layer, e *xmltree.Element) error {
	var events []*event
	switch e.Name {
	case "mRpt":
		events = r.layerBefore(m, l, 1)
	case "mRpt2", "multiRpt":
		n := 2
		if e.Name == "multiRpt" {
			n = max(atoi(e.Attribute("num")), 1)
		}
		events = r.layerBefore(m, l, n)
		r.following[voiceKey{l.staff, l.n}] = follow{from: m.index, measures: n}
	case "halfmRpt":
		events = l.since(r.defs[l.staff].metre.length().Mul(score.Frac(1, 2)))
	case "beatRpt":
		events = l.since(r.defs[l.staff].metre.beat())
	}
	if !slices.ContainsFunc(events, func(ev *event) bool { return ev.kind == "note" }) {
		r.oddAt(score.OddNoDigits, nil, e, "a sign that repeats music (%s) stands here, but there is none before it on its "+
			"staff: nothing is looked at here, and nothing gets digits", e.Name)
		if e.Name == "mRpt" {
			return r.rest(m, l, e)
		}
		return nil
	}
	r.oddAt(score.OddNoDigits, nil, e, "a sign that repeats music (%s) stands here instead of notes: they are played and "+
		"fingered, but no digits are printed at them", e.Name)
	return r.again(m, l, events)
}

// follow says that after a sign for several measures those behind it repeat as well, where they are left empty.
type follow struct{ from, measures int }

// followed repeats what belongs to a layer that is left empty behind a sign for several measures.
func (r *reader) followed(m *measure, l *layer) error {
	f, is := r.following[voiceKey{l.staff, l.n}]
	if !is || m.index <= f.from || m.index >= f.from+f.measures ||
		slices.ContainsFunc(l.events, func(ev *event) bool { return ev.kind != "rest" && ev.kind != "space" || !ev.whole }) {
		return nil
	}
	events := r.layerBefore(m, l, f.measures)
	if len(events) == 0 {
		return nil
	}
	l.events = nil
	return r.again(m, l, events)
}

// layerBefore are the events of the same layer so many measures before.
func (r *reader) layerBefore(m *measure, l *layer, measures int) []*event {
	if m.index < measures {
		return nil
	}
	for _, other := range r.measures[m.index-measures].layers {
		if other.staff == l.staff && other.n == l.n {
			return other.events
		}
	}
	return nil
}

// otherLayers repeats the layers that the measure before has on a staff beside that of the sign.
func (r *reader) otherLayers(m *measure, staff int, at *xmltree.Element) error {
	if m.index == 0 {
		return nil
	}
	for _, before := range r.measures[m.index-1].layers {
		there := func(l *layer) bool { return l.staff == staff && l.n == before.n }
		if before.staff != staff || slices.ContainsFunc(m.layers, there) {
			continue
		}
		l := &layer{at: at, staff: staff, n: before.n, ratio: score.Whole(1), actual: 1, normal: 1, copied: true, hidden: before.hidden}
		m.layers = append(m.layers, l)
		if err := r.again(m, l, before.events); err != nil {
			return err
		}
	}
	return nil
}

// since are the events of a layer in its last stretch of that length.
func (l *layer) since(length score.Fraction) []*event {
	from := len(l.events)
	for from > 0 && l.length.Sub(length).Cmp(l.events[from-1].onset) <= 0 {
		from--
	}
	return l.events[from:]
}

// again puts events behind what a layer has, as notes by a sign.
func (r *reader) again(m *measure, l *layer, events []*event) error {
	for _, ev := range slices.Clone(events) {
		if ev.kind == "clef" || ev.kind == "key" || ev.kind == "barline" {
			continue
		}
		one := r.repeated(m, l, ev)
		one.onset = l.length
		for k, n := range ev.chord {
			note := one
			if k > 0 {
				note = r.repeated(m, l, n)
				note.head, note.onset = one, one.onset
			}
			one.chord = append(one.chord, note)
		}
		for range max(len(ev.chord), 1) {
			if err := r.count(ev.at); err != nil {
				return err
			}
		}
		l.length, l.played = l.length.Add(one.duration), l.played.Add(one.played)
		l.events = append(l.events, one)
	}
	return nil
}

func (r *reader) repeated(m *measure, l *layer, ev *event) *event {
	one := *ev
	one.measure, one.layer, one.staff, one.index = m.index, l, ev.staff, -1
	one.copied, one.bySign = true, true
	one.chord, one.head, one.fingers, one.notations, one.articulation = nil, nil, nil, nil, nil
	one.ornaments = nil
	if one.origin == nil {
		one.origin = ev
	}
	r.repeats[one.origin] = append(r.repeats[one.origin], &one)
	return &one
}

// repeatedSigns gives the signs between notes of a measure to the notes that repeat them.
func (r *reader) repeatedSigns(m *measure, e *xmltree.Element, slurs []slur) []slur {
	switch e.Name {
	case "tie", "slur", "phrase", "arpeg", "trill", "mordent", "turn", "ornam", "fermata", "gliss":
	default:
		return slurs
	}
	ids := strings.Fields(strings.Join([]string{e.Attribute("startid"), e.Attribute("endid"), e.Attribute("plist")}, " "))
	times := -1
	for _, id := range ids {
		n := 0
		if ev := r.named(id); ev != nil {
			n = len(r.repeats[ev])
		}
		if times < 0 || n < times {
			times = n
		}
	}
	for k := range max(times, 0) {
		if r.controls++; r.controls > r.limits.Controls {
			break
		}
		before := map[string]*event{}
		for _, id := range ids {
			id = strings.TrimPrefix(id, "#")
			if before[id] == nil {
				before[id] = r.events[id]
				r.events[id] = r.repeats[before[id]][k]
			}
		}
		if e.Name == "slur" || e.Name == "phrase" {
			slurs = r.slur(slurs, m, e)
		} else {
			r.control(m, e)
		}
		for id, ev := range before { // each id once: any order will do
			r.events[id] = ev
		}
	}
	return slurs
}
