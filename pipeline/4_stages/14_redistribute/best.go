package redistribute

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// best gives the redistribution that ends a trouble and gains most, if one passes the threshold.
func (f *finder) best(t trouble) (best fingering.Redistribution, found bool) {
	if t.reason == Rhythm && !f.free(t.hand, t.from, t.to) || f.withinOctave(t) {
		return best, false
	}
	var asWritten *way
	from, to := max(t.from-2, 0), min(t.to+2, len(f.moments)-1)
	for _, moved := range f.candidates(t) {
		if !f.allowed(t, moved) {
			continue
		}
		if asWritten == nil {
			w := f.finger(from, to, nil)
			asWritten = &w
		}
		if r, ok := f.weigh(t, asWritten, from, to, moved); ok && (!found || r.Gain > best.Gain) {
			best, found = r, true
		}
	}
	return best, found && best.Gain >= f.in.Rules.thresholdOf(t.reason)
}

// beats counts the quarters in which a window strikes.
func (f *finder) beats(t trouble) (n int) {
	last := int64(-1)
	for m := t.from; m <= t.to; m++ {
		if at := f.moments[m].at; at.Num/max(at.Den, 1) != last {
			last = at.Num / max(at.Den, 1)
			n++
		}
	}
	return n
}

// strokes counts the moments at which a hand strikes.
func (f *finder) strokes(h, from, to int) (n int) {
	for m := from; m <= to; m++ {
		if len(f.moments[m].struck[h]) > 0 {
			n++
		}
	}
	return n
}

// weigh holds both hands with the notes moved against both hands as written.
func (f *finder) weigh(t trouble, was *way, from, to int, moved map[int]bool) (r fingering.Redistribution, ok bool) {
	now := f.finger(from, to, moved)
	o := 1 - t.hand
	// The other hand within its limits and its line whole; the hand in trouble no worse in any way; the trouble
	// ended.
	for h := range 2 {
		if now.out[h] > was.out[h] || now.pedal[h] > was.pedal[h] || now.leaps[h] > was.leaps[h] {
			return r, false
		}
	}
	for id := range moved {
		if now.outAt[f.where.of(id)] { // no half measures: where notes change hands, both hands reach
			return r, false
		}
	}
	if now.drops[o] > was.drops[o] || f.clashes(&now, moved) {
		return r, false
	}
	ended := 0
	switch t.reason {
	case Reach:
		if now.out[t.hand] > 0 && !(t.alike && now.out[t.hand] < was.out[t.hand]) {
			return r, false
		}
	case Speed:
		if now.leaps[t.hand] >= was.leaps[t.hand] {
			return r, false
		}
	case Line:
		if now.pedal[t.hand]+now.pedal[o] >= was.pedal[0]+was.pedal[1] {
			return r, false
		}
	case Held:
		if now.drops[t.hand]+now.drops[o] >= was.drops[0]+was.drops[1] {
			return r, false
		}
	case Rhythm:
		ended = twoRhythms + eachBeat*(f.beats(t)-1)
	case Collision:
		ended = oneKey
	}
	costs := f.costsOf(t, moved)
	r = f.redistribution(t, moved, was, &now, from, to)
	r.Gain = was.effort[0] + was.effort[1] + was.lost + ended - now.effort[0] - now.effort[1] - now.lost - costs
	r.Why = f.why(t, was, &now, moved, costs, r.Gain)
	return r, len(r.Notes) > 0
}

// costsOf is what the change itself costs.
func (f *finder) costsOf(t trouble, moved map[int]bool) int {
	moments, voicings := map[int]bool{}, 0
	for id := range moved {
		m := f.where.of(id)
		if !moments[m] && len(f.moments[m].struck[t.hand]) > 1 {
			voicings++
		}
		moments[m] = true
	}
	return theGesture + eachMoment*len(moments) + eachNote*len(moved) + eachVoicing*min(voicings, 4)
}

