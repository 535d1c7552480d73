package compare

import (
	"cmp"
	"strconv"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
)

// loose is a main digit that one side has at a note and the other has not.
type loose struct {
	note int
	text string
	used bool
	lone bool // its note has no counterpart either
}

// words are what a report says of the digit.
func (l *loose) words() string {
	if l.lone {
		return l.text + withItsNote
	}
	return l.text
}

// withItsNote says of a digit that it is not alone.
const withItsNote = " (with its note)"

// digits compares the digits of paired notes, then looks whether one that
// went missing came back at a neighbour.
func (c *comparison) digits() {
	var gone, come []loose
	for a := range c.a.score.Notes {
		b := c.al.ToB[a]
		if b < 0 || c.a.silent(a) && c.b.silent(b) {
			continue
		}
		x, y := readingOf(&c.a.score.Notes[a]), readingOf(&c.b.score.Notes[b])
		if len(x) == 0 && len(y) == 0 {
			continue
		}
		g, n := c.compareReadings(a, b, x, y)
		gone, come = append(gone, g...), append(come, n...)
	}
	// Digits at notes that found no counterpart of their own but one that
	// sounds there (unisons, split ties) are judged with it.
	gone = append(gone, c.looseAt(c.a, c.al.ToB, c.al.CoverB, c.al.SpanOfA)...)
	come = append(come, c.looseAt(c.b, c.al.ToA, c.al.CoverA, c.al.SpanOfB)...)
	c.inLostMeasures()
	if c.restDigits { // once, with the first parts that are compared
		c.restDigits = false
		g, n := c.digitsAtRests()
		gone, come = append(gone, g...), append(come, n...)
	}
	gone, come = c.atOtherVoice(gone, c.a, c.b, c.al.ToB), c.atOtherVoice(come, c.b, c.a, c.al.ToA)
	c.moves(gone, come)
	for _, g := range gone {
		if !g.used {
			c.at(DigitMissing, g.note, c.al.ToB[g.note], g.words(), "")
		}
	}
	for _, n := range come {
		if !n.used {
			c.at(DigitAdded, c.al.ToA[n.note], n.note, "", n.words())
		}
	}
}

// looseAt lists the digits of notes that are only covered; and of those that the other side lacks, where nothing tells of
// the notes themselves: the text is not asked for, or they are tied to one that is told.
func (c *comparison) looseAt(v *view, to, cover, spanOf []int) []loose {
	var out []loose
	for i := range v.score.Notes {
		n := &v.score.Notes[i]
		if !v.in[i] || to[i] >= 0 || v.silent(i) || len(n.Indications) == 0 || !c.al.Spans[spanOf[n.Measure]].Paired() {
			continue
		}
		lone := cover[i] < 0
		if lone && c.text && n.TiedFrom < 0 {
			continue
		}
		for _, d := range readingOf(n) {
			out = append(out, loose{note: i, text: d.text, lone: lone})
		}
	}
	return out
}

// inLostMeasures tells of the digits in measures that one side lacks, where the text is not asked for: else the measures are
// told with them. What a repeat writes out is compared by itself.
func (c *comparison) inLostMeasures() {
	if c.text {
		return
	}
	each := func(v *view, spanOf []int, inB bool, tell func(n int, words string)) {
		for i := range v.score.Notes {
			n := &v.score.Notes[i]
			if len(n.Indications) == 0 || !v.in[i] || v.silent(i) || c.al.Spans[spanOf[n.Measure]].Paired() || c.inCopies[sided{inB, n.Measure}] {
				continue
			}
			for _, d := range readingOf(n) {
				tell(i, d.text+withItsNote)
			}
		}
	}
	each(c.a, c.al.SpanOfA, false, func(n int, words string) { c.at(DigitMissing, n, -1, words, "") })
	each(c.b, c.al.SpanOfB, true, func(n int, words string) { c.at(DigitAdded, -1, n, "", words) })
}

// inLostParts tells likewise of the digits in parts that one side lacks.
func (c *comparison) inLostParts() {
	if c.text || c.a.staves.total == c.b.staves.total {
		return
	}
	for i := range c.a.score.Notes {
		if n := &c.a.score.Notes[i]; c.partToB[n.Part] < 0 && !c.a.silent(i) {
			for _, d := range readingOf(n) {
				c.at(DigitMissing, i, -1, d.text+withItsNote, "")
			}
		}
	}
	for i := range c.b.score.Notes {
		if n := &c.b.score.Notes[i]; c.lacked(n.Part) && !c.b.silent(i) {
			for _, d := range readingOf(n) {
				c.at(DigitAdded, -1, i, "", d.text+withItsNote)
			}
		}
	}
}

