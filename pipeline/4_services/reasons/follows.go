package reasons

// follows lists the notes of one hand in the measure, in the order of playing, that are fingered as another place was:
// a note whose place did not hold, since a key, a length or what follows forbade it, is not among them.
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
	before := ""
	for _, n := range notes {
		says := of[n]
		switch {
		case says == "":
		case says == before:
			out[len(out)-1].To = in.beat(n)
		default:
			out = append(out, Follows{From: in.beat(n), To: in.beat(n), Of: says})
		}
		before = says
	}
	return out
}