// redistribution lays down the notes moved with their fingers, and what changes around them.
func (f *finder) redistribution(
	t trouble, moved map[int]bool, was, now *way, from, to int,
) (r fingering.Redistribution) {
	r.To, r.Reason = handOf[1-t.hand], t.reason
	for h := range 2 {
		for _, n := range now.result[h].Notes {
			if n.ID >= len(f.in.Said) {
				continue
			}
			near := f.where.of(n.ID) >= from-fingered && f.where.of(n.ID) <= to+fingered
			switch {
			case moved[n.ID]:
				r.Notes, r.Fingers = append(r.Notes, n.ID), append(r.Fingers, n.Finger)
			case near && !n.Tied && n.Finger != f.in.Said[n.ID].Finger:
				r.Around, r.AroundFingers = append(r.Around, n.ID), append(r.AroundFingers, n.Finger)
			}
		}
	}
	sortTogether(r.Notes, r.Fingers)
	sortTogether(r.Around, r.AroundFingers)
	return r
}

func sortTogether(notes []int, fingers []fingering.Finger) {
	order := make([]int, len(notes))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return notes[a] - notes[b] })
	n, g := slices.Clone(notes), slices.Clone(fingers)
	for i, k := range order {
		notes[i], fingers[i] = n[k], g[k]
	}
}

// allowed says whether notes may change hands: none with a digit or a sign of its own, no ornament, no half of a
// tie, none against a decision; the other hand stays on its side; of hands that meet only what meets.
func (f *finder) allowed(t trouble, moved map[int]bool) bool {
	return f.mayMove(moved) && f.sided(t, moved) && !(t.reason == Speed && f.crosses(t, moved)) &&
		!f.flickers(t, moved) &&
		(t.reason != Collision || f.inTheWay(t.hand, moved) && !f.struckAgain(t.hand, moved)) &&
		!f.overloads(t, moved) && !f.noFreer(t, moved) && !f.twoLines(t, moved) && !f.plunges(t, moved) &&
		!f.tearsRow(t, moved) && !f.endsRow(t, moved) && !f.tearsTune(t, moved) && !f.wholeTurn(t.hand, moved) &&
		!f.busyElsewhere(t.hand, moved) && !f.leavesTail(t, moved)
}

// mayMove says that nothing that stands in the text or is decided keeps notes in their hand.
func (f *finder) mayMove(moved map[int]bool) bool {
	s := f.in.Score
	if len(moved) == 0 {
		return false
	}
	for id := range moved {
		if id >= len(s.Notes) {
			return false
		}
		n := &s.Notes[id]
		ornamented := n.Grace > 0 || len(n.Ornaments) > 0 || n.Tremolo != (score.Tremolo{}) || n.Arpeggio.NonRolled
		tiedOut := n.TiedFrom >= 0 && !moved[n.TiedFrom] || n.TiedTo >= 0 && !moved[n.TiedTo]
		if f.in.Said[id].Given || ornamented || tiedOut || signed(s, n) {
			return false
		}
	}
	// What was declined says that its notes stay with their hand: fewer of them are not offered anew.
	return !slices.ContainsFunc(f.in.Declined, func(declined []int) bool {
		for id := range moved {
			if !slices.Contains(declined, id) {
				return false
			}
		}
		return true
	})
}

// crosses says that of a leap the far end would change hands: what moves over has to lie on the other hand's side
// of what stays.
func (f *finder) crosses(t trouble, moved map[int]bool) bool {
	low, high := [2]int{128, 128}, [2]int{-1, -1} // of what stays and of what moves over
	for m := t.from; m <= t.to; m++ {
		for _, k := range f.moments[m].struck[t.hand] {
			n, to := &f.line[t.hand][k], 0
			if moved[n.ID] {
				to = 1
			}
			low[to], high[to] = min(low[to], n.Key), max(high[to], n.Key)
		}
	}
	if t.hand == 0 {
		return high[1] > low[0]
	}
	return low[1] < high[0]
}

