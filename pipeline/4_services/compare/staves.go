package compare

import (
	"fmt"

	"fingerproof/corpus/score"
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
// order where both have as many, else keyboards in order and the others in
// order. Names decide nothing where the order does.
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
	for _, keyboard := range []bool{true, false} {
		j := 0
		for i := range a.Parts {
			if a.Parts[i].Keyboard != keyboard {
				continue
			}
			for j < len(b.Parts) && b.Parts[j].Keyboard != keyboard {
				j++
			}
			if j < len(b.Parts) {
				out[i] = j
				j++
			}
		}
	}
	return out
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
	return fmt.Sprintf("part %d of %d, %d notes", part+1, len(v.score.Parts), notes)
}

// head is the place of what stands above the music.
func (v *view) head(line int) *Place { return &Place{Note: -1, Line: line} }
