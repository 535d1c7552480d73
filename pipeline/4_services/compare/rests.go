package compare

import (
	"cmp"
	"slices"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
)

// rest is a rest that is printed, in B's time.
type rest struct {
	note   int
	at     score.Fraction
	staff  int
	words  string
	used   bool
	hidden bool // stands in the file, and is not printed
}

func (c *comparison) restsOf(v *view, inA bool) []rest {
	var out []rest
	for i := range v.score.Notes {
		n := &v.score.Notes[i]
		if n.Kind != score.Rest {
			continue
		}
		r := rest{note: i, words: v.restWords(n), hidden: n.Hidden}
		ok := false
		if inA {
			r.at, ok = c.timeInA(n.Measure, n.Onset, false)
			r.staff = c.staffToB(n.Part, n.Staff)
		} else {
			r.at, ok = c.timeInB(n.Measure, n.Onset)
			r.staff = v.staves.of(n.Part, n.Staff)
		}
		if ok && r.staff > 0 && (inA || !c.lacked(n.Part)) {
			out = append(out, r)
		}
	}
	return out
}

// restWords names a rest: one that fills its measure is a whole rest whatever the file calls it.
func (v *view) restWords(n *score.Note) string {
	if n.Onset.Sign() == 0 && n.Duration == v.score.Measures[n.Measure].Length && n.Duration.Sign() > 0 &&
		(n.Type == "" || n.Type == "whole") {
		return "whole-measure rest"
	}
	if n.Type == "" {
		return "rest of " + quarters(n.Duration)
	}
	return [...]string{"", "dotted ", "double-dotted ", "triple-dotted "}[min(n.Dots, 3)] + n.Type + " rest"
}

// rests compares printed rests by moment and staff. One that came or went with
// a note that came or went at its time is told with the note.
func (c *comparison) rests() {
	old, new := c.restsOf(c.a, true), c.restsOf(c.b, false)
	type spot struct {
		at    score.Fraction
		staff int
	}
	index := map[spot][]int{}
	for j := range new {
		s := spot{new[j].at, new[j].staff}
		index[s] = append(index[s], j)
	}
	match := func(fits func(p, q *rest) bool, then func(p, q *rest)) {
		for i := range old {
			if old[i].used {
				continue
			}
			for _, j := range index[spot{old[i].at, old[i].staff}] {
				if !new[j].used && fits(&old[i], &new[j]) {
					old[i].used, new[j].used = true, true
					then(&old[i], &new[j])
					break
				}
			}
		}
	}
	changed := c.changedTimes()
	tell := func(p, q *rest) {
		switch x, y := p.shown(), q.shown(); {
		case x == y:
		case p.hidden || q.hidden || !c.explained(changed, c.a, p) && !c.explained(changed, c.b, q):
			c.at(Rest, p.note, q.note, x, y)
		}
	}
	alike := func(p, q *rest) bool {
		m, n := &c.a.score.Notes[p.note], &c.b.score.Notes[q.note]
		return p.words == q.words || (m.Type == "" || n.Type == "") && m.Duration == n.Duration
	}
	match(func(p, q *rest) bool { return p.hidden == q.hidden && alike(p, q) }, func(p, q *rest) {})
	match(func(p, q *rest) bool { return !p.hidden && !q.hidden }, tell)
	match(alike, tell)
	for i := range old {
		if r := &old[i]; !r.used && !r.hidden && !c.explained(changed, c.a, r) {
			c.at(Rest, r.note, -1, r.words, "")
		}
	}
	for j := range new {
		if r := &new[j]; !r.used && !r.hidden && !c.explained(changed, c.b, r) {
			c.at(Rest, -1, r.note, "", r.words)
		}
	}
}

func (r *rest) shown() string {
	if r.hidden {
		return "hidden"
	}
	return r.words
}

// stretch is a time on a staff in which notes came, went, or changed their length.
type stretch struct {
	staff    int
	from, to score.Fraction
}

