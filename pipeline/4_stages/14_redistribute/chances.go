package redistribute

import (
	"slices"

	"fingerproof/rules/fingering"
)

// Besides troubles there are chances: a hand does alone what it can do, and the music gains where the free hand takes part. Where
// pianists take them, and editions print a hand sign, they are of three kinds (looked at in the hand signs of the open scores, see
// DEVELOPERS.md): a voice of its own above the hand's chords, which the free hand crosses over to; a lower voice under the free
// hand; a sweep of which the free hand takes the end that lies on its side.

// chance is a set of notes of a hand that the other, free, might take for the music's sake.
type chance struct {
	trouble
	moved  map[int]bool
	rolled bool // the notes are the top of a chord rolled through both hands
	begins bool // their voice begins there, after a rest
}

// How long a gesture may be, in moments, and from what size on a sweep or a rolled chord is one.
const (
	longestVoice = 32
	longestOver  = 6
	sweepsFrom   = 6 // notes of a sweep
	sweepShare   = 2 // … of which each hand plays at least
	sweepSpan    = 15
	rolledBeyond = 12 // semitones of a rolled chord, with its top, that one hand strikes without ado
	rolledFewest = 4  // keys of it
)

// chances lists them in the order of playing.
func (f *finder) chances() (out []chance) {
	for h := range 2 {
		if f.in.Rules.On[Crossing] && h == 0 { // the left hand over the right: the other way round it is hardly ever asked for
			out = append(out, f.rolledTops(h)...)
		}
		if f.in.Rules.On[Crossing] || f.in.Rules.On[Clarity] {
			out = append(out, f.voicesApart(h)...)
		}
		if f.in.Rules.On[Evenness] {
			out = append(out, f.sweeps(h)...)
		}
	}
	slices.SortStableFunc(out, func(a, b chance) int { return a.from - b.from })
	return out
}

// written is the voice in which a note is written; "" for strokes that signs add.
func (f *finder) written(id int) string {
	if id >= len(f.in.Score.Notes) {
		return ""
	}
	return f.in.Score.Notes[id].Voice
}

// phrase is a stretch of one voice.
type phrase struct {
	voice    string
	from, to int
	ids      []int
	begins   bool
}

// phrases lists, for each voice of a hand, the stretches without a rest in which another voice of the hand sounds all the time.
func (f *finder) phrases(h int) (out []phrase) {
	open := map[string]int{} // voice → place in out of what may go on
	ends := map[string]fingering.Moment{}
	var order []string
	for m := range f.moments {
		struck := map[string][]int{}
		order = order[:0]
		for _, k := range f.moments[m].struck[h] {
			n := &f.line[h][k]
			v := f.written(n.ID)
			if v == "" || f.isGrace(n.ID) {
				continue
			}
			if struck[v] == nil {
				order = append(order, v)
			}
			struck[v] = append(struck[v], k)
		}
		for _, v := range order {
			ids := make([]int, 0, len(struck[v]))
			end := f.moments[m].at
			for _, k := range struck[v] {
				n := &f.line[h][k]
				ids = append(ids, n.ID)
				if end.Compare(n.End) < 0 {
					end = n.End
				}
			}
			k, goes := open[v]
			joined := goes && ends[v].Compare(f.moments[m].at) >= 0
			if !f.others(h, m, v) {
				delete(open, v)
			} else if joined {
				out[k].ids, out[k].to = append(out[k].ids, ids...), m
			} else {
				last, played := ends[v]
				open[v] = len(out)
				out = append(out, phrase{voice: v, from: m, to: m, ids: ids, begins: !played || last.Compare(f.moments[m].at) < 0})
			}
			ends[v] = end
		}
	}
	return out
}

