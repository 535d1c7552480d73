package redistribute

import (
	"maps"
	"slices"
)

// mostTaken is how many keys of one grip may go to the other hand.
const mostTaken = 3

// candidates lists sets of notes of the hand in trouble that the other hand might take, each from the side of the
// boundary between the hands: keys of the grips in trouble, of every grip of the window, a voice, or whole runs
// where the other hand is free.
func (f *finder) candidates(t trouble) []map[int]bool {
	if t.reason == Rhythm { // a rhythm goes over whole
		return f.voices(t)
	}
	var out []map[int]bool
	add := func(ids []int) {
		if len(ids) == 0 {
			return
		}
		set := map[int]bool{}
		for _, id := range ids {
			for _, tied := range f.tied(id) {
				set[tied] = true
			}
		}
		if !slices.ContainsFunc(out, func(o map[int]bool) bool { return maps.Equal(o, set) }) {
			out = append(out, set)
		}
	}
	for taken := 1; taken <= mostTaken; taken++ {
		var all, chords, ends []int
		for m := t.from; m <= t.to; m++ {
			b := f.boundary(t.hand, m)
			if len(b) > taken {
				chords = append(chords, b[:taken]...)
			}
			all = append(all, b[:min(taken, len(b))]...)
			if m == t.to && len(b) > 0 {
				ends = append(ends, b[:min(taken, len(b))]...)
			}
			if len(b) > taken && t.to > t.from { // one grip of the window alone
				add(b[:taken])
			}
		}
		add(chords)
		add(all)
		add(ends)
	}
	add(f.layer(t))
	out = append(out, f.voices(t)...)
	// Whole stretches where the other hand does nothing: as far as it is free about the trouble, at most eight
	// strokes.
	for from := max(t.from-7, 0); from <= t.to; from++ {
		var ids []int
		strokes := 0
		for m := from; m < len(f.moments) && strokes < 8; m++ {
			if len(f.moments[m].struck[1-t.hand]) > 0 {
				break
			}
			b := f.boundary(t.hand, m)
			if len(b) == 0 {
				continue
			}
			ids = append(ids, b...)
			strokes++
			if m >= t.from && (strokes >= 2 || t.reason == Speed) {
				add(slices.Clone(ids))
			}
		}
	}
	return out
}

// layer lists what lies on the other hand's side of the middle of all that the hand strikes in the window: the bass
// of a leaping figure, the tune above one.
func (f *finder) layer(t trouble) (out []int) {
	low, high := 128, -1
	for m := t.from; m <= t.to; m++ {
		if l, h, ok := f.outer(t.hand, m); ok {
			low, high = min(low, l), max(high, h)
		}
	}
	for m := t.from; m <= t.to; m++ {
		for _, k := range f.moments[m].struck[t.hand] {
			n := &f.line[t.hand][k]
			if below := 2*n.Key < low+high; below == (t.hand == 0) {
				out = append(out, n.ID)
			}
		}
	}
	return out
}

// boundary lists what a hand strikes at a moment, from the side of the other hand.
func (f *finder) boundary(h, m int) []int {
	var out []int
	for _, k := range f.moments[m].struck[h] {
		out = append(out, f.line[h][k].ID)
	}
	if h == 1 {
		slices.Reverse(out)
	}
	return out
}

// voices lists, for each written voice of the hand, what it strikes in the window.
func (f *finder) voices(t trouble) []map[int]bool {
	s := f.in.Score
	var names []string
	sets := map[string]map[int]bool{}
	for m := t.from; m <= t.to; m++ {
		for _, id := range f.boundary(t.hand, m) {
			if id >= len(s.Notes) {
				continue
			}
			v := s.Notes[id].Voice
			if sets[v] == nil {
				sets[v] = map[int]bool{}
				names = append(names, v)
			}
			for _, tied := range f.tied(id) {
				sets[v][tied] = true
			}
		}
	}
	if len(names) < 2 {
		return nil
	}
	var out []map[int]bool
	for _, v := range names {
		out = append(out, sets[v])
	}
	return out
}

// tied lists a note and those tied on to it.
func (f *finder) tied(id int) []int {
	s := f.in.Score
	if id >= len(s.Notes) {
		return []int{id}
	}
	out := []int{id}
	for n := s.Notes[id].TiedTo; n >= 0 && len(out) < 64; n = s.Notes[n].TiedTo {
		out = append(out, n)
	}
	return out
}