// changedTimes lists, in B's time, where the notes told so far take another time.
func (c *comparison) changedTimes() []stretch {
	var out []stretch
	add := func(v *view, inA bool, n int) (s stretch, ok bool) {
		note := &v.score.Notes[n]
		if isGrace(note) { // it takes none
			return s, false
		}
		if inA {
			s.from, ok = c.timeInA(note.Measure, note.Onset, false)
			s.staff = c.staffToB(note.Part, note.Staff)
		} else {
			s.from, ok = c.timeInB(note.Measure, note.Onset)
			s.staff = v.staves.of(note.Part, note.Staff)
		}
		s.to = s.from.Add(note.Duration)
		return s, ok
	}
	for k := range c.changes {
		ch := &c.changes[k]
		switch ch.Kind {
		case NoteMissing, NoteAdded, Duration, Onset, GraceSize, NoteSize, Unison, Tie, NoteValue, Staff, Unpitched:
		default:
			continue
		}
		var both []stretch
		if ch.A != nil && ch.A.Note >= 0 {
			if s, ok := add(c.a, true, ch.A.Note); ok {
				both = append(both, s)
			}
		}
		if ch.B != nil && ch.B.Note >= 0 {
			if s, ok := add(c.b, false, ch.B.Note); ok {
				both = append(both, s)
			}
		}
		if len(both) == 2 && both[0].staff == both[1].staff { // and what lies between
			both = []stretch{{both[0].staff, score.Min(both[0].from, both[1].from), score.Max(both[0].to, both[1].to)}}
		}
		out = append(out, both...)
	}
	slices.SortFunc(out, func(p, q stretch) int { return cmp.Or(cmp.Compare(p.staff, q.staff), p.from.Cmp(q.from)) })
	return out
}

// explained reports that a rest lies wholly in the time of a note that is told.
func (c *comparison) explained(changed []stretch, v *view, r *rest) bool {
	end := r.at.Add(v.score.Notes[r.note].Duration)
	for _, s := range changed {
		if s.staff == r.staff && !r.at.Less(s.from) && r.at.Less(s.to) && !s.to.Less(end) {
			return true
		}
	}
	return false
}

// tieMarks tells of ties whose beginning one side leaves out, though their end arrives.
func (c *comparison) tieMarks(a, b int) {
	m, n := &c.a.score.Notes[a], &c.b.score.Notes[b]
	lost := func(x, y *score.Note) bool { return x.TieStart && x.TiedTo >= 0 && !y.TieStart && y.TiedTo < 0 }
	switch {
	case lost(m, n):
		if to := c.al.ToB[m.TiedTo]; to >= 0 && !c.al.Kinds[m.TiedTo].Has(align.TieChanged) && c.b.score.Notes[to].TieStop {
			c.at(Tie, m.TiedTo, to, "tied", "struck")
		}
	case lost(n, m):
		if to := c.al.ToA[n.TiedTo]; to >= 0 && !c.al.Kinds[to].Has(align.TieChanged) && c.a.score.Notes[to].TieStop {
			c.at(Tie, to, n.TiedTo, "struck", "tied")
		}
	}
	c.openTies(a, b)
}

// openTies compares the ties of which a file gives one end, where the other score has
// none; a beginning that leads to its note is the tie itself, whether the file gives the end or not.
func (c *comparison) openTies(a, b int) {
	m, n := &c.a.score.Notes[a], &c.b.score.Notes[b]
	words := func(open, other bool, what string) string {
		if open && !other {
			return what
		}
		return ""
	}
	starts := func(x *score.Note) bool { return x.TieStart || x.TiedTo >= 0 }
	stops := func(x *score.Note) bool { return x.TieStop || x.TiedFrom >= 0 }
	x := words(m.TieStart && m.TiedTo < 0, starts(n), openStart)
	y := words(n.TieStart && n.TiedTo < 0, starts(m), openStart)
	if x != y {
		c.at(Tie, a, b, x, y)
	}
	x = words(m.TieStop && m.TiedFrom < 0, stops(n), openEnd)
	y = words(n.TieStop && n.TiedFrom < 0, stops(m), openEnd)
	if x != y {
		c.at(Tie, a, b, x, y)
	}
}
