package compare

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
)

// slur is one slur, by the notes it hangs on; -1 where the file gives it no beginning or no end.
type slur struct {
	from, to int
	look     string // of its line
}

// note is the note at which a slur is named.
func (s slur) note() int {
	if s.from >= 0 {
		return s.from
	}
	return s.to
}

// openStart and openEnd say what a slur or tie is of which the file gives one end.
const openStart, openEnd = "begins and has no end", "ends and has no beginning"

// endWords says where a slur ends, beginWords where it begins.
func (v *view) endWords(s slur) string {
	switch {
	case s.from < 0:
		return openEnd
	case s.to < 0:
		return openStart
	}
	return "to " + beatWords(v, s.to)
}

func (v *view) beginWords(s slur) string {
	if s.from < 0 {
		return openEnd
	}
	return "from " + beatWords(v, s.from)
}

// slursOf gives the slurs that have an end on a note that is compared, joined as MusicXML joins them; an end that is not
// compared counts as none.
func (v *view) slursOf() []slur {
	var out []slur
	here := func(n int) int {
		if n < 0 || !v.in[n] || v.silent(n) {
			return -1
		}
		return n
	}
	for _, x := range v.score.SlurSpans() {
		if from, to := here(x.From), here(x.To); from >= 0 || to >= 0 {
			out = append(out, slur{from, to, x.Look})
		}
	}
	return out
}

// spot is where a slur ends, in B's time: on which note of a chord it hangs
// does not matter.
type spot struct {
	at    playing.Instant
	staff int
}

// nowhere is the spot of an end that a file does not give.
var nowhere = spot{at: playing.Instant{At: score.Whole(-2)}}

func (c *comparison) spotB(n int) spot {
	if n < 0 {
		return nowhere
	}
	return spot{playing.InstantOf(c.b.score, n), c.b.score.Notes[n].Staff}
}

func (c *comparison) spotA(n int) spot {
	if n < 0 {
		return nowhere
	}
	if b := c.al.ToB[n]; b >= 0 {
		return c.spotB(b)
	}
	if b := c.al.CoverB[n]; b >= 0 {
		return c.spotB(b)
	}
	note := &c.a.score.Notes[n]
	staff := note.Staff
	if staff >= 0 && staff < len(c.al.StaffToB) {
		staff = c.al.StaffToB[staff]
	}
	m, onset, ok := c.al.MomentToB(note.Measure, note.Onset)
	at := playing.Instant{At: score.Whole(-1), Rank: playing.RankOf(c.a.score, n)}
	if ok {
		at.At = c.b.score.Measures[m].Start.Add(onset)
	}
	return spot{at, staff}
}

// slurs compares slurs by where they begin and end.
func (c *comparison) slurs() {
	type placed struct {
		slur
		from, to spot
		used     bool
	}
	var old, new []placed
	for _, s := range c.a.slursOf() {
		if c.al.Spans[c.al.SpanOfA[c.a.score.Notes[s.note()].Measure]].Paired() {
			old = append(old, placed{s, c.spotA(s.from), c.spotA(s.to), false})
		}
	}
	index := map[spot][]int{}
	for _, s := range c.b.slursOf() {
		if c.al.Spans[c.al.SpanOfB[c.b.score.Notes[s.note()].Measure]].Paired() {
			p := placed{s, c.spotB(s.from), c.spotB(s.to), false}
			index[p.from] = append(index[p.from], len(new))
			new = append(new, p)
		}
	}
	match := func(fits func(p, q *placed) bool, then func(p, q *placed)) {
		for i := range old {
			for _, j := range index[old[i].from] {
				if !old[i].used && !new[j].used && fits(&old[i], &new[j]) {
					old[i].used, new[j].used = true, true
					then(&old[i], &new[j])
				}
			}
		}
	}
	look := func(p, q *placed) {
		if p.look != q.look {
			c.at(Slur, p.slur.note(), q.slur.note(), cmp.Or(p.look, "full line"), cmp.Or(q.look, "full line"))
		}
	}
	match(func(p, q *placed) bool { return p.to == q.to }, look)
	match(func(p, q *placed) bool { return p.to.at == q.to.at }, look)
	match(func(p, q *placed) bool { return p.slur.from >= 0 }, func(p, q *placed) {
		c.at(Slur, p.slur.from, q.slur.from, c.a.endWords(p.slur), c.b.endWords(q.slur))
	})
	byEnd := map[spot][]int{}
	for j := range new {
		byEnd[new[j].to] = append(byEnd[new[j].to], j)
	}
	for i := range old {
		for _, j := range byEnd[old[i].to] {
			if !old[i].used && !new[j].used && old[i].slur.to >= 0 {
				old[i].used, new[j].used = true, true
				c.at(Slur, old[i].slur.note(), new[j].slur.note(), c.a.beginWords(old[i].slur), c.b.beginWords(new[j].slur))
			}
		}
	}
	for i := range old {
		if !old[i].used {
			c.at(Slur, old[i].slur.note(), c.al.ToB[old[i].slur.note()], c.a.endWords(old[i].slur), "")
		}
	}
	for j := range new {
		if !new[j].used {
			c.at(Slur, c.al.ToA[new[j].slur.note()], new[j].slur.note(), "", c.b.endWords(new[j].slur))
		}
	}
}

