package parallel

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
)

// Same leaves in returns the pairs of notes whose music is the same all round: what is struck with them, before them and
// behind them lies by the same intervals, in semitones or in steps of the staff. On these a digit that somebody decided goes on:
// a return may begin and end within other music, and a finger that was right on the way there need not be on the way here. Where
// both hands come anew, after a rest, what lies beyond it is not asked.
//
// The list is parallel to returns; of each pair that stays Given names the pairs around it of which one has a digit in the text.
func Same(s *score.Score, p *playing.Playing, returns []Return) []Return {
	a := around{finder: finder{strokes: strokesOf(s, p)}, of: make([]int, len(s.Notes))}
	for i := range a.of {
		a.of[i] = -1
	}
	for i := range a.strokes {
		for _, n := range a.strokes[i].ids {
			a.of[n] = i
		}
	}
	out := make([]Return, len(returns))
	for i := range returns {
		r := &returns[i]
		out[i] = Return{Kind: r.Kind, Shift: r.Shift, Alike: r.Alike}
		for k := range min(len(r.First), len(r.Later)) {
			if beside, same := a.same(r.First[k], r.Later[k]); same {
				out[i].First, out[i].Later = append(out[i].First, r.First[k]), append(out[i].Later, r.Later[k])
				out[i].Given = append(out[i].Given, slices.DeleteFunc(beside, func(p [2]int) bool {
					return !hasDigit(&s.Notes[p[0]]) && !hasDigit(&s.Notes[p[1]])
				}))
			}
		}
	}
	return out
}

func hasDigit(n *score.Note) bool {
	return slices.ContainsFunc(n.Indications, func(i score.Indication) bool { return len(i.Fingers) > 0 && !i.Alternate })
}

// around finds the strokes about a note.
type around struct {
	finder
	of []int // by note: its stroke; -1 where it has none
}

// same gives the notes that stand for each other in the strokes about two notes, and says whether these are the same.
func (a *around) same(first, later int) (beside [][2]int, same bool) {
	i, j := a.of[first], a.of[later]
	if i < 0 || j < 0 {
		return nil, false
	}
	// Of each side: the places of both, or none where both hands come anew there.
	at := [][2]int{{i, j}}
	for _, step := range []int{-1, 1} {
		freeI, freeJ := a.free(i, step), a.free(j, step)
		switch {
		case freeI && freeJ:
		case freeI != freeJ:
			return nil, false
		default:
			at = append(at, [2]int{i + step, j + step})
		}
	}
	if !a.alike(byIntervals, at) && !a.alike(byDegrees, at) {
		return nil, false
	}
	for _, pair := range at {
		x, y := &a.strokes[pair[0]], &a.strokes[pair[1]]
		for k := range x.ids {
			if x.ids[k] != first {
				beside = append(beside, [2]int{x.ids[k], y.ids[k]})
			}
		}
	}
	return beside, true
}

// free says that nothing before a stroke, or behind it, holds its fingers: a rest, or the end of the line.
func (a *around) free(i, step int) bool {
	if step > 0 {
		return a.rests(i)
	}
	return i == 0 || a.strokes[i-1].line != a.strokes[i].line || a.rests(i-1)
}

// alike says that pairs of strokes lie by the same intervals, each in itself and all from the first of them.
func (a *around) alike(v view, at [][2]int) bool {
	from := func(s *stroke) int {
		if v == byDegrees {
			return s.degree[0]
		}
		return s.keys[0]
	}
	x, y := &a.strokes[at[0][0]], &a.strokes[at[0][1]]
	if len(x.ids) == 0 || len(y.ids) == 0 || len(x.held) != len(y.held) {
		return false
	}
	for k := range x.held {
		if v == byIntervals && x.held[k]-x.keys[0] != y.held[k]-y.keys[0] {
			return false
		}
	}
	for _, pair := range at {
		b, c := &a.strokes[pair[0]], &a.strokes[pair[1]]
		if !v.same(b, c) || from(b)-from(x) != from(c)-from(y) {
			return false
		}
	}
	return true
}
