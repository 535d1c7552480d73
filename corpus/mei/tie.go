package mei

import (
	"strings"

	"fingerproof/corpus/source/xmltree"
)

// tie joins two notes, or the notes of two chords: those that ids name, or that stand at its beats.
func (r *reader) tie(m *measure, e *xmltree.Element) {
	from, begins := r.moment(m, e, "startid", "tstamp")
	starts, stops := r.tiedAt(from, e, "startid"), []*event(nil)
	if !begins {
		starts = nil
	}
	if to, ended := r.end(m, e, from); ended && (begins || to.event != nil) {
		stops = r.tiedAt(to, e, "endid")
	}
	if len(starts)+len(stops) == 0 {
		r.lostSign(m, e)
		return
	}
	byBeat := len(starts) > 0 && len(stops) > 0 && (from.event == nil || r.named(e.Attribute("endid")) == nil)
	look := lineLook(e.Attribute("lform"))
	before := len(r.tied)
	for _, a := range starts {
		for _, b := range stops {
			if a.pitch.step == b.pitch.step && a.pitch.octave == b.pitch.octave {
				r.tied = append(r.tied, pair{a, b})
				a.tieStart, b.tieStop = a.tieStart || byBeat, b.tieStop || byBeat
				if byBeat {
					a.tieLook = look
				}
			}
		}
	}
	if byBeat { // of all that stands there, what has its like at the other end
		if len(r.tied) == before {
			r.leftOut(m, e, "ties notes at beats where none has its like")
		}
		return
	}
	for _, a := range starts {
		a.tieStart, a.tieLook = true, look
	}
	for _, b := range stops {
		b.tieStop = true
	}
}

// tiedAt are the notes at one end of a tie: of a chord that is named all.
func (r *reader) tiedAt(where moment, e *xmltree.Element, name string) []*event {
	n := where.event
	switch {
	case n == nil && where.staff > 0:
		return r.at(where, e.Attribute("layer"), false)
	case n == nil:
		return nil
	case n.on.Name == "chord" && n.head == nil && strings.TrimPrefix(e.Attribute(name), "#") == idOf(n.on):
		return n.chord
	}
	return []*event{n}
}
