package mei

// Signs that belong to notes: fermatas, slides, ornaments, arpeggios.

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/source/xmltree"
)

func (r *reader) fermata(m *measure, e *xmltree.Element) {
	kind := "upright"
	if e.Attribute("form") == "inv" || e.Attribute("place") == "below" {
		kind = "inverted"
	}
	shape := map[string]string{"angular": "angled", "square": "square"}[e.Attribute("shape")]
	f := enclosed(saying(e, "fermata", shape, "type", kind), e)
	if n := r.hangsOn(m, e); n != nil {
		n.notations = append(n.notations, f)
		return
	}
	if where, ok := r.moment(m, e, "startid", "tstamp"); ok && where.onset == m.length {
		part := r.staves[where.staff].part
		m.directions[part] = append(m.directions[part], direction{m.length, with(made(e, "barline", "location", "right"), f)})
		return
	}
	r.lostSign(m, e)
}

// glissando reads a slide from note to note.
func (r *reader) glissando(m *measure, e *xmltree.Element) {
	from := r.hangsOn(m, e)
	if from == nil {
		r.lostSign(m, e)
		return
	}
	from.notations = append(from.notations, saying(e, "glissando", r.textOf(e), "type", "start", "number", "1",
		"line-type", lineLook(e.Attribute("lform"))))
	where, _ := r.moment(m, e, "startid", "tstamp")
	if to, ended := r.end(m, e, where); ended {
		if to.event == nil {
			if there := r.at(to, e.Attribute("layer"), false); len(there) > 0 {
				to.event = there[0]
			}
		}
		if to.event != nil {
			to.event.notations = append(to.event.notations, made(e, "glissando", "type", "stop", "number", "1"))
		}
	}
}

// ornament reads a trill, a mordent or a turn with its accidentals.
func (r *reader) ornament(m *measure, e *xmltree.Element) {
	n := r.hangsOn(m, e)
	if n == nil {
		r.lostSign(m, e)
		return
	}
	place := side(e.Attribute("place"))
	var out *xmltree.Element
	switch e.Name {
	case "trill":
		out = made(e, "trill-mark", "placement", place)
	case "mordent":
		out = made(e, map[bool]string{true: "inverted-mordent", false: "mordent"}[e.Attribute("form") == "upper"], "placement", place,
			"long", yes(e.Attribute("long") == "true"))
	case "turn":
		name := "turn"
		if e.Attribute("form") == "lower" {
			name = "inverted-turn"
		}
		if e.Attribute("delayed") == "true" {
			name = "delayed-" + name
		}
		out = made(e, name, "placement", place)
	case "ornam":
		out = ornam(e, r.textOf(e), place)
	}
	n.ornaments = append(n.ornaments, enclosed(out, e))
	for _, name := range []string{"accidupper", "accidlower"} {
		if a := e.Attribute(name); a != "" {
			n.ornaments = append(n.ornaments, saying(e, "accidental-mark", accidentalName(a),
				"placement", map[string]string{"accidupper": "above", "accidlower": "below"}[name]))
		}
	}
	if from, ok := r.moment(m, e, "startid", "tstamp"); ok && e.Name == "trill" {
		if to, ended := r.end(m, e, from); ended && e.Attribute("extender") != "false" {
			n.ornaments = append(n.ornaments, made(e, "wavy-line", "type", "start", "number", "1"))
			if to.event == nil {
				to.event = r.lastBefore(n, to)
			}
			if to.event != nil {
				to.event.ornaments = append(to.event.ornaments, made(e, "wavy-line", "type", "stop", "number", "1"))
			}
		}
	}
}

// lastBefore is the last note of a layer that begins before a moment, which is not before the note that is given: up to there
// its line goes.
func (r *reader) lastBefore(n *event, to moment) *event {
	last := n
	for k := n.measure; k <= to.measure && k < len(r.measures); k++ {
		for _, l := range r.measures[k].layers {
			if l.staff != n.layer.staff || l.n != n.layer.n {
				continue
			}
			for _, ev := range l.events {
				after := k > n.measure || n.onset.Less(ev.onset)
				if ev.kind == "note" && ev.grace == "" && after && (k < to.measure || ev.onset.Less(to.onset)) {
					last = ev
				}
			}
		}
	}
	return last
}

// ornam reads an ornament that is given by its sign: by its letters, or a SMuFL glyph.
func ornam(e *xmltree.Element, text, place string) *xmltree.Element {
	name := map[string]string{
		"tr": "trill-mark", "tr.": "trill-mark", "\uE566": "trill-mark", "\uE567": "turn", "\uE568": "inverted-turn",
		"\uE56C": "inverted-mordent", "\uE56D": "mordent", "\uE587": "schleifer",
	}[text]
	if name == "" {
		return saying(e, "other-ornament", text, "placement", place)
	}
	return made(e, name, "placement", place)
}

// arpeggio gives each note of its chords the sign of a roll, or the bracket that forbids one.
func (r *reader) arpeggio(m *measure, e *xmltree.Element) {
	var events []*event
	for _, id := range strings.Fields(e.Attribute("plist") + " " + e.Attribute("startid")) {
		if n := r.named(id); n != nil && !slices.Contains(events, n) {
			events = append(events, n)
		}
	}
	if len(events) == 0 {
		n := r.hangsOn(m, e)
		if n == nil {
			r.lostSign(m, e)
			return
		}
		events = append(events, n)
	}
	r.layout.arpeggios++
	through := "" // the sign goes through several chords
	if len(events) > 1 {
		through = fmt.Sprint(r.layout.arpeggios)
	}
	bracket, parentheses := yes(e.Attribute("enclose") == "brack"), yes(e.Attribute("enclose") == "paren")
	for _, ev := range events {
		notes := []*event{ev}
		if ev.on.Name == "chord" && ev.head == nil && len(ev.chord) > 0 {
			notes = ev.chord
		}
		for _, n := range notes {
			sign := made(e, "arpeggiate", "number", through, "direction", map[string]string{"down": "down"}[e.Attribute("order")])
			if e.Attribute("order") == "nonarp" {
				sign = made(e, "non-arpeggiate", "type", "bottom")
			}
			if bracket+parentheses != "" {
				level := saying(e, "level", "editorial", "bracket", bracket, "parentheses", parentheses)
				sign = with(made(e, "notations"), level, sign)
			}
			n.notations = append(n.notations, sign)
		}
	}
}
