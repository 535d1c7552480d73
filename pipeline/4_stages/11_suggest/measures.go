package suggest

import (
	"slices"

	"fingerproof/rules/fingering"
	"fingerproof/rules/parallel"
)

// What a measure that a hand plays again may be less likely with the fingering of its other times than with its own, in 1/16 of
// a bit, all its strokes together, where the policy asks for as much as it does by default. Print keeps to one fingering where
// what stands before and after is the same, too (0.89 to 1.00 of the digits, by fold and length); a measure of a few strokes
// with other music beside it is fingered by that music as often as not (0.52 to 0.64 in one fold). Chosen on folds 0 and 1
// ('workbench like-measures --fold').
const (
	measureGives      = 120
	measureAlikeGives = 1600 // the same strokes beside it
	likeOfMeasures    = 67   // of that on other keys of the same shape, in percent
)

// What another finger then costs at each stroke, in milli-nats: inside the measure, and at its first and last stroke beside
// other music.
const (
	measureWorth = 6000
	seamWorth    = 3000
)

// Likewise of half a measure, of a beat, and of two keys that stand twice in one measure. Print fingers a beat by what stands
// beside it as often as not (0.73 to 0.77 of its digits are the same), but not where that is the same, too ('workbench
// like-figures').
const (
	halfGives      = 60
	halfAlikeGives = 800
	beatGives      = 24
	beatAlikeGives = 400
	pairGives      = 32
	partWorth      = 3000
	partSeamWorth  = 1500
)

// asTheText is how many times as much the fingering of a time with digits of the text may be less likely at a time that the text
// leaves bare: print fingers a figure once and leaves it bare where it goes on (common practice, no
// source), so where digits of the text stand inside, the others follow it before any other.
const asTheText = 6

// measures gives the measures that a hand plays again one fingering, as refrains does with figures, and parts of measures
// likewise. Notes that get one are bound. led asks for those alone that follow digits of the text.
func (m *memory) measures(
	all []parallel.Again, led bool, percent int, bound byNote[fingering.Finger], text, apart func(id int) bool,
) (out []parallel.Return) {
	for i := range all {
		a := again{&all[i], m, bound, text, led, percent}
		times := a.times(apart)
		for len(times) > 1 {
			var follow []parallel.Return
			if follow, times = a.oneFingering(times); len(follow) == 0 {
				break
			}
			out = append(out, follow...)
		}
	}
	return out
}

// again is a measure that a hand plays again.
type again struct {
	*parallel.Again
	m       *memory
	bound   byNote[fingering.Finger]
	text    func(id int) bool
	led     bool // only what follows digits of the text is asked for
	percent int
}

// way is the fingering that one time has.
type way struct {
	from    int
	fingers []fingering.Finger
	text    int // digits of the text in it, but for its first and last stroke
}

// times are those of the measure, but for times with a note that is to be fingered for itself.
func (a *again) times(apart func(id int) bool) (out []int) {
	for t, ids := range a.Times {
		if !slices.ContainsFunc(ids, func(id int) bool { return a.m.at.at(id) == nil || apart(id) }) {
			out = append(out, t)
		}
	}
	return out
}

// ways are the fingerings that times have.
func (a *again) ways(times []int) (out []way) {
	for _, t := range times {
		w := way{t, make([]fingering.Finger, len(a.Times[t])), a.digits(t)}
		for i, id := range a.Times[t] {
			w.fingers[i] = a.m.finger.at(id)
		}
		if len(out) < mostWays && !slices.Contains(w.fingers, 0) &&
			!slices.ContainsFunc(out, func(o way) bool { return slices.Equal(o.fingers, w.fingers) }) {
			out = append(out, w)
		}
	}
	return out
}

// digits counts the digits of the text inside a time: what its first and its last stroke have may be for the sake of what stands
// beside it, but for those of two keys, which stand in one measure. None count where none are to be followed.
func (a *again) digits(t int) (n int) {
	if !a.led {
		return 0
	}
	ids := a.Times[t]
	if a.Unit != parallel.OfPair {
		ids = ids[min(a.First, len(ids)):max(len(ids)-a.Last, min(a.First, len(ids)))]
	}
	for _, id := range ids {
		if a.text(id) {
			n++
		}
	}
	return n
}

// bare says that no digit of the text stands at a time.
func (a *again) bare(t int) bool { return !slices.ContainsFunc(a.Times[t], a.text) }

// alike says that the same strokes stand beside two times.
func (a *again) alike(t, u int) bool { return a.Entered[t] == a.Entered[u] && a.Left[t] == a.Left[u] }

// limit is what the fingering of one time may be less likely at another.
func (a *again) limit(t int, w way) int64 {
	from := w.from
	gives := [...][2]int64{
		parallel.OfMeasure: {measureGives, measureAlikeGives}, parallel.OfHalf: {halfGives, halfAlikeGives},
		parallel.OfBeat: {beatGives, beatAlikeGives}, parallel.OfPair: {pairGives, pairGives},
	}[a.Unit]
	out := gives[0]
	if a.alike(t, from) {
		out = gives[1]
	}
	if a.Like {
		out = out * likeOfMeasures / 100
	}
	if w.text > 0 && a.bare(t) {
		out *= asTheText
	}
	return out * int64(a.percent) / 100
}

// worth is what another finger costs at note i of a time that takes the fingering of another one.
func (a *again) worth(t, from, i int) int {
	inside, seam := measureWorth, seamWorth
	if a.Unit != parallel.OfMeasure {
		inside, seam = partWorth, partSeamWorth
	}
	if a.first(t, from, i) || a.last(t, from, i) {
		return seam
	}
	return inside
}

