package compare

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
)

// staves numbers the staves of a score from the top, through all parts, so
// that two files that divide the same staves into parts in other ways agree.
type staves struct {
	before []int // by part: how many staves stand above its first
	total  int
}

func stavesOf(s *score.Score) staves {
	out := staves{before: make([]int, len(s.Parts))}
	for i := range s.Parts {
		out.before[i] = out.total
		out.total += max(s.Parts[i].Staves, 1)
	}
	return out
}

// of numbers a staff of a part from 1; 0 for what stands in no part.
func (s staves) of(part, staff int) int {
	if part < 0 || part >= len(s.before) {
		return 0
	}
	return s.before[part] + max(staff, 1)
}

// partsToB says which part of B each part of A is, -1 for none: the same in
// order where both have as many. Else keyboards are taken in order, and the
// others in order by how much of their melody they share. Names decide nothing.
func partsToB(a, b *score.Score) []int {
	out := make([]int, len(a.Parts))
	if len(a.Parts) == len(b.Parts) {
		for i := range out {
			out[i] = i
		}
		return out
	}
	for i := range out {
		out[i] = -1
	}
	kind := func(s *score.Score, keyboard bool) (list []int) {
		for i := range s.Parts {
			if s.Parts[i].Keyboard == keyboard {
				list = append(list, i)
			}
		}
		return list
	}
	x, y := kind(a, true), kind(b, true)
	for k := range min(len(x), len(y)) {
		out[x[k]] = y[k]
	}
	x, y = kind(a, false), kind(b, false)
	for _, pair := range mostAlike(melodies(a, x, sounding), melodies(b, y, sounding)) {
		out[x[pair[0]]] = y[pair[1]]
	}
	return out
}

// melody counts which key follows which in a part.
type melody map[[2]int]int

// sounding is the key that a note strikes, written the one that it names: where a part is transposed they differ.
func sounding(n *score.Note) int { return n.Midi }
func written(n *score.Note) int  { return n.Pitch.Midi() }

func melodies(s *score.Score, parts []int, key func(*score.Note) int) []melody {
	out := make([]melody, len(parts))
	for k, p := range parts {
		out[k] = melody{}
		last := 0
		for i := range s.Notes {
			if n := &s.Notes[i]; n.Part == p && n.Kind == score.Pitched {
				out[k][[2]int{last, key(n)}]++
				last = key(n)
			}
		}
	}
	return out
}

func (m melody) shares(o melody) int {
	sum := 1 // a part of rests is as good as none
	for k, n := range m {
		sum += min(n, o[k])
	}
	return sum
}

// mostAlike pairs two rows in their order so that the pairs share most.
func mostAlike(x, y []melody) (pairs [][2]int) {
	best := make([][]int, len(x)+1)
	for i := range best {
		best[i] = make([]int, len(y)+1)
	}
	for i := len(x) - 1; i >= 0; i-- {
		for j := len(y) - 1; j >= 0; j-- {
			best[i][j] = max(best[i+1][j], best[i][j+1], best[i+1][j+1]+x[i].shares(y[j]))
		}
	}
	for i, j := 0, 0; i < len(x) && j < len(y); {
		switch best[i][j] {
		case best[i+1][j+1] + x[i].shares(y[j]):
			pairs = append(pairs, [2]int{i, j})
			i++
			j++
		case best[i+1][j]:
			i++
		default:
			j++
		}
	}
	return pairs
}

// staffToB gives the number of A's staff in B, 0 where B has no such part.
func (c *comparison) staffToB(part, staff int) int {
	switch {
	case part < 0:
		return 0
	case c.a.staves.total == c.b.staves.total:
		return c.a.staves.of(part, staff)
	case c.partToB[part] < 0:
		return 0
	}
	to := c.partToB[part]
	return c.b.staves.of(to, min(staff, max(c.b.score.Parts[to].Staves, 1)))
}

// lacked reports that A has no part like this one of B, which is told.
func (c *comparison) lacked(part int) bool {
	return c.a.staves.total != c.b.staves.total && part >= 0 && !slices.Contains(c.partToB, part)
}

// staffWords names a staff of a part as musicians do.
func (v *view) staffWords(part, staff int) string {
	if part >= 0 && part < len(v.score.Parts) && v.score.Parts[part].Staves == 2 && staff >= 1 && staff <= 2 {
		return [...]string{"upper staff", "lower staff"}[staff-1]
	}
	return fmt.Sprintf("staff %d", v.staves.of(part, staff))
}

// parts tells of parts that one side lacks, where the staves do not agree either.
func (c *comparison) parts() {
	if c.a.staves.total == c.b.staves.total {
		return
	}
	c.lostNotes = map[string]bool{}
	for i := range c.a.score.Notes {
		if c.partToB[c.a.score.Notes[i].Part] < 0 {
			c.lostNotes[c.a.addresses[i].String()] = true
		}
	}
	taken := make([]bool, len(c.b.score.Parts))
	for i, to := range c.partToB {
		if to >= 0 {
			taken[to] = true
			continue
		}
		c.atMoment(PartMissing, c.a.head(0), nil, c.a.partWords(i), "")
	}
	for j := range taken {
		if !taken[j] {
			c.atMoment(PartAdded, nil, c.b.head(0), "", c.b.partWords(j))
		}
	}
}

func (v *view) partWords(part int) string {
	notes := 0
	for i := range v.score.Notes {
		if v.score.Notes[i].Part == part && v.score.Notes[i].Kind != score.Rest {
			notes++
		}
	}
	return fmt.Sprintf("part %d of %d, %s", part+1, len(v.score.Parts), wording.Count(notes, "note"))
}

// head is the place of what stands above the music.
func (v *view) head(line int) *Place { return &Place{Note: -1, Line: line} }
