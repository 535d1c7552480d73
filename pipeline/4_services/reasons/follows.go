package reasons

import "slices"

// follows lists the moments of one hand in the measure, in the order of playing, that are fingered as another place was, with all
// keys that are struck then: where the place did not hold for one of them, since a key, a length or what follows forbade it, the
// moment is not among them.
func (in *Question) follows(notes []int) (out []Follows) {
	of := map[int]string{}
	for r := range in.Returns {
		a := &in.Returns[r]
		for i, n := range a.Later {
			if of[n] == "" && in.Notes[n].Finger.Valid() && in.Notes[n].Finger == in.Notes[a.First[i]].Finger {
				of[n] = in.same(*a, a.First[i])
			}
		}
	}
	together := func(m, n int) bool {
		x, y := &in.Score.Notes[m], &in.Score.Notes[n]
		return x.Onset == y.Onset && x.Grace == y.Grace && x.GraceAfter == y.GraceAfter
	}
	before := ""
	for _, n := range notes {
		says := of[n]
		if in.Notes[n].Tied || slices.ContainsFunc(notes, func(m int) bool { return together(m, n) && !in.Notes[m].Tied && of[m] != says }) {
			says = ""
		}
		switch {
		case says == "":
		case says == before:
			out[len(out)-1].To = in.beat(n)
		default:
			out = append(out, Follows{From: in.beat(n), To: in.beat(n), Of: says})
		}
		if says != "" || !in.Notes[n].Tied {
			before = says
		}
	}
	return out
}