// first says that note i is of the first stroke, and the hand comes from elsewhere than at another time; last that it is of the
// last one, and the hand goes elsewhere.
func (a *again) first(t, from, i int) bool { return i < a.First && a.Entered[t] != a.Entered[from] }

func (a *again) last(t, from, i int) bool {
	return i >= len(a.Times[t])-a.Last && a.Left[t] != a.Left[from]
}

// inRow says that note i of a part of a measure belongs to a row of strokes on the same keys that goes on beyond the part, and
// not so at another time: the row has the fingers.
func (a *again) inRow(t, from, i int) bool {
	return a.Unit != parallel.OfMeasure && (a.Repeats[t] && a.first(t, from, i) || a.Repeated[t] && a.last(t, from, i))
}

// follows gives the notes of a time, by their number in it, that can take the fingering of another one, and by how much less
// likely it is there than what they have: all of them, or, where this is out of reach, those inside: what does not lie at an end
// that joins other music, nor about a digit that says otherwise. None where that is out of reach, too.
func (a *again) follows(t int, w way) (notes []int, less int64) {
	var all []int
	for i := range a.Times[t] {
		if !a.inRow(t, w.from, i) {
			all = append(all, i)
		}
	}
	if len(all) == 0 {
		return nil, 1 << 40
	}
	limit := a.limit(t, w)
	if less = a.lessLikely(t, w, all); less <= limit && a.possible(t, w, all) {
		return all, less
	}
	if a.Unit == parallel.OfPair {
		return nil, less
	}
	inside := slices.DeleteFunc(all, func(i int) bool { return a.first(t, w.from, i) || a.last(t, w.from, i) || a.saysOtherwise(t, w, i) })
	if len(inside) == 0 || 2*len(inside) < len(a.Times[t]) {
		return nil, less
	}
	within := a.lessLikely(t, w, inside)
	if within > limit || !a.possible(t, w, inside) {
		return nil, less
	}
	return inside, within + limit // rather whole than in part
}

// possible says that no finger is all but impossible at a time where it is to follow digits of the text: the hand may hold another
// key there.
func (a *again) possible(t int, w way, notes []int) bool {
	return w.text == 0 || !slices.ContainsFunc(notes, func(i int) bool {
		id := a.Times[t][i]
		return a.m.at.at(id).Allowed == 0 && w.fingers[i].Valid() && a.m.shares.at(id)[w.fingers[i]-1] == 0
	})
}

// lessLikely is by how much less likely a fingering is at some notes of a time than the one they have.
func (a *again) lessLikely(t int, w way, notes []int) int64 {
	ids, fingers := make([]int, len(notes)), make([]fingering.Finger, len(notes))
	for k, i := range notes {
		ids[k], fingers[k] = a.Times[t][i], w.fingers[i]
	}
	return a.m.lessLikely(ids, fingers, a.bound)
}

// saysOtherwise says that a digit stands at a note or close to it that the fingering does not have.
func (a *again) saysOtherwise(t int, w way, i int) bool {
	ids := a.Times[t]
	other := func(k int) bool {
		n := a.m.at.at(ids[k])
		return n.Allowed != 0 && !n.Allowed.Has(w.fingers[k])
	}
	if other(i) {
		return true
	}
	for _, step := range [2]int{-1, 1} {
		strokes := 0
		for k := i + step; k >= 0 && k < len(ids); k += step {
			if fingering.Before(a.m.at.at(ids[k]), a.m.at.at(ids[k-step])) != 0 {
				strokes++
			}
			if strokes > otherwise {
				break
			}
			if other(k) {
				return true
			}
		}
	}
	return false
}

// oneFingering finds the best of the fingerings that times have, gives it to those for which it is likely enough, and gives the
// others back.
func (a *again) oneFingering(times []int) (follow []parallel.Return, left []int) {
	var best way
	least, most := int64(1<<62), 0
	for _, w := range a.ways(times) {
		sum, n := int64(0), 0
		for _, t := range times {
			notes, less := a.follows(t, w)
			sum += min(less, 2*a.limit(t, w))
			if len(notes) > 0 && a.bare(t) {
				n = w.text
			}
		}
		if n > most || n == most && sum < least {
			best, least, most = w, sum, n
		}
	}
	if best.fingers == nil || a.led && most == 0 {
		return nil, nil
	}
	var with []int
	notes := make([][]int, len(a.Times))
	for _, t := range times {
		if notes[t], _ = a.follows(t, best); len(notes[t]) == 0 {
			left = append(left, t)
		} else {
			with = append(with, t)
		}
	}
	if len(with) < 2 {
		return nil, nil
	}
	for _, t := range with[1:] {
		follow = append(follow, a.returns(with[0], t, notes[t])...)
	}
	for _, t := range with {
		for _, i := range notes[t] {
			id, f := a.Times[t][i], best.fingers[i]
			a.bound.of[id], a.m.finger.of[id] = f, f
			if n := a.m.at.at(id); !given(n) {
				n.Remembered, n.Worth = f, max(n.Worth, a.worth(t, best.from, i))
			}
		}
	}
	return follow, left
}

// returns gives the notes of a time that follow the first one, row by row where some are left out.
func (a *again) returns(first, t int, notes []int) (out []parallel.Return) {
	for from := 0; from < len(notes); {
		to := from + 1
		for to < len(notes) && notes[to] == notes[to-1]+1 {
			to++
		}
		l, h := notes[from], notes[to-1]+1
		out = append(out, parallel.Return{Kind: parallel.Figure, First: a.Times[first][l:h], Later: a.Times[t][l:h]})
		from = to
	}
	return out
}