// compareReadings tells what differs between the digits of two paired notes;
// main digits that one side lacks are given back.
func (c *comparison) compareReadings(a, b int, x, y reading) (gone, come []loose) {
	usedX, usedY := make([]bool, len(x)), make([]bool, len(y))
	match := func(fits func(p, q digit) bool, then func(p, q digit)) {
		for i := range x {
			for j := range y {
				if !usedX[i] && !usedY[j] && fits(x[i], y[j]) {
					usedX[i], usedY[j] = true, true
					then(x[i], y[j])
				}
			}
		}
	}
	match(func(p, q digit) bool {
		return p.role == q.role && p.text == q.text && p.responsibility == q.responsibility
	},
		func(p, q digit) { c.kept(b, p); c.looks(a, b, p, q) })
	match(func(p, q digit) bool { return p.role == q.role && p.text == q.text },
		func(p, q digit) { c.kept(b, p); c.looks(a, b, p, q) })
	var substituted, offeredOther, roleChanged bool
	var changed [][2]string // digits of one finger each, of the old side and of the new
	note := func(r role) {
		substituted = substituted || r == changedTo
		offeredOther = offeredOther || r == offered
	}
	match(func(p, q digit) bool { return p.text == q.text }, // a digit that changed its role
		func(p, q digit) { roleChanged = true; note(p.role); note(q.role); c.looks(a, b, p, q) })
	match(func(p, q digit) bool { return p.role == q.role },
		func(p, q digit) {
			if p.role == mainDigit {
				changed = append(changed, [2]string{p.text, q.text})
			}
			note(p.role)
			c.looks(a, b, p, q)
		})
	for i, d := range x {
		if !usedX[i] {
			if d.role == mainDigit {
				gone = append(gone, loose{note: a, text: d.text})
			}
			note(d.role)
		}
	}
	for j, d := range y {
		if !usedY[j] {
			if d.role == mainDigit {
				come = append(come, loose{note: b, text: d.text})
			}
			note(d.role)
		}
	}
	if len(gone)+len(come) == 0 && !roleChanged && !substituted && !offeredOther && len(x) == len(y) && changed == nil {
		for i := range x {
			if x[i].text != y[i].text { // the same digits in another order
				c.at(DigitChanged, a, b, x.String(), y.String())
				break
			}
		}
	}
	if roleChanged {
		gone, come = nil, nil // named with the whole reading: "4–3" became "3"
	}
	if changed != nil && len(gone)+len(come) == 0 && len(x)+len(y) > 2 { // "2–1" became "1–1": which of them would "1" be?
		c.at(DigitChanged, a, b, x.String(), y.String())
		return nil, nil
	}
	for _, of := range changed {
		c.at(DigitChanged, a, b, of[0], of[1])
	}
	if substituted {
		c.at(Substitution, a, b, x.String(), y.String())
	}
	if offeredOther {
		c.at(Alternative, a, b, x.String(), y.String())
	}
	return gone, come
}

// kept remembers that a note's digit stayed.
func (c *comparison) kept(b int, d digit) {
	if d.role == mainDigit {
		c.keptDigits = append(c.keptDigits, b)
	}
}

// looks compares what is not the digit itself. Responsibility counts where
// both sides know it. Many files give no side and mean the engraver's, which is
// known where a staff has one voice: there a side that is given is held against it.
func (c *comparison) looks(a, b int, p, q digit) {
	if p.responsibility != score.Unattributed && q.responsibility != score.Unattributed &&
		(p.responsibility != q.responsibility || p.agent != q.agent) {
		c.at(Responsibility, a, b, q.text+": "+whoWords(p), q.text+": "+whoWords(q)).look = [2]string{whoWords(p), whoWords(q)}
	}
	if p.style != q.style {
		x, y := styleWords(p.style), styleWords(q.style)
		c.at(Style, a, b, p.text+" "+x, q.text+" "+y).look = [2]string{x, y}
	}
	if p.placement == q.placement || p.hides() != q.hides() && (p.role == changedTo || !c.againstUsual(a, b, p.placement, q.placement)) {
		return
	}
	x, y := sideWords(p.placement), sideWords(q.placement)
	c.at(Placement, a, b, p.text+" "+x, q.text+" "+y).look = [2]string{x, y}
}

