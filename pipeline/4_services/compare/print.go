package compare

import (
	"fmt"
	"strings"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
)

// print compares how a note that is the same music is printed: its value,
// dots, accidental, head, staff and stem.
func (c *comparison) print(a, b int) {
	m, n := &c.a.score.Notes[a], &c.b.score.Notes[b]
	k := c.al.Kinds[a]
	if !k.Has(align.DurationChanged) && !k.Has(align.GraceChanged) {
		c.values(a, b, m, n)
	}
	if x, y := c.staffToB(m.Part, m.Staff), c.b.staves.of(n.Part, n.Staff); x != y && x != 0 {
		c.at(Staff, a, b, c.a.staffWords(m.Part, m.Staff), c.b.staffWords(n.Part, n.Staff))
	}
	if m.Grace > 0 && n.Grace > 0 && m.Slashed != n.Slashed && c.firstOfChord(a) {
		c.at(GraceSlash, a, b, slashWords(m), slashWords(n))
	}
	bare := m.Stem == "none" || n.Stem == "none" // where nothing is said of it, the engraver sets a stem
	if m.Stem != n.Stem && (m.Stem != "" && n.Stem != "" || bare) && c.firstOfChord(a) && stemmed(m) {
		kind := StemOnly
		if c.a.voices(m) > 1 || c.b.voices(n) > 1 || bare {
			kind = Stem
		}
		if kind == Stem || c.layout {
			c.at(kind, a, b, m.Stem, n.Stem)
		}
	}
	if !c.unsaidAccidentals && !k.Has(align.PitchChanged) && !k.Has(align.Respelled) { // else it goes with the new note
		c.ofNote(Accidental, a, b)
	}
	c.ofNote(Notehead, a, b)
	if c.layout {
		if x, y := c.a.beamWords(a), c.b.beamWords(b); x != y && c.firstOfChord(a) {
			c.at(Beam, a, b, x, y)
		}
	}
}

// firstOfChord reports that a note of A is the first of its chord which both
// scores have: what befalls a chord is told there.
func (c *comparison) firstOfChord(a int) bool {
	if !c.a.score.Notes[a].Chord {
		return true
	}
	for n := c.a.chordHead(a); n < a; n++ {
		if c.al.ToB[n] >= 0 {
			return false
		}
	}
	return true
}

func slashWords(n *score.Note) string {
	if n.Slashed {
		return "with slash"
	}
	return "without slash"
}

// stemmed reports that a note value has a stem.
func stemmed(n *score.Note) bool { return n.Type != "whole" && n.Type != "breve" && n.Type != "long" }

// values compares the printed values of notes that last equally long.
func (c *comparison) values(a, b int, m, n *score.Note) {
	if m.Type == "" || n.Type == "" || c.listedAtHead(a, func(x, y *score.Note) bool {
		return x.Type == m.Type && y.Type == n.Type && x.Dots == m.Dots && y.Dots == n.Dots && x.Tuplet == m.Tuplet &&
			y.Tuplet == n.Tuplet
	}) {
		return
	}
	if head := c.a.struck(a); head != a && c.al.ToB[head] == c.b.struck(b) && c.al.Kinds[head].Has(align.DurationChanged) {
		return // named there, ties included
	}
	span := &c.al.Spans[c.al.SpanOfA[m.Measure]]
	tied := (m.TiedTo >= 0) != (n.TiedTo >= 0)
	switch {
	case tied && (span.A.Len() > 1 || span.B.Len() > 1): // cut by another barline
	case m.Type != n.Type:
		c.at(NoteValue, a, b, valueWords(m), valueWords(n))
	case m.Dots != n.Dots:
		c.at(Dots, a, b, valueWords(m), valueWords(n))
	case m.Tuplet.Actual*n.Tuplet.Normal != n.Tuplet.Actual*m.Tuplet.Normal:
		c.at(Tuplet, a, b, tupletWords(m.Tuplet), tupletWords(n.Tuplet))
	}
}

// listedAtHead reports that an earlier note of the chord of a has the same difference.
func (c *comparison) listedAtHead(a int, same func(x, y *score.Note) bool) bool {
	if !c.a.score.Notes[a].Chord {
		return false
	}
	for n := c.a.chordHead(a); n < a; n++ {
		if b := c.al.ToB[n]; b >= 0 && same(&c.a.score.Notes[n], &c.b.score.Notes[b]) {
			return true
		}
	}
	return false
}

