package mei

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// notation gives notes and moments the signs that stand beside the notes in the document.
func (r *reader) notation() error {
	var slurs []slur
	r.octaves()
	for _, m := range r.measures {
		for _, c := range m.controls {
			r.called = m.names[c]
			switch c.Name {
			case "slur", "phrase":
				slurs = r.slur(slurs, m, c)
			case "fing":
				r.fing(m, c, nil)
			case "fingGrp":
				r.fingGroup(m, c)
			default:
				r.control(m, c)
			}
			if r.called == nil {
				slurs = r.repeatedSigns(m, c, slurs)
			}
			r.called = nil
		}
	}
	r.number(slurs)
	r.tiedOver()
	return nil
}

// control takes up one sign.
func (r *reader) control(m *measure, e *xmltree.Element) {
	if strings.HasPrefix(idOf(e), idPrefix) && slices.Contains(strings.Fields(e.Attribute("type")), typeRoll) {
		switch e.Name {
		case "arpeg":
			r.layout.rolls = append(r.layout.rolls, e.Span)
		case "dir":
			r.layout.rollWords = append(r.layout.rollWords, e.Span)
		}
	}
	switch e.Name {
	case "tie":
		r.tie(m, e)
	case "lv":
		r.atNote(m, e, func(n *event) { n.notations = append(n.notations, made(e, "tied", "type", "let-ring")) })
	case "fermata":
		r.fermata(m, e)
	case "breath", "caesura":
		name := map[string]string{"breath": "breath-mark", "caesura": "caesura"}[e.Name]
		r.atNote(m, e, func(n *event) {
			n.articulation = append(n.articulation, made(e, name, "placement", side(e.Attribute("place"))))
		})
	case "trill", "mordent", "turn", "ornam":
		r.ornament(m, e)
	case "arpeg":
		r.arpeggio(m, e)
	case "gliss":
		r.glissando(m, e)
	case "dynam", "dir", "attacca", "stageDir", "anchoredText", "tempo", "reh", "repeatMark", "harm", "pedal", "octave", "hairpin", "bracketSpan", "line":
		r.direction(m, e)
	}
}

// atNote does something at the note that a sign hangs on.
func (r *reader) atNote(m *measure, e *xmltree.Element, do func(*event)) {
	n := r.hangsOn(m, e)
	if n == nil && (e.Name == "breath" || e.Name == "caesura") {
		n = r.before(m, e)
	}
	if n == nil {
		r.lostSign(m, e)
		return
	}
	do(n)
}

// before is the last note of a staff that begins before the beat at which a sign stands: a breath is taken between notes,
// and belongs to the one before it.
func (r *reader) before(m *measure, e *xmltree.Element) *event {
	where, ok := r.moment(m, e, "startid", "tstamp")
	if !ok || where.event != nil {
		return nil
	}
	var last *event
	for _, l := range r.measures[where.measure].layers {
		if of := e.Attribute("layer"); of != "" && of != l.n {
			continue
		}
		for _, ev := range l.events {
			if ev.kind == "note" && ev.grace == "" && ev.staff == where.staff && ev.onset.Less(where.onset) &&
				(last == nil || last.onset.Less(ev.onset)) {
				last = ev
			}
		}
	}
	return last
}

// lostSign notes a sign that stands nowhere, and is left out.
func (r *reader) lostSign(m *measure, e *xmltree.Element) {
	why := "says neither at which note nor at which beat it stands (@startid, @tstamp)"
	id, stamp := either(e, "startid", "plist", "endid"), e.Attribute("tstamp")
	_, counted := decimal(stamp)
	switch {
	case id != "":
		why = fmt.Sprintf("stands at %.40q, which is no note", id)
	case counted:
		why = fmt.Sprintf("stands at beat %.10s, where no note begins on its staff", stamp)
	case stamp != "":
		return // that was said
	}
	r.leftOut(m, e, why)
}

// leftOut notes a sign that is left out, and why.
func (r *reader) leftOut(m *measure, e *xmltree.Element, why string) {
	if len(r.odd) < mostOddities {
		r.odd = append(r.odd, oddity{score.OddValue, nil, m.index, e, fmt.Sprintf("a sign (<%s>) %s; it is left out", e.Name, why)})
	}
}
