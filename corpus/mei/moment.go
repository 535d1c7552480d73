package mei

import (
	"cmp"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// moment is a place in time on a staff.
type moment struct {
	measure int
	onset   score.Fraction
	staff   int    // number in the document
	event   *event // that was named, nil where only a time was
}

// named is the event that an id points at.
func (r *reader) named(id string) *event {
	id = strings.TrimPrefix(strings.TrimSpace(id), "#")
	if ev := r.called[id]; ev != nil {
		return ev
	}
	return r.events[id]
}

// moment finds where a sign stands or begins: at an event, or at a beat of its measure.
func (r *reader) moment(m *measure, e *xmltree.Element, idName, stampName string) (moment, bool) {
	staff := r.staffOf(e)
	if ev := r.named(e.Attribute(idName)); ev != nil {
		if staff == 0 {
			staff = ev.staff
		}
		return moment{ev.measure, ev.onset, staff, ev}, true
	}
	stamp := e.Attribute(stampName)
	if stamp == "" {
		if first, _, _ := strings.Cut(strings.TrimSpace(e.Attribute("plist")), " "); first != "" {
			if ev := r.named(first); ev != nil {
				return moment{ev.measure, ev.onset, cmp.Or(staff, ev.staff), ev}, true
			}
		}
		if e.Name == "reh" && either(e, "startid", "plist") == "" { // as Verovio writes those of MusicXML
			return moment{m.index, score.Fraction{}, cmp.Or(staff, r.numbers()[0]), nil}, true
		}
		return moment{}, false
	}
	if staff == 0 {
		staff = r.numbers()[0]
	}
	beat, ok := decimal(stamp)
	if !ok {
		r.odd = append(r.odd, oddity{score.OddValue, nil, m.index, e, "the beat " + strconv.Quote(stamp) + " cannot be read; the sign is left out"})
		return moment{}, false
	}
	if r.verovio && e.Name == "pedal" && e.Attribute("dir") == "up" {
		beat = beat.Add(early)
	}
	return moment{m.index, r.snap(m, staff, beat), staff, nil}, true
}

// early is how much before its beat Verovio, converting MusicXML, writes the release of a pedal, so that the next can begin
// on it.
var early = score.Frac(1, 10)

// staffOf is the first staff that a sign names, 0 for none.
func (r *reader) staffOf(e *xmltree.Element) int {
	for _, word := range strings.Fields(e.Attribute("staff")) {
		if n := atoi(word); r.staves[n] != nil {
			return n
		}
	}
	return 0
}

// end finds where a sign ends.
func (r *reader) end(m *measure, e *xmltree.Element, from moment) (moment, bool) {
	if ev := r.named(e.Attribute("endid")); ev != nil {
		return moment{ev.measure, ev.onset, from.staff, ev}, true
	}
	stamp := e.Attribute("tstamp2")
	if stamp == "" || from.staff == 0 {
		return moment{}, false
	}
	measures, beats, both := strings.Cut(stamp, "m+")
	if !both {
		measures, beats = "0", strings.TrimPrefix(stamp, "+")
	}
	beat, ok := decimal(beats)
	to := r.later(m.index, atoi(measures))
	if !ok || to < m.index || to >= len(r.measures) {
		return moment{}, false
	}
	return moment{to, r.snap(r.measures[to], from.staff, beat), from.staff, nil}, true
}

// decimal reads a decimal number exactly, as long as it is of a sane size.
func decimal(s string) (score.Fraction, bool) {
	s = strings.TrimSpace(s)
	whole, part, dotted := strings.Cut(s, ".")
	if len(whole) > 6 {
		return score.Fraction{}, false
	}
	if len(part) > 6 {
		part = part[:6]
	}
	den := int64(1)
	if dotted {
		for range part {
			den *= 10
		}
	}
	n, err := strconv.ParseInt(whole+part, 10, 64)
	return score.Frac(n, den), err == nil && n >= 0
}

// near is how far a beat with its decimals may lie off what it means.
var near = score.Frac(1, 250)

// snap gives the onset of a beat in a measure: that of an event of the part where one is so near that only the decimals
// of the beat part them.
func (r *reader) snap(m *measure, staff int, beat score.Fraction) score.Fraction {
	at := score.Max(beat.Sub(score.Whole(1)).Mul(m.defs[staff].metre.beat()), score.Fraction{})
	part := r.staves[staff].part
	for _, l := range m.layers {
		if r.staves[l.staff].part != part {
			continue
		}
		for _, ev := range l.events {
			if d := ev.onset.Sub(at); d.Cmp(near) <= 0 && score.Frac(-1, 250).Cmp(d) <= 0 {
				return ev.onset
			}
		}
	}
	if d := m.length.Sub(at); d.Cmp(near) <= 0 && score.Frac(-1, 250).Cmp(d) <= 0 {
		return m.length
	}
	// On a grid that divides evenly by what rhythms have.
	const grid = 480
	return score.Frac(at.Scaled(grid), grid)
}

// at finds the events that are struck or rest at a moment on a staff, chords by their notes, in the order of the layers.
func (r *reader) at(where moment, layer string, rests bool) (out []*event) {
	m := r.measures[where.measure]
	for _, l := range m.layers {
		if layer != "" && l.n != layer {
			continue
		}
		for _, ev := range l.events {
			if ev.grace != "" || ev.onset != where.onset {
				continue
			}
			notes := ev.chord
			if len(notes) == 0 {
				notes = []*event{ev}
			}
			for _, n := range notes {
				if n.staff == where.staff && (n.kind == "note" || rests && n.kind == "rest") {
					out = append(out, n)
				}
			}
		}
	}
	return out
}

// hangsOn is the note or rest on which a sign stands; nil where it stands at none.
func (r *reader) hangsOn(m *measure, e *xmltree.Element) *event {
	where, ok := r.moment(m, e, "startid", "tstamp")
	if !ok {
		return nil
	}
	if where.event != nil {
		return where.event
	}
	if all := r.at(where, e.Attribute("layer"), true); len(all) > 0 {
		if all[0].head != nil {
			return all[0].head
		}
		return all[0]
	}
	return nil
}
