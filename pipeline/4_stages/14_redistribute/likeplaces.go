package redistribute

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// A like place is one at which both hands strike and hold the same keys for as long as the notes of a redistribution sound:
// what is offered at one is offered at the other, is one question to the editor, and what is declined at one may be declined
// for all.

// spanOf is the moments in which a set of notes sounds: of its first stroke, and the last one at which one of them is down.
func (f *finder) spanOf(notes []int) (from, to int) {
	from, to = len(f.moments), -1
	for _, n := range notes {
		if !f.where.has(n) {
			return 0, -1
		}
		end := f.heldTo(n)
		m := f.where.of(n)
		from = min(from, m)
		for m+1 < len(f.moments) && f.moments[m+1].at.Compare(end) < 0 {
			m++
		}
		to = max(to, m)
	}
	return from, to
}

// likePlaces lists, for a set of notes, those that stand in their places wherever the music of both hands comes again on the
// same keys meanwhile, in order.
func (f *finder) likePlaces(notes []int) (out [][]int) {
	from, to := f.spanOf(notes)
	for m := 0; from <= to && m+to-from < len(f.moments); m++ {
		if m == from {
			continue
		}
		if there, ok := f.thereOf(notes, from, to, m); ok {
			out = append(out, there)
		}
	}
	return out
}

// thereOf gives the notes that stand in the place of others where the moments from..to come again at m, if they do.
func (f *finder) thereOf(notes []int, from, to, m int) (out []int, same bool) {
	for k := from; k <= to; k++ {
		if !f.sameMoment(from, k, m, m+k-from) {
			return nil, false
		}
	}
	if !f.sameHeld(from, m) {
		return nil, false
	}
	for _, n := range notes {
		first := n
		for f.tiedFrom(first) >= 0 && slices.Contains(notes, f.tiedFrom(first)) {
			first = f.tiedFrom(first)
		}
		h, at := f.side.of(first), f.where.of(first)
		k := slices.IndexFunc(f.moments[at].struck[h], func(i int) bool { return f.line[h][i].ID == first })
		if k < 0 {
			return nil, false // tied on from before
		}
		there := f.line[h][f.moments[m+at-from].struck[h][k]].ID
		hold, place := f.tied(there), slices.Index(f.tied(first), n)
		if place < 0 || place >= len(hold) || len(hold) != len(f.tied(first)) {
			return nil, false
		}
		out = append(out, hold[place])
	}
	slices.Sort(out)
	return out, true
}

// sameMoment says that at two moments, counted from the beginnings of two stretches, both hands strike the same keys for as
// long.
func (f *finder) sameMoment(from, a, there, b int) bool {
	for h := range 2 {
		x, y := f.moments[a].struck[h], f.moments[b].struck[h]
		if !slices.EqualFunc(x, y, func(i, k int) bool {
			n, o := &f.line[h][i], &f.line[h][k]
			return n.Key == o.Key && n.Rank == o.Rank && f.after(a, f.heldTo(n.ID)).Equal(f.after(b, f.heldTo(o.ID)))
		}) {
			return false
		}
	}
	return f.after(from, f.moments[a].at).Equal(f.after(there, f.moments[b].at))
}

// after is how long after a moment a point of time comes.
func (f *finder) after(m int, at fingering.Moment) score.Fraction {
	return fraction(at).Sub(fraction(f.moments[m].at))
}

// sameHeld says that at two moments both hands hold the same keys down from before.
func (f *finder) sameHeld(a, b int) bool {
	for h := range 2 {
		if !slices.Equal(f.heldAt(h, a), f.heldAt(h, b)) {
			return false
		}
	}
	return true
}

// heldAt lists the keys that a hand holds at a moment from before it, lowest first.
func (f *finder) heldAt(h, m int) (out []int) {
	near := f.between(h, m, m)
	for k := range near {
		if n := &near[k]; (f.where.of(n.ID) < m || n.Tied) && n.End.Compare(f.moments[m].at) > 0 {
			out = append(out, n.Key)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// alikeToo adds what is offered at one place wherever the same keys stand in both hands, unless something forbids it there:
// a digit or a sign of the text, a decision, what is offered there already, or a hand that would be worse off.
func (f *finder) alikeToo(all []fingering.Redistribution) []fingering.Redistribution {
	for k := 0; k < len(all); k++ { // grows while it runs
		for _, there := range f.likePlaces(all[k].Notes) {
			taken := slices.ContainsFunc(all, func(o fingering.Redistribution) bool {
				return slices.ContainsFunc(o.Notes, func(n int) bool { return slices.Contains(there, n) })
			})
			if taken {
				continue
			}
			if o, ok := f.againAt(all[k], there, true); ok {
				all = append(all, o)
			}
		}
	}
	return f.grouped(all)
}

// grouped says of each offer which is the first that has the same notes at a like place: they are one question.
func (f *finder) grouped(all []fingering.Redistribution) []fingering.Redistribution {
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(all[a].Notes[0], all[b].Notes[0]) })
	for _, i := range order {
		if all[i].As != 0 {
			continue
		}
		all[i].As = all[i].Notes[0] + 1
		places := f.likePlaces(all[i].Notes)
		for _, k := range order {
			o := &all[k]
			if o.As == 0 && o.Reason == all[i].Reason && slices.ContainsFunc(places, func(there []int) bool { return slices.Equal(there, o.Notes) }) {
				o.As = all[i].As
			}
		}
	}
	return all
}

// declinedToo adds to what was declined for like places too the notes that stand there.
func (f *finder) declinedToo() {
	for _, notes := range f.in.DeclinedAlike {
		f.in.Declined = append(f.in.Declined, f.likePlaces(notes)...)
	}
}
