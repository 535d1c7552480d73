package redistribute

// sweeps lists the ends of runs that go through the keyboard in one direction towards the other hand's side, from
// where that hand is free on: each cut that leaves both hands their share.
func (f *finder) sweeps(h int) (out []chance) {
	var keys []int
	var at []int // moments
	flush := func() {
		if len(keys) >= sweepsFrom && max(keys[0], keys[len(keys)-1])-min(keys[0], keys[len(keys)-1]) >= sweepSpan {
			out = append(out, f.swept(h, at)...)
		}
		keys, at = nil, nil
	}
	for m := range f.moments {
		struck := f.moments[m].struck[h]
		if len(struck) == 0 {
			continue
		}
		n := &f.line[h][struck[0]]
		if len(struck) > 1 || f.isGrace(n.ID) || n.ID >= len(f.in.Score.Notes) {
			flush()
			continue
		}
		if k := len(keys); k > 0 {
			last := f.line[h][f.moments[at[k-1]].struck[h][0]]
			joined := last.End.Compare(f.moments[m].at) >= 0 && f.written(last.ID) == f.written(n.ID)
			down := h == 0 // towards the left hand's side
			if !joined || (n.Key < keys[k-1]) != down || n.Key == keys[k-1] {
				flush()
			}
		}
		keys, at = append(keys, n.Key), append(at, m)
	}
	flush()
	return out
}

// swept lists where a sweep may be cut: the end of it, from a moment on from which the other hand strikes nothing
// and has let go.
func (f *finder) swept(h int, at []int) (out []chance) {
	last := at[len(at)-1]
	for cut := sweepShare; len(at)-cut >= sweepShare; cut++ {
		free := true
		near := f.between(1-h, at[cut], last)
		for k := range near {
			n := &near[k]
			if f.where[n.ID] >= at[cut] && f.where[n.ID] <= last ||
				n.End.Compare(f.moments[at[cut]].at) > 0 && f.where[n.ID] < at[cut] {
				free = false
			}
		}
		if !free {
			continue
		}
		p := phrase{from: at[cut], to: last}
		for _, m := range at[cut:] {
			p.ids = append(p.ids, f.line[h][f.moments[m].struck[h][0]].ID)
		}
		out = append(out, f.chanceOf(h, Evenness, p))
	}
	return out
}
