package redistribute

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// What must not be torn out of its hand (common practice; readers who judged offers as pianists named these).

var quarter = score.Whole(1)

func fraction(m fingering.Moment) score.Fraction { return score.Frac(m.Num, max(m.Den, 1)) }

// tearsRow says that one or two strokes would be split or taken out of a quick row of equal ones: the hand strikes the
// keys taken from it once more less than a quarter before or after, as part of a grip, and keeps them there.
func (f *finder) tearsRow(t trouble, moved map[int]bool) bool {
	moments := f.momentsOf(moved)
	if len(moments) > shortTune {
		return false
	}
	for _, m := range moments {
		for _, step := range [2]int{-1, 1} {
			n := f.nextStroke(t.hand, m, step)
			if n >= 0 && f.quarters(min(m, n), max(m, n)).Less(quarter) && f.hasKeys(t.hand, m, n, moved) &&
				!f.takes(t.hand, n, moved) {
				return true
			}
		}
	}
	return false
}

// hasKeys says that a hand strikes at n what is moved of its grip at m, as part of a grip too.
func (f *finder) hasKeys(h, m, n int, moved map[int]bool) bool {
	there := f.moments[n].struck[h]
	if len(there) < 2 || len(f.moments[m].struck[h]) < 2 {
		return false
	}
	for _, k := range f.moments[m].struck[h] {
		key := f.line[h][k].Key
		if moved[f.line[h][k].ID] &&
			!slices.ContainsFunc(there, func(i int) bool { return f.line[h][i].Key == key }) {
			return false
		}
	}
	return true
}

