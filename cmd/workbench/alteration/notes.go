package alteration

import (
	"github.com/beevik/etree"

	"fingerproof/corpus/score"
)

// shorten halves a note outside chords and fills up with a rest.
func shorten(d *Draft) bool {
	suits := func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && !inChord(e) && halves(e) && e.SelectElement("rest") == nil && n.Tremolo.Strokes == 0
	}
	return d.change("duration", suits, func(e *etree.Element) {
		half := intOf(e, "duration") / 2
		setInt(e, "duration", half)
		e.Parent().InsertChildAt(e.Index()+1, restLike(e, half))
	})
}

// swapWithRest exchanges a note outside chords with the rest after it.
func swapWithRest(d *Draft) bool {
	suits := func(e *etree.Element, n *score.Note) bool {
		next := nextElement(e)
		if next == nil || next.Tag != "note" || next.SelectElement("rest") == nil || next.SelectElement("chord") != nil {
			return false
		}
		short := n.Duration.Cmp(score.Whole(2)) <= 0 && d.old.Notes[d.OldN[next]].Duration.Cmp(score.Whole(1)) <= 0
		return short && loneStroke(n) && e.SelectElement("chord") == nil && intOf(next, "duration") > 0 &&
			intOf(next, "voice") == intOf(e, "voice")
	}
	return d.change("onset", suits, func(e *etree.Element) {
		next := nextElement(e)
		p := e.Parent()
		p.RemoveChild(next)
		p.InsertChildAt(e.Index(), next)
	})
}

func dropTie(d *Draft) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		return n.TiedTo >= 0 && n.TiedFrom < 0 && d.old.Notes[n.TiedTo].TiedTo < 0
	})
	if e == nil {
		return false
	}
	from := d.OldN[e]
	to := d.old.Notes[from].TiedTo
	for other, i := range d.OldN { // finds the one element; the order does not matter
		if i == to {
			dropTies(other)
			d.plant("tie", other)
		}
	}
	dropTies(e)
	return true
}

func dropTies(e *etree.Element) {
	for _, t := range e.SelectElements("tie") {
		e.RemoveChild(t)
	}
	for _, t := range e.FindElements("notations/tied") {
		t.Parent().RemoveChild(t)
	}
}

// DropNote takes a note out: another note of its chord stays, or a rest.
func DropNote(d *Draft) bool {
	suits := func(e *etree.Element, n *score.Note) bool {
		plain := n.Arpeggio == score.Arpeggio{} && n.Marks == 0 && len(n.Ornaments) == 0
		return plain && loneStroke(n) && d.free(d.OldN[e], n.Midi, 0)
	}
	return d.change("note-missing", suits, func(e *etree.Element) {
		p := e.Parent()
		switch next := nextElement(e); {
		case e.SelectElement("chord") != nil:
		case next != nil && next.Tag == "note" && next.SelectElement("chord") != nil:
			next.RemoveChild(next.SelectElement("chord"))
		default:
			p.InsertChildAt(e.Index(), restLike(e, intOf(e, "duration")))
		}
		p.RemoveChild(e)
	})
}

// AddNote puts a note more into a chord, far enough from its neighbours.
func AddNote(d *Draft) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && n.Midi > 40 && n.Midi < 90 && d.free(d.OldN[e], n.Midi+7, 0)
	})
	if e == nil {
		return false
	}
	n := e.Copy()
	n.RemoveAttr("id")
	n.RemoveAttr("default-x")
	if n.SelectElement("chord") == nil {
		n.InsertChildAt(0, etree.NewElement("chord"))
	}
	for _, tag := range []string{"notations", "beam", "lyric"} {
		for _, c := range n.SelectElements(tag) {
			n.RemoveChild(c)
		}
	}
	for _, c := range n.SelectElements("accidental") {
		n.RemoveChild(c)
	}
	old := &d.old.Notes[d.OldN[e]]
	key := old.Midi + 7
	names := [...]struct {
		step  string
		alter int
	}{
		{"C", 0}, {"C", 1}, {"D", 0}, {"E", -1}, {"E", 0}, {"F", 0},
		{"F", 1}, {"G", 0}, {"A", -1}, {"A", 0}, {"B", -1}, {"B", 0},
	}
	key -= old.Midi - old.Pitch.Midi()
	SetPitch(n, names[key%12].step, names[key%12].alter, key/12-1)
	e.Parent().InsertChildAt(e.Index()+1, n)
	d.plant("note-added", n)
	return true
}

func addStaccato(d *Draft) bool {
	suits := func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && !inChord(e) && n.Marks&score.Staccato == 0
	}
	return d.change("articulation", suits, func(e *etree.Element) {
		NotationsOf(e).CreateElement("articulations").CreateElement("staccato")
	})
}

func dropSlur(d *Draft) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool { return len(n.Slurs) == 1 && n.Slurs[0].Start })
	if e == nil {
		return false
	}
	start := e.FindElement("notations/slur")
	if start == nil {
		return false
	}
	number := start.SelectAttrValue("number", "1")
	seen := false
	part := e.Parent().Parent()
	for _, other := range part.FindElements("measure/note") {
		if other == e {
			seen = true
			continue
		}
		if !seen {
			continue
		}
		for _, s := range other.FindElements("notations/slur") {
			if s.SelectAttrValue("number", "1") != number {
				continue
			}
			if s.SelectAttrValue("type", "") != "stop" || intOf(other, "voice") != intOf(e, "voice") || d.touchedAway(other) {
				return false
			}
			s.Parent().RemoveChild(s)
			start.Parent().RemoveChild(start)
			d.plant("slur", e)
			return true
		}
	}
	return false
}
