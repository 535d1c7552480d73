package formats

import (
	"slices"

	"fingerproof/corpus/score"
)

// kinds of slurs that are lost or joined otherwise.
const (
	slurKind     = "slurs"
	slurRestKind = "slurs at rests"
)

// slurLoss are slurs of two readings that share ends and are not the same in both: one slur that is lost, or one that is
// joined to another end together with those whose ends are taken.
type slurLoss struct {
	loss   loss
	inA, b []score.SlurSpan // what the first reading has, and the second in its place, by the notes of the first
}

// slurLosses compares slurs by the chords at which they begin and end, whatever their numbers are.
func (r *readings) slurLosses() (same []score.SlurSpan, out []slurLoss) {
	head := func(i int) int {
		for i > 0 && r.a.Notes[i].Chord {
			i--
		}
		return i
	}
	x := r.a.SlurSpans()
	for k := range x {
		x[k] = score.SlurSpan{From: head(x[k].From), To: head(x[k].To)}
	}
	y := r.b.SlurSpans()
	for k := range y {
		y[k] = score.SlurSpan{From: head(r.tied(y[k].From)), To: head(r.tied(y[k].To))}
	}
	var only [2][]score.SlurSpan
	for _, s := range x {
		if at := slices.Index(y, s); at >= 0 {
			y = slices.Delete(slices.Clone(y), at, at+1)
			same = append(same, s)
		} else {
			only[0] = append(only[0], s)
		}
	}
	only[1] = y
	for len(only[0])+len(only[1]) > 0 {
		var l slurLoss
		ends := map[int]bool{}
		take := func(side int, group *[]score.SlurSpan) (more bool) {
			only[side] = slices.DeleteFunc(only[side], func(s score.SlurSpan) bool {
				if len(ends) > 0 && !ends[s.From] && !ends[s.To] {
					return false
				}
				for _, n := range []int{s.From, s.To} {
					if n >= 0 {
						ends[n] = true
					}
				}
				*group, more = append(*group, s), true
				return true
			})
			return more
		}
		take0 := func() bool { return take(0, &l.inA) }
		take1 := func() bool { return take(1, &l.b) }
		if len(only[0]) > 0 {
			first := only[0][0]
			only[0], l.inA = only[0][1:], []score.SlurSpan{first}
			ends[max(first.From, 0)], ends[max(first.To, 0)] = first.From >= 0, first.To >= 0
		} else {
			first := only[1][0]
			only[1], l.b = only[1][1:], []score.SlurSpan{first}
			ends[max(first.From, 0)], ends[max(first.To, 0)] = first.From >= 0, first.To >= 0
		}
		for more := true; more; {
			p, q := take0(), take1()
			more = p || q
		}
		l.loss = loss{slurKind, len(r.a.Measures)}
		for _, s := range append(slices.Clone(l.inA), l.b...) {
			for _, n := range []int{s.From, s.To} {
				if n >= 0 {
					l.loss.measure = min(l.loss.measure, r.a.Notes[n].Measure)
				}
			}
		}
		for _, s := range l.inA {
			for _, n := range []int{s.From, s.To} {
				if n >= 0 && r.a.Notes[n].Kind == score.Rest {
					l.loss.kind = slurRestKind
				}
			}
		}
		out = append(out, l)
	}
	return same, out
}

// takeSlurs gives the notes of a score the slurs of the first reading, or of the second where those of a loss are taken.
func (r *readings) takeSlurs(s *score.Score, has map[loss]bool) {
	same, others := r.slurLosses()
	any := false
	for _, l := range others {
		if has[l.loss] {
			same, any = append(same, l.b...), true
		} else {
			same = append(same, l.inA...)
		}
	}
	if !any {
		return
	}
	for i := range s.Notes {
		s.Notes[i].Slurs = nil
	}
	for k, span := range same { // each with a number of its own, so that none is taken for another
		for _, n := range []int{span.From, span.To} {
			if n >= 0 {
				s.Notes[n].Slurs = append(s.Notes[n].Slurs, score.Slur{Number: k + 1, Start: n == span.From})
			}
		}
	}
}