// hides reports that a file does not say on which side a digit stands.
func (d digit) hides() bool { return d.placement == score.PlacementUnset }

func sideWords(p score.Placement) string {
	if p == score.PlacementUnset {
		return "(no side given)"
	}
	return p.String()
}

// againstUsual reports that of two sides, of which one file gives one, this is not the usual one: above the upper staff of
// two, below the lower one (common practice). Where a staff has several voices, or a voice goes over to it, nobody knows
// where an engraver puts a digit whose side is not given: reports name that as not compared.
func (c *comparison) againstUsual(a, b int, p, q score.Placement) bool {
	for _, of := range []struct {
		v *view
		n int
	}{{c.a, a}, {c.b, b}} {
		note := &of.v.score.Notes[of.n]
		if of.v.voices(note) > 1 || note.HomeStaff != 0 && note.HomeStaff != note.Staff {
			return false
		}
	}
	usual := map[score.Hand]score.Placement{score.Right: score.Above, score.Left: score.Below}[c.b.hand(b)]
	given := p
	if p == score.PlacementUnset {
		given = q
	}
	return usual != score.PlacementUnset && given != usual
}

func (v *view) noteWords(n int) string {
	if v.score.Notes[n].Kind == score.Rest {
		return "a rest, beat " + v.beatOf(n)
	}
	return v.score.Notes[n].Pitch.String() + ", beat " + v.beatOf(n)
}

// results compares what two runs worked out where nothing is printed: fingers,
// hands, redistributions.
func (c *comparison) results() {
	for a := range c.a.score.Notes {
		b := c.al.ToB[a]
		if b < 0 {
			continue
		}
		p, q := c.a.result[a], c.b.result[b]
		if p == nil || q == nil {
			continue
		}
		if p.Hand != q.Hand {
			c.at(HandOf, a, b, handWords(p.Hand), handWords(q.Hand))
		}
		if p.Printed && q.Printed && p.Finger == q.Finger && p.Responsibility != q.Responsibility {
			finger := fingerWords(p.Finger)
			c.at(Responsibility, a, b, finger+": "+p.Responsibility.String(), finger+": "+q.Responsibility.String())
		}
		if p.Finger != q.Finger && !(p.Printed && q.Printed) {
			c.at(Suggestion, a, b, fingerWords(p.Finger), fingerWords(q.Finger))
		}
	}
	c.redistributions()
	c.rolls()
}

func fingerWords(f int) string {
	if f == 0 {
		return "none"
	}
	return strconv.Itoa(f)
}

func handWords(h score.Hand) string { return cmp.Or(h.Words(), "no hand") }

// redistributions compares which notes are offered to the other hand: by their
// notes, since ids may be given anew in each run.
func (c *comparison) redistributions() {
	type offer struct {
		first    int
		text     string
		key      string
		decision string
	}
	tell := func(v *view, toOther []int) []offer {
		var out []offer
		for _, r := range v.side.Result.Redistributions {
			if len(r.Notes) == 0 {
				continue
			}
			o := offer{first: r.Notes[0].N, decision: "suggested"}
			if r.Decided {
				o.decision = "decided"
			}
			o.key = handWords(r.To)
			fingers := ""
			for _, n := range r.Notes {
				at := n.N
				if toOther != nil {
					at = toOther[n.N]
				}
				o.key += " " + strconv.Itoa(at)
				fingers += " " + strconv.Itoa(n.Finger)
			}
			o.text = wording.Count(len(r.Notes),
				"note") + " to the " + handWords(r.To) + ", fingers" + fingers + ", " + o.decision
			out = append(out, o)
		}
		return out
	}
	old, new := tell(c.a, c.al.ToB), tell(c.b, nil)
	used := make([]bool, len(new))
	for _, o := range old {
		found := -1
		for j, n := range new {
			if !used[j] && n.key == o.key {
				found = j
				break
			}
		}
		switch {
		case found < 0:
			c.at(Redistribution, o.first, c.al.ToB[o.first], o.text, "")
		default:
			used[found] = true
			if new[found].text != o.text {
				c.at(Redistribution, o.first, new[found].first, o.text, new[found].text)
			}
		}
	}
	for j, n := range new {
		if !used[j] {
			c.at(Redistribution, c.al.ToA[n.first], n.first, "", n.text)
		}
	}
}