// momentsOf lists the moments at which notes are struck, in their order.
func (f *finder) momentsOf(moved map[int]bool) (out []int) {
	for _, id := range f.inOrder(moved) {
		if m := f.where.of(id); !f.noteOf(id).Tied && !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	return out
}

// nextStroke is the moment of a hand's next stroke (step 1), or of the one before (step -1), no farther than lookBack;
// -1 for none.
func (f *finder) nextStroke(h, m, step int) int {
	for k := m + step; k >= 0 && k < len(f.moments) && abs(k-m) <= lookBack; k += step {
		if len(f.moments[k].struck[h]) > 0 {
			return k
		}
	}
	return -1
}

// sameKeys says that a hand strikes the same keys at two moments, two or more.
func (f *finder) sameKeys(h, a, b int) bool {
	x, y := f.moments[a].struck[h], f.moments[b].struck[h]
	return len(x) > 1 && slices.EqualFunc(x, y, func(i, j int) bool { return f.line[h][i].Key == f.line[h][j].Key })
}

// takes says that some of what a hand strikes at a moment is moved.
func (f *finder) takes(h, m int, moved map[int]bool) bool {
	return slices.ContainsFunc(f.moments[m].struck[h], func(k int) bool { return moved[f.line[h][k].ID] })
}

// tearsTune says that one or two notes would be taken out of a tune that stays, each single in its voice: one
// that a slur joins to the next; or the first of a voice beside others that goes on from there by small steps.
func (f *finder) tearsTune(t trouble, moved map[int]bool) bool {
	moments := f.momentsOf(moved)
	if len(moments) > shortTune {
		return false
	}
	for _, m := range moments {
		for _, k := range f.moments[m].struck[t.hand] {
			n := &f.line[t.hand][k]
			voice := f.written(n.ID)
			if !moved[n.ID] || voice == "" || f.inVoice(t.hand, m, voice) != 1 {
				continue
			}
			before, after := f.joined(t.hand, n, -1), f.joined(t.hand, n, 1)
			if after == nil && n.Slurred {
				after = f.goesOnAlone(t.hand, n)
			}
			if after == nil || moved[after.ID] {
				continue
			}
			if n.Slurred || before == nil && f.others(t.hand, m, voice) &&
				f.goesOnBySteps(t.hand, n) {
				return true
			}
		}
	}
	return false
}

// How many strokes of a tune are taken out of it at most, how many after them make it a tune where no slur says
// so, and how far these lie apart at most, in semitones.
const (
	shortTune  = 2
	tuneStays  = 2
	smallSteps = 4
)

// inVoice counts the keys of a voice that a hand strikes at a moment, grace notes apart.
func (f *finder) inVoice(h, m int, voice string) (n int) {
	for _, k := range f.moments[m].struck[h] {
		if id := f.line[h][k].ID; f.written(id) == voice && !f.isGrace(id) {
			n++
		}
	}
	return n
}

// joined is the next single note of a note's voice in its hand (step 1), or the one before (step -1), where no rest
// parts the two and they lie less than a sixth apart; nil for none.
func (f *finder) joined(h int, n *fingering.Note, step int) *fingering.Note {
	voice := f.written(n.ID)
	for m := f.where.of(n.ID) + step; m >= 0 && m < len(f.moments) && abs(m-f.where.of(n.ID)) <= lookBack; m += step {
		if f.inVoice(h, m, voice) == 0 {
			continue
		}
		if f.inVoice(h, m, voice) > 1 {
			return nil
		}
		for _, k := range f.moments[m].struck[h] {
			o := &f.line[h][k]
			if f.written(o.ID) != voice || f.isGrace(o.ID) {
				continue
			}
			first, second := n, o
			if step < 0 {
				first, second = o, n
			}
			if abs(o.Key-n.Key) >= wideLeap || f.heldTo(first.ID).Compare(f.moments[f.where.of(second.ID)].at) < 0 {
				return nil
			}
			return o
		}
	}
	return nil
}

// goesOnAlone is the next stroke of a note's hand, in whatever voice, where it is a single key less than a sixth away and
// follows without a rest; nil for none.
func (f *finder) goesOnAlone(h int, n *fingering.Note) *fingering.Note {
	m := f.nextStroke(h, f.where.of(n.ID), 1)
	if m < 0 || len(f.moments[m].struck[h]) != 1 || f.heldTo(n.ID).Compare(f.moments[m].at) < 0 {
		return nil
	}
	if o := &f.line[h][f.moments[m].struck[h][0]]; abs(o.Key-n.Key) < wideLeap {
		return o
	}
	return nil
}

// goesOnBySteps says that a voice goes on from a note by small steps for as long as makes a tune.
func (f *finder) goesOnBySteps(h int, n *fingering.Note) bool {
	for range tuneStays {
		o := f.joined(h, n, 1)
		if o == nil || abs(o.Key-n.Key) > smallSteps {
			return false
		}
		n = o
	}
	return true
}

// consistent gives the same grip near by the same, where it is allowed there and gains at all, and leaves out what is
// done with a single grip that stays as it is near by: within two measures. A player does the same thing in the same
// way.
func (f *finder) consistent(all []fingering.Redistribution) (out []fingering.Redistribution) {
	taken := map[int]bool{}
	take := func(r *fingering.Redistribution) {
		for _, n := range r.Notes {
			taken[n] = true
		}
	}
	for k := range all {
		take(&all[k])
	}
	for k := 0; k < len(all); k++ { // grows while it runs
		r := all[k]
		stays := false
		for _, there := range f.sameNearby(&r, taken) {
			o, ok := f.again(r, there)
			if ok {
				all = append(all, o)
				take(&o)
			}
			stays = stays || !ok
		}
		if !stays {
			out = append(out, r)
		}
	}
	return out
}

// sameNearby lists the notes that a redistribution of a single grip would take where its hand strikes the same keys
// within two measures, and nothing is taken from it.
func (f *finder) sameNearby(r *fingering.Redistribution, taken map[int]bool) (out [][]int) {
	moved := map[int]bool{}
	for _, n := range r.Notes {
		moved[n] = true
	}
	moments := f.momentsOf(moved)
	if r.Reason != Reach && r.Reason != Held || len(moments) != 1 {
		return nil
	}
	m, h := moments[0], f.side.of(r.Notes[0])
	for _, step := range [2]int{-1, 1} {
		for k := f.nextStroke(h, m, step); k >= 0; k = f.nextStroke(h, k, step) {
			if abs(f.measureAt(k)-f.measureAt(m)) > nearMeasures {
				break
			}
			if !f.sameKeys(h, m, k) || f.takes(h, k, taken) {
				continue
			}
			var there []int
			for i, note := range f.moments[m].struck[h] {
				if moved[f.line[h][note].ID] {
					there = append(there, f.tied(f.line[h][f.moments[k].struck[h][i]].ID)...)
				}
			}
			out = append(out, there)
		}
	}
	return out
}

// nearMeasures is how far off a player still remembers how he took a grip, in measures.
const nearMeasures = 2