// sign is one thing at a chord: an articulation, an ornament, a roll.
type sign struct {
	kind  Kind
	words string
}

func (c *comparison) signsOf(v *view, n int) []sign {
	var out []sign
	first, end := v.itemsAt(n)
	for k := first; k < end; k++ {
		i := &v.score.Items[k]
		kind := Kind(i.Kind)
		if reaches[i.Kind] != atChord || kindClass[kind] == Layout && !c.layout || kind == Tuplet && c.unsaidTuplets {
			continue
		}
		s := sign{kind, i.Reading}
		if slices.Contains(out, s) {
			s.words += ", once more" // two of them stand at the note
		}
		out = append(out, s)
	}
	return out
}

// signAt is a sign that the other score's chord lacks, at the note of this one, by the chord of B.
type signAt struct {
	sign
	note, chord int
}

// chordSigns compares the signs of chords. A sign counts for its whole chord,
// since files hang it on one of the notes, on each, or on each voice: it
// is missing where no note of the chord's counterparts, nor of their chords,
// has it. One of the same kind that came there in its stead is told with it.
func (c *comparison) chordSigns() {
	gone := c.signsOneWay(c.a, c.b, c.al.ToB, func(n int) int { return c.b.chordHead(c.al.ToB[n]) })
	come := c.signsOneWay(c.b, c.a, c.al.ToA, c.b.chordHead)
	type spot struct {
		chord int
		kind  Kind
	}
	instead := map[spot][]int{}
	for j, s := range come {
		k := spot{s.chord, s.kind}
		instead[k] = append(instead[k], j)
	}
	used := make([]bool, len(come))
	for _, s := range gone {
		new := ""
		k := spot{s.chord, s.kind}
		if list := instead[k]; len(list) > 0 {
			new, used[list[0]], instead[k] = come[list[0]].words, true, list[1:]
		}
		c.at(s.kind, s.note, c.al.ToB[s.note], s.words, new)
	}
	for j, s := range come {
		if !used[j] {
			c.at(s.kind, c.al.ToA[s.note], s.note, "", s.words)
		}
	}
}

func (c *comparison) signsOneWay(from, to *view, other []int, chordOfB func(n int) int) (out []signAt) {
	mine, theirs := from.chords(), to.chords()
	for head, chord := range mine {
		if len(chord) == 0 {
			continue
		}
		var named []sign
		for _, n := range chord {
			if other[n] < 0 || from.silent(n) {
				continue
			}
			for _, s := range c.signsOf(from, n) {
				if slices.Contains(named, s) {
					continue
				}
				named = append(named, s)
				if !c.hasSign(to, theirs, mine[head], other, s) {
					out = append(out, signAt{s, n, chordOfB(n)})
				}
			}
		}
	}
	return out
}

// hasSign looks for a sign in all chords that counterparts of a chord belong to.
func (c *comparison) hasSign(v *view, chords [][]int, of []int, other []int, s sign) bool {
	for _, n := range of {
		if other[n] < 0 {
			continue
		}
		for _, m := range chords[v.chordHead(other[n])] {
			if slices.Contains(c.signsOf(v, m), s) {
				return true
			}
		}
	}
	return false
}

// chordHead gives the first note of the chord a note belongs to.
func (v *view) chordHead(n int) int {
	for n > 0 && v.score.Notes[n].Chord {
		n--
	}
	return n
}

// chords lists the notes of each chord under the index of its first note.
func (v *view) chords() [][]int {
	out := make([][]int, len(v.score.Notes))
	for i := range v.score.Notes {
		if v.in[i] {
			h := v.chordHead(i)
			out[h] = append(out[h], i)
		}
	}
	return out
}