// others says that another voice of the hand sounds at a moment, or has a rest of its own there.
func (f *finder) others(h, m int, voice string) bool {
	if f.restsBeside(h, m, voice) {
		return true
	}
	near := f.between(h, m, m)
	for k := range near {
		n := &near[k]
		if v := f.written(n.ID); v != "" && v != voice && f.where[n.ID] <= m && n.End.Compare(f.moments[m].at) > 0 {
			return true
		}
	}
	return false
}

// voicesApart lists the voices of a hand, or stretches of them, that lie wholly above or wholly below what else the hand has, while
// the other hand strikes nothing.
func (f *finder) voicesApart(h int) (out []chance) {
	for _, p := range f.phrases(h) {
		for _, part := range f.whileFree(h, p) {
			above, below := f.apartFromHand(h, part)
			over := h == 0 && above || h == 1 && below
			moments := part.to - part.from + 1
			switch {
			case over && h == 0 && f.in.Rules.On[Crossing] && moments <= longestOver:
				out = append(out, f.chanceOf(h, Crossing, part))
			case !over && (above || below) && f.in.Rules.On[Clarity] && len(part.ids) > 1 && moments <= longestVoice:
				out = append(out, f.chanceOf(h, Clarity, part))
			}
		}
	}
	return out
}

func (f *finder) chanceOf(h int, reason string, p phrase) chance {
	c := chance{trouble: trouble{hand: h, reason: reason, from: p.from, to: p.to}, moved: map[int]bool{}, begins: p.begins}
	for _, id := range p.ids {
		for _, t := range f.tied(id) {
			c.moved[t] = true
		}
	}
	return c
}

// whileFree cuts a phrase into stretches in which the other hand strikes nothing; what is cut off does not begin.
func (f *finder) whileFree(h int, p phrase) (out []phrase) {
	var now *phrase
	for m := p.from; m <= p.to; m++ {
		if len(f.moments[m].struck[1-h]) > 0 {
			now = nil
			continue
		}
		for _, id := range p.ids {
			if f.where[id] != m {
				continue
			}
			if now == nil {
				out = append(out, phrase{voice: p.voice, from: m, to: m, begins: p.begins && m == p.from})
				now = &out[len(out)-1]
			}
			now.ids, now.to = append(now.ids, id), m
		}
	}
	return out
}

// apartFromHand says that a phrase lies above, or below, all else that its hand strikes or holds meanwhile.
func (f *finder) apartFromHand(h int, p phrase) (above, below bool) {
	above, below = true, true
	for m := p.from; m <= p.to; m++ {
		low, high := 128, -1
		for _, id := range p.ids {
			if n := f.noteOf(id); f.where[id] <= m && n.End.Compare(f.moments[m].at) > 0 {
				low, high = min(low, n.Key), max(high, n.Key)
			}
		}
		if high < 0 {
			continue
		}
		near := f.between(h, m, m)
		for k := range near {
			n := &near[k]
			if f.where[n.ID] > m || n.End.Compare(f.moments[m].at) <= 0 || slices.Contains(p.ids, n.ID) {
				continue
			}
			above, below = above && n.Key < low, below && n.Key > high
		}
	}
	return above, below
}

// rolledTops lists chords rolled through both hands of which the outermost part of hand h stands on a stem of its own: the other
// hand, done with its own keys, crosses over to it (common practice).
func (f *finder) rolledTops(h int) (out []chance) {
	s := f.in.Score
	for m := range f.moments {
		mine, others := f.moments[m].struck[h], f.moments[m].struck[1-h]
		if len(mine) < rolledFewest || len(others) == 0 {
			continue
		}
		rolled := true
		for _, k := range mine {
			id := f.line[h][k].ID
			rolled = rolled && id < len(s.Notes) && s.Notes[id].Grace == 0
		}
		if !rolled || !f.isRolled(h, m) || !f.isRolled(1-h, m) {
			continue
		}
		outer := f.line[h][mine[len(mine)-1]]
		if h == 1 {
			outer = f.line[h][mine[0]]
		}
		low, high, _ := f.outer(h, m)
		if high-low <= rolledBeyond {
			continue
		}
		p := phrase{voice: f.written(outer.ID), from: m, to: m}
		rest := 0
		for _, k := range mine {
			if n := &f.line[h][k]; f.written(n.ID) == p.voice {
				p.ids = append(p.ids, n.ID)
			} else {
				rest++
			}
		}
		above, below := f.apartFromHand(h, p)
		if rest < 2 || len(p.ids) > 2 || h == 0 && !above || h == 1 && !below {
			continue
		}
		c := f.chanceOf(h, Crossing, p)
		c.rolled = true
		out = append(out, c)
	}
	return out
}

