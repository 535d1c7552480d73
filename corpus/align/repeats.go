package align

import (
	"slices"

	"fingerproof/corpus/score"
)

// Bounds of the search for repeats written out.
const (
	mostCandidates = 16  // places tried for the beginning of a copy
	copyLikeness   = 700 // least likeness of a measure of a copy
)

// copies finds repeats written out: runs of measures without counterpart whose
// music stands once in the other score, already paired there.
func (p *pairing) copies() {
	p.copiesIn(p.a, p.b, true)
	p.copiesIn(p.b, p.a, false)
}

func (p *pairing) copiesIn(once, again *material, inB bool) {
	var at map[uint64][]int
	spanOf := p.al.SpanOfA
	if inB {
		spanOf = p.al.SpanOfB
	}
	for j := 0; j < len(again.measures); j++ {
		if p.al.Spans[spanOf[j]].Paired() || len(again.measures[j].items) == 0 {
			continue
		}
		if at == nil {
			at = make(map[uint64][]int)
			for i := range once.measures {
				at[once.measures[i].exact] = append(at[once.measures[i].exact], i)
			}
		}
		end := j
		for end < len(again.measures) && !p.al.Spans[spanOf[end]].Paired() {
			end++
		}
		from, length := p.longestCopy(once, again, at[again.measures[j].exact], j, end, inB)
		if length == 0 {
			continue
		}
		c := Copy{InB: inB, Once: Range{from, from + length}, Again: Range{j, j + length}}
		c.Signed = repeatSigned(once.score, c.Once)
		p.copyNotes(&c)
		p.al.Copies = append(p.al.Copies, c)
		j += length - 1
	}
}

// longestCopy extends each candidate as far as the music stays alike; ties go
// to the candidate nearest before the copy's place.
func (p *pairing) longestCopy(once, again *material, candidates []int, j, end int, inB bool) (from, length int) {
	if len(candidates) > mostCandidates {
		// The latest candidates at or before the place of the copy, as far as there are any.
		near, _ := slices.BinarySearch(candidates, j)
		near = min(max(near, mostCandidates), len(candidates))
		candidates = candidates[near-mostCandidates : near]
	}
	for _, i := range candidates {
		n := 0
		for j+n < end && i+n < len(once.measures) && p.alike(i+n, j+n, inB) {
			n++
		}
		if n >= length {
			from, length = i, n
		}
	}
	return from, length
}

func (p *pairing) alike(once, again int, inB bool) bool {
	a, b := once, again
	if !inB {
		a, b = again, once
	}
	m := matcher{a: p.a, b: p.b}
	l, _ := m.likeness(Range{a, a + 1}, Range{b, b + 1})
	return l >= copyLikeness
}

// repeatSigned reports whether a repeat sign, an ending or a sign to go back
// to covers measures from the beginning of what is repeated or up to its end:
// single measures from its midst that return are no repeat written out.
func repeatSigned(s *score.Score, r Range) bool {
	begins := r.From == 0 || s.Measures[r.From].Repeat.Forward || s.Measures[r.From-1].Repeat.Backward
	for i := r.From; i < len(s.Measures); i++ {
		m := &s.Measures[i]
		if m.Repeat.Backward {
			ends := i < r.To || i == r.To && len(m.Endings) > 0
			return begins || ends
		}
		if i >= r.To && (m.Repeat.Forward || len(m.Endings) == 0) {
			break
		}
	}
	for i := range s.Directions {
		d := &s.Directions[i]
		if d.Kind == score.Segno || d.Kind == score.Coda || d.Kind == score.Words && goesBack(d.Text) {
			return d.Kind != score.Words || d.Measure >= r.To-1
		}
	}
	return false
}

func (p *pairing) copyNotes(c *Copy) {
	for k := range c.Again.Len() {
		once, again := Range{c.Once.From + k, c.Once.From + k + 1}, Range{c.Again.From + k, c.Again.From + k + 1}
		s := span{a: once, b: again}
		if !c.InB {
			s.a, s.b = again, once
		}
		for _, pair := range p.pairRuns(s) {
			if c.InB {
				c.Notes = append(c.Notes, [2]int{pair[1], pair[0]})
				p.al.CoverA[pair[1]] = pair[0]
			} else {
				c.Notes = append(c.Notes, [2]int{pair[0], pair[1]})
				p.al.CoverB[pair[0]] = pair[1]
			}
		}
	}
}

// goesBack recognises da capo and dal segno, in full or abbreviated.
func goesBack(words string) bool {
	var letters []rune
	for _, r := range words {
		if r >= 'A' && r <= 'Z' {
			r += 'a' - 'A'
		}
		if r >= 'a' && r <= 'z' {
			letters = append(letters, r)
		}
	}
	switch w := string(letters); {
	case len(w) >= 2 && (w[:2] == "dc" || w[:2] == "ds"):
		return true
	case len(w) >= 6 && w[:6] == "dacapo":
		return true
	default:
		return len(w) >= 8 && w[:8] == "dalsegno"
	}
}