func valueWords(n *score.Note) string {
	return [...]string{"", "dotted ", "double-dotted ", "triple-dotted "}[min(n.Dots, 3)] + n.Type + " note"
}

func tupletWords(t score.Tuplet) string {
	if t.Actual == 0 {
		return "no tuplet"
	}
	return fmt.Sprintf("%d:%d", t.Actual, t.Normal)
}

// ofNote compares the items of one kind that belong to a note itself.
func (c *comparison) ofNote(kind Kind, a, b int) {
	x, y := c.a.itemsOf(a, kind), c.b.itemsOf(b, kind)
	if x != y {
		c.at(kind, a, b, x, y)
	}
}

// itemsOf words the items of one kind at a note.
func (v *view) itemsOf(note int, kind Kind) string {
	first, end := v.itemsAt(note)
	out := ""
	for k := first; k < end; k++ {
		if i := &v.score.Items[k]; Kind(i.Kind) == kind {
			if out != "" {
				out += ", "
			}
			out += i.Reading
		}
	}
	return out
}

// itemsAt gives the run of items that hang on a note.
func (v *view) itemsAt(note int) (first, end int) {
	at := v.firstItem[note]
	if at == 0 {
		return 0, 0
	}
	first = int(at) - 1
	for end = first; end < len(v.score.Items) && v.score.Items[end].Note == note; end++ {
	}
	return first, end
}

// voices counts the voices of a note's measure on its staff.
func (v *view) voices(n *score.Note) int {
	return len(v.voicesOn[[2]int{n.Measure, v.staves.of(n.Part, n.Staff)}])
}

func (v *view) countVoices() {
	v.voicesOn = map[[2]int][]string{}
	for i := range v.score.Notes {
		n := &v.score.Notes[i]
		if n.Hidden {
			continue
		}
		key := [2]int{n.Measure, v.staves.of(n.Part, n.Staff)}
		known := false
		for _, voice := range v.voicesOn[key] {
			known = known || voice == n.Voice
		}
		if !known {
			v.voicesOn[key] = append(v.voicesOn[key], n.Voice)
		}
	}
}

// beamWords says how a note's chord is beamed.
func (v *view) beamWords(note int) string {
	n := &v.score.Notes[v.chordHead(note)]
	switch {
	case n.Beams == 0:
		return "no beam"
	case v.beamEnds[n.BeamGroup][0] == v.chordHead(note):
		return fmt.Sprintf("%d beams begin", n.Beams)
	case v.beamEnds[n.BeamGroup][1] == v.chordHead(note):
		return fmt.Sprintf("%d beams end", n.Beams)
	}
	return fmt.Sprintf("%d beams go through", n.Beams)
}

func (v *view) findBeams() {
	v.beamEnds = map[int][2]int{}
	for i := range v.score.Notes {
		n := &v.score.Notes[i]
		if n.Chord || n.BeamGroup == 0 {
			continue
		}
		ends, open := v.beamEnds[n.BeamGroup]
		if !open {
			ends[0] = i
		}
		ends[1] = i
		v.beamEnds[n.BeamGroup] = ends
	}
}

// measureNumbers compares the numbers of measures where both scores print them,
// and says where others differ.
func (c *comparison) measureNumbers() {
	shown := func(v *view) []bool {
		out := make([]bool, len(v.score.Measures))
		at, says := 0, false
		items := v.score.Items
		for m := range out {
			for at < len(items) && (items[at].Part <= 0 && items[at].Measure <= m) {
				if items[at].Kind == score.ItemMeasureNumbering {
					says = items[at].Reading != "none"
				}
				at++
			}
			out[m] = says && !v.score.Measures[m].Implicit
		}
		return out
	}
	inA, inB := shown(c.a), shown(c.b)
	var unsaid renumbered
	for k, s := range c.al.Spans {
		if s.A.Len() != 1 || s.B.Len() != 1 {
			continue
		}
		x, y := strings.TrimSpace(c.a.score.Measures[s.A.From].Number), strings.TrimSpace(c.b.score.Measures[s.B.From].Number)
		switch {
		case x == y:
		case !inA[s.A.From] || !inB[s.B.From]:
			unsaid.add(c, k, x, y)
		default:
			a, b := c.a.moment(s.A.From, score.Fraction{}), c.b.moment(s.B.From, score.Fraction{})
			a.Beat, b.Beat = "", ""
			c.atMoment(MeasureNumber, a, b, x, y)
		}
	}
	if said := unsaid.words(); said != "" {
		c.notSaid = append(c.notSaid, said)
	}
}