// isRolled says that a hand rolls what it strikes at m.
func (f *finder) isRolled(h, m int) bool {
	for _, k := range f.moments[m].struck[h] {
		if id := f.line[h][k].ID; id < len(f.in.Score.Notes) && f.in.Score.Notes[id].Arpeggio.Rolled {
			return true
		}
	}
	return false
}

// sweeps lists the ends of runs that go through the keyboard in one direction towards the other hand's side, from where that hand
// is free on: each cut that leaves both hands their share.
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

// swept lists where a sweep may be cut: the end of it, from a moment on from which the other hand strikes nothing and has let go.
func (f *finder) swept(h int, at []int) (out []chance) {
	last := at[len(at)-1]
	for cut := sweepShare; len(at)-cut >= sweepShare; cut++ {
		free := true
		near := f.between(1-h, at[cut], last)
		for k := range near {
			n := &near[k]
			if f.where[n.ID] >= at[cut] && f.where[n.ID] <= last || n.End.Compare(f.moments[at[cut]].at) > 0 && f.where[n.ID] < at[cut] {
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

// wide says that somewhere in a chance its hand has to span more than an octave, or to strike five keys, for both voices.
func (f *finder) wide(c *chance) bool {
	for m := c.from; m <= c.to; m++ {
		low, high, keys := 128, -1, 0
		near := f.between(c.hand, m, m)
		for k := range near {
			n := &near[k]
			if f.where[n.ID] <= m && n.End.Compare(f.moments[m].at) > 0 {
				low, high, keys = min(low, n.Key), max(high, n.Key), keys+1
			}
		}
		if high-low > octave || keys >= 5 {
			return true
		}
	}
	return false
}

const octave = 12

// take weighs the chances and gives those that gain what the policy asks for their reason. A hand crosses over only where that
// gains much more than what could be taken without.
func (f *finder) take(out *Found) (all []fingering.Redistribution) {
	type taken struct {
		c *chance
		r fingering.Redistribution
	}
	var good []taken
	list := f.chances()
	for k := range list {
		c := &list[k]
		out.Windows[c.reason]++
		if !f.mayMove(c.moved) || c.reason != Crossing && !f.sided(c.trouble, c.moved) {
			continue
		}
		if r, ok := f.weighChance(c); ok && r.Gain >= f.in.Rules.Thresholds[c.reason] {
			good = append(good, taken{c, r})
		}
	}
	for _, g := range good {
		better := g.c.reason == Crossing && slices.ContainsFunc(good, func(o taken) bool {
			return o.c.reason != Crossing && o.c.from <= g.c.to && o.c.to >= g.c.from && g.r.Gain < crossingMore*o.r.Gain
		})
		if !better {
			out.Resolved[g.c.reason]++
			all = append(all, g.r)
		}
	}
	return all
}

// crossingMore is how many times as much a crossing has to gain as what can be taken without.
const crossingMore = 3

// What chances are worth that the effort of a fingering does not hold, in milli-nats. Hand-set.
const (
	ownVoice     = 6000  // a voice that begins while the hand has another: two hands are heard as two voices
	twoVoices    = 2000  // a lower voice in a hand of its own
	evenSweep    = 8000  // a sweep in one direction without a passing thumb or a shift
	toThePedal   = 1500  // a key held before that the pedal has to hold
	overTheOther = 1000  // a hand over the other
	theRoll      = 12000 // a chord rolled through both hands of which one hand would have to leap within the roll
)

// weighChance holds both hands with the notes moved against both hands as written.
func (f *finder) weighChance(c *chance) (r fingering.Redistribution, ok bool) {
	if c.rolled {
		return f.weighRolled(c)
	}
	from, to := max(c.from-2, 0), min(c.to+2, len(f.moments)-1)
	was := f.finger(from, to, nil)
	now := f.finger(from, to, c.moved)
	o := 1 - c.hand
	for h := range 2 {
		if now.out[h] > was.out[h] || now.pedal[h] > was.pedal[h] || now.leaps[h] > was.leaps[h] {
			return r, false
		}
	}
	for id := range c.moved {
		if now.outAt[f.where[id]] {
			return r, false
		}
	}
	if now.drops[c.hand] > was.drops[c.hand] {
		return r, false
	}
	if c.reason != Evenness && !(c.reason == Crossing && c.begins) && !f.wide(c) && now.out[c.hand] == was.out[c.hand] && now.drops[c.hand] == was.drops[c.hand] && now.pedal[c.hand] == was.pedal[c.hand] {
		return r, false // one hand plays both voices with ease
	}
	gained := was.effort[0] + was.effort[1] + was.lost - now.effort[0] - now.effort[1] - now.lost
	if let := now.drops[o] - was.drops[o]; let > 0 { // keys held before; a line would be told by now.pedal
		gained += let * (lostKey - toThePedal)
	}
	switch c.reason {
	case Crossing:
		if c.begins {
			gained += ownVoice
		}
		gained -= overTheOther
	case Clarity:
		gained += twoVoices
	case Evenness:
		gained += evenSweep
	}
	costs := f.costsOf(c.trouble, c.moved)
	r = f.redistribution(c.trouble, c.moved, &was, &now, from, to)
	r.Gain = gained - costs
	r.Why = f.why(c.trouble, &was, &now, c.moved, costs)
	return r, len(r.Notes) > 0
}

// weighRolled weighs the top of a rolled chord: the hand that crosses has struck its own keys by then, and takes these anew.
func (f *finder) weighRolled(c *chance) (r fingering.Redistribution, ok bool) {
	from, to := max(c.from-2, 0), min(c.to+2, len(f.moments)-1)
	was := f.finger(from, to, nil)
	now := f.fingerWithout(from, to, c.moved)
	o := 1 - c.hand
	if now.out[c.hand] > was.out[c.hand] || now.pedal[c.hand] > was.pedal[c.hand] || now.drops[c.hand] > was.drops[c.hand] {
		return r, false
	}
	var top []fingering.Note
	for id := range c.moved {
		if f.where[id] == c.from {
			top = append(top, *f.noteOf(id))
		}
	}
	slices.SortFunc(top, func(a, b fingering.Note) int { return a.ID - b.ID })
	alone := f.fingerAlone(o, top)
	r = f.redistribution(c.trouble, c.moved, &was, &now, from, to)
	for _, n := range alone.Notes {
		if n.OutOfReach != "" {
			return r, false
		}
		r.Notes, r.Fingers = append(r.Notes, n.ID), append(r.Fingers, n.Finger)
	}
	sortTogether(r.Notes, r.Fingers)
	costs := f.costsOf(c.trouble, c.moved)
	r.Gain = was.effort[c.hand] + was.lost - now.effort[c.hand] - now.lost + theRoll - overTheOther - costs
	r.Why = f.why(c.trouble, &was, &now, c.moved, costs)
	return r, len(r.Notes) > 0
}

// isGrace says that a note is a grace note of the page.
func (f *finder) isGrace(id int) bool {
	return id < len(f.in.Score.Notes) && f.in.Score.Notes[id].Grace > 0
}
