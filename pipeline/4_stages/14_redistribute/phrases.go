package redistribute

import (
	"slices"

	"fingerproof/rules/fingering"
)

// written is the voice in which a note is written; "" for strokes that signs add.
func (f *finder) written(id int) string {
	if id >= len(f.in.Score.Notes) {
		return ""
	}
	return f.in.Score.Notes[id].Voice
}

// isGrace says that a note is a grace note of the page.
func (f *finder) isGrace(id int) bool {
	return id < len(f.in.Score.Notes) && f.in.Score.Notes[id].Grace > 0
}

// phrase is a stretch of one voice.
type phrase struct {
	voice    string
	from, to int
	ids      []int
	begins   bool
}

// phrases lists, for each voice of a hand, the stretches without a rest in which another voice of the hand sounds
// all the time.
func (f *finder) phrases(h int) (out []phrase) {
	open := map[string]int{} // voice → place in out of what may go on
	ends := map[string]fingering.Moment{}
	tops := map[string]int{} // the highest key of its last stroke
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
				begins := played && last.Compare(f.moments[m].at) < 0 || f.restedBefore(h, m, v) || f.leapsTo(h, m, v, tops)
				out = append(out, phrase{voice: v, from: m, to: m, ids: ids, begins: begins})
			}
			ends[v], tops[v] = end, f.noteOf(ids[len(ids)-1]).Key
		}
	}
	return out
}

// leapsTo says that a voice leaps by more than an octave from its last stroke to a moment: what follows is heard as
// another voice.
func (f *finder) leapsTo(h, m int, voice string, tops map[string]int) bool {
	last, played := tops[voice]
	for _, k := range f.moments[m].struck[h] {
		if n := &f.line[h][k]; f.written(n.ID) == voice && played && n.Key-last > octave {
			return true
		}
	}
	return false
}

// others says that another voice of the hand sounds at a moment, or has a rest of its own there.
func (f *finder) others(h, m int, voice string) bool {
	if f.restsBeside(h, m, voice) {
		return true
	}
	near := f.between(h, m, m)
	for k := range near {
		n := &near[k]
		if v := f.written(n.ID); v != "" && v != voice && f.where.of(n.ID) <= m && n.End.Compare(f.moments[m].at) > 0 {
			return true
		}
	}
	return false
}

// voicesApart lists the voices of a hand, or stretches of them, that lie wholly above or wholly below what else the
// hand has, while the other hand strikes nothing.
func (f *finder) voicesApart(h int) (out []chance) {
	for _, p := range f.phrases(h) {
		for _, part := range f.whileFree(h, p) {
			above, below := f.apartFromHand(h, part)
			over := h == 0 && above || h == 1 && below
			moments := part.to - part.from + 1
			switch {
			case over && h == 0 && f.in.Rules.On[Crossing] && moments <= longestOver && !f.comesUnder(h, part):
				out = append(out, f.chanceOf(h, Crossing, part))
			case !over && (above || below) && f.in.Rules.On[Clarity] && len(part.ids) > 1 && moments <= longestVoice:
				out = append(out, f.chanceOf(h, Clarity, part))
			}
		}
	}
	return out
}

func (f *finder) chanceOf(h int, reason string, p phrase) chance {
	c := chance{
		trouble: trouble{hand: h, reason: reason, from: p.from, to: p.to}, moved: map[int]bool{}, begins: p.begins,
	}
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
			if f.where.of(id) != m {
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
			if n := f.noteOf(id); f.where.of(id) <= m && n.End.Compare(f.moments[m].at) > 0 {
				low, high = min(low, n.Key), max(high, n.Key)
			}
		}
		if high < 0 {
			continue
		}
		near := f.between(h, m, m)
		for k := range near {
			n := &near[k]
			if f.where.of(n.ID) > m || n.End.Compare(f.moments[m].at) <= 0 || slices.Contains(p.ids, n.ID) {
				continue
			}
			above, below = above && n.Key < low, below && n.Key > high
		}
	}
	return above, below
}

// comesUnder says that while a hand would cross over, the other strikes keys that lie by it, within a fourth of what it
// struck last or below that: it is there already, and takes those.
func (f *finder) comesUnder(h int, p phrase) bool {
	for back := p.from - 1; back >= 0 && p.from-back <= lookBack; back-- {
		_, high, ok := f.outer(1-h, back)
		if !ok {
			continue
		}
		for m := p.from; m < len(f.moments) && f.sounds(p, m); m++ {
			for _, k := range f.moments[m].struck[h] {
				if n := &f.line[h][k]; !slices.Contains(p.ids, n.ID) && n.Key <= high+fourth {
					return true
				}
			}
		}
		return false
	}
	return false
}

const fourth = 5 // semitones

// sounds says that some key of a phrase is struck at a moment or later, or still sounds.
func (f *finder) sounds(p phrase, m int) bool {
	return m <= p.to || slices.ContainsFunc(p.ids, func(id int) bool {
		return f.noteOf(id).End.Compare(f.moments[m].at) > 0
	})
}
