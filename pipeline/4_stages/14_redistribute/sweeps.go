package redistribute

// sweeps lists the ends of runs that go through the keyboard in one direction towards the other hand's side, from
// where that hand is free on: each cut that leaves both hands their share.
func (f *finder) sweeps(h int) (out []chance) {
	var keys []int
	var at []int // moments
	flush := func() {
		if len(keys) >= sweepsFrom && max(keys[0], keys[len(keys)-1])-min(keys[0], keys[len(keys)-1]) >= sweepSpan {
			out = append(out, f.swept(h, at, sweepShare)...)
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
// and has let go, for as many strokes as are worth it (share).
func (f *finder) swept(h int, at []int, share int) (out []chance) {
	last := at[len(at)-1]
	for cut := sweepShare; len(at)-cut >= share; cut++ {
		if share == overShare && !f.onBeat(h, at[cut]) {
			continue // where the text lets the hands change, players change earlier only with a beat
		}
		free := true
		near := f.between(1-h, at[cut], last)
		for k := range near {
			n := &near[k]
			if f.where.of(n.ID) >= at[cut] && f.where.of(n.ID) <= last ||
				n.End.Compare(f.moments[at[cut]].at) > 0 && f.where.of(n.ID) < at[cut] {
				free = false
			}
		}
		if !free {
			continue
		}
		p := phrase{from: at[cut], to: last}
		for _, m := range at[cut:] {
			for _, k := range f.moments[m].struck[h] {
				p.ids = append(p.ids, f.line[h][k].ID)
			}
		}
		out = append(out, f.chanceOf(h, Evenness, p))
	}
	return out
}

// onBeat says that what a hand strikes at a moment falls on a beat of its measure.
func (f *finder) onBeat(h, m int) bool {
	n := &f.in.Score.Notes[f.line[h][f.moments[m].struck[h][0]].ID]
	return f.in.Score.BeatAt(n.Measure, n.Onset).OnBeat()
}

// runsOver lists the ends of figures that go on in the other hand: a line of single notes, or of two at once, that
// climbs or falls as a whole towards the other hand's side, with turns or without, and whose next key that hand
// strikes on its own staff. Where that hand is free before, it may come in earlier (common practice: hands change
// where both are over the keys).
func (f *finder) runsOver(h int) (out []chance) {
	var at []int
	for m := range f.moments {
		mine, others := f.moments[m].struck[h], f.moments[m].struck[1-h]
		if k := len(at); k >= sweepsFrom && len(mine) == 0 && len(others) > 0 && f.goesOver(h, at, m) {
			out = append(out, f.swept(h, at, overShare)...)
		}
		switch {
		case len(mine) == 0 && len(others) == 0:
		case len(mine) == 0 || len(mine) > mostInRun || f.isGrace(f.line[h][mine[0]].ID) ||
			f.line[h][mine[0]].ID >= len(f.in.Score.Notes):
			at = nil
		case len(at) > 0 && !f.joins(h, at[len(at)-1], m):
			at = []int{m}
		default:
			at = append(at, m)
		}
	}
	return out
}

// A line that runs over: how many strokes of it the other hand takes at least, how many keys at once it strikes at most,
// how far its next key lies at most, in semitones, and how many strokes are looked at for how far it has gone.
const (
	overShare    = 3
	mostInRun    = 2
	overByFifth  = 7
	longestSweep = 16
)

// joins says that a hand's stroke goes on without a gap in the next one, by an octave at most.
func (f *finder) joins(h, from, to int) bool {
	lowA, highA, _ := f.outer(h, from)
	lowB, highB, _ := f.outer(h, to)
	near := max(lowB-highA, lowA-highB, 0)
	return near <= octave && f.soundsInto(h, from, to)
}

// goesOver says that the line of a hand at these moments goes on, by a fifth at most and without a gap, in a single key
// that the other hand strikes at m, and has gone towards that hand's side by more than a tenth.
func (f *finder) goesOver(h int, at []int, m int) bool {
	others := f.moments[m].struck[1-h]
	last := at[len(at)-1]
	low, high, _ := f.outer(h, last)
	next := f.line[1-h][others[0]]
	if len(others) > 1 || f.isGrace(next.ID) {
		return false
	}
	joined := false
	for _, k := range f.moments[last].struck[h] {
		joined = joined || f.line[h][k].End.Compare(f.moments[m].at) == 0
	}
	far := 0 // how far the line has gone
	for _, k := range at[max(len(at)-longestSweep, 0):] {
		l, t, _ := f.outer(h, k)
		if h == 0 {
			far = max(far, t-low)
		} else {
			far = max(far, high-l)
		}
	}
	step := low - next.Key // towards the left hand's side
	if h == 1 {
		step = next.Key - high
	}
	return joined && far >= sweepSpan && step > 0 && step <= overByFifth
}