// sided says that where notes change hands the left hand stays below the right, by what sounds.
func (f *finder) sided(t trouble, moved map[int]bool) bool {
	from, to := t.from-2, t.to+2
	for id := range moved { // a run may reach beyond the trouble
		from, to = min(from, f.where.of(id)), max(to, f.where.of(id))
	}
	for m := max(from, 0); m < len(f.moments); m++ {
		if m > to && !f.soundsAt(moved, m) {
			break
		}
		touched := false
		low, high := [2]int{128, 128}, [2]int{-1, -1}
		for h := range 2 {
			near := f.between(h, m, m)
			for k := range near {
				n := &near[k]
				if f.where.of(n.ID) != m && n.End.Compare(f.moments[m].at) <= 0 {
					continue
				}
				to := h
				if moved[n.ID] {
					to, touched = 1-h, true
				}
				low[to], high[to] = min(low[to], n.Key), max(high[to], n.Key)
			}
		}
		if touched && high[1] >= low[0] && high[1] >= 0 && low[0] < 128 {
			return false
		}
	}
	return true
}

// soundsAt says that some of these notes still sound at a moment.
func (f *finder) soundsAt(ids map[int]bool, m int) bool {
	for id := range ids {
		if f.noteOf(id).End.Compare(f.moments[m].at) > 0 {
			return true
		}
	}
	return false
}

// flickers says that a note of a line would be taken out of it alone: it is struck by itself, and the line goes on
// about it.
func (f *finder) flickers(t trouble, moved map[int]bool) bool {
	ids := f.inOrder(moved)
	if len(ids) == 0 {
		return true
	}
	if t.reason == Rhythm { // a voice goes over whole
		return false
	}
	first, last := f.where.of(ids[0]), f.where.of(ids[len(ids)-1])
	inside, single := 0, false
	for m := first; m <= last; m++ {
		stays := 0
		for _, k := range f.moments[m].struck[t.hand] {
			if moved[f.line[t.hand][k].ID] {
				inside++
			} else {
				stays++
			}
		}
		if stays == 0 && len(f.moments[m].struck[t.hand]) == 1 {
			single = true
		}
	}
	if !single || inside >= 3 || t.reason == Held && f.beyondWhatIsHeld(t, moved) {
		return false
	}
	id := ids[0]
	n := f.noteOf(id)
	for _, m := range []int{first - 1, last + 1} {
		if m < 0 || m >= len(f.moments) {
			continue
		}
		for _, k := range f.moments[m].struck[t.hand] {
			if d := f.line[t.hand][k].Key - n.Key; d > -9 && d < 9 {
				return true
			}
		}
	}
	return false
}

// beyondWhatIsHeld says that each note moved lies farther than a tenth from a key that its hand holds: no finger can
// join it to its line and hold that key.
func (f *finder) beyondWhatIsHeld(t trouble, moved map[int]bool) bool {
	for id := range moved {
		n := f.noteOf(id)
		near := f.between(t.hand, f.where.of(id), f.where.of(id))
		if !slices.ContainsFunc(near, func(o fingering.Note) bool {
			return !moved[o.ID] && o.End.Compare(n.Onset) > 0 && max(o.Key-n.Key, n.Key-o.Key) > tenth
		}) {
			return false
		}
	}
	return true
}

// tenth is the widest span that is asked of one hand, in semitones.
const tenth = 16

func (f *finder) noteOf(id int) *fingering.Note {
	h := f.side.of(id)
	line := f.line[h]
	for k := f.first[h][f.where.of(id)]; k < len(line); k++ { // it lies among the first from its moment on
		if line[k].ID == id {
			return &line[k]
		}
	}
	return &line[slices.IndexFunc(line, func(n fingering.Note) bool { return n.ID == id })]
}

// inOrder lists notes by when they are struck.
func (f *finder) inOrder(moved map[int]bool) []int {
	var out []int
	for id := range moved {
		if f.where.has(id) {
			out = append(out, id)
		}
	}
	slices.SortFunc(out, func(a, b int) int {
		if f.where.of(a) != f.where.of(b) {
			return f.where.of(a) - f.where.of(b)
		}
		return a - b
	})
	return out
}
