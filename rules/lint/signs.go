package lint

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
)

type signPlace struct{ part, staff, measure int }

// Signs lists the hand signs of a score by where they stand.
type Signs map[signPlace][]int

// SignsByPlace gathers the hand signs, by part, staff and measure.
func SignsByPlace(p *Inspection) Signs {
	out := Signs{}
	for i := range p.Score.Directions {
		if d := &p.Score.Directions[i]; d.Kind == score.HandSign {
			at := signPlace{d.Part, max(d.Staff, 1), d.Measure}
			out[at] = append(out[at], i)
		}
	}
	return out
}

// SignAt gives the hand sign in force at a note, as an index into the score's
// directions, or -1: the last one of its staff and measure not after it, which
// names its voice or none.
func SignAt(p *Inspection, signs Signs, n int) int {
	note := &p.Score.Notes[n]
	found := -1
	for _, i := range signs[signPlace{note.Part, note.Staff, note.Measure}] {
		d := &p.Score.Directions[i]
		if note.Onset.Less(d.Onset) || d.Voice != "" && d.Voice != note.Voice ||
			found >= 0 && d.Onset.Less(p.Score.Directions[found].Onset) {
			continue
		}
		found = i
	}
	return found
}

// ObeyedAt is SignAt where the note is played by the hand that the sign names,
// else -1.
func ObeyedAt(p *Inspection, signs Signs, n int) int {
	d := SignAt(p, signs, n)
	if d >= 0 && p.Score.Directions[d].Hand != p.Playing.Hand(n) {
		return -1
	}
	return d
}

// InTime lists the directions that are asked for, in order of time: a voice that is written after another goes back.
func (p *Inspection) InTime(asked func(d *score.Direction) bool) (out []int) {
	for i := range p.Score.Directions {
		if asked(&p.Score.Directions[i]) {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int {
		x, y := &p.Score.Directions[a], &p.Score.Directions[b]
		return cmp.Or(cmp.Compare(x.Measure, y.Measure), x.Onset.Cmp(y.Onset))
	})
	return out
}
