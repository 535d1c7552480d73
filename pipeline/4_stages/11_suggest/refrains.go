package suggest

import (
	"slices"

	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/parallel"
)

// What a time of a figure may be less likely with the fingering of the others than with its own, in 1/16 of a bit, all its
// strokes together, where the policy asks for as much as it does by default; and what another finger then costs at each
// stroke, in milli-nats. They were chosen on the mean of the folds: agreement falls from 0.7208 to 0.7198, and the
// figures that differ to less than half of what they were with none of it ('workbench idioms').
const (
	refrainGives     = 16
	refrainLikeGives = 64
	refrainWorth     = 2500
)

// figuresAgain is what a piece has of music that comes again, beside the figures of its lines.
type figuresAgain struct {
	measures, parts []parallel.Again
	text            func(id int) bool // the text's own digit binds the note
	measure         func(id int) int  // in which measure it stands, −1 for strokes of signs
	exact, like     bool              // the policy remembers what comes again on the same keys, on others
	repeat          int64             // the shortest time in which one finger repeats a key with ease, in microseconds
}

// led gives those of what comes again in which digits of the text are carried, by what the policy remembers.
func (f *figuresAgain) led(all []parallel.Again) (out []parallel.Again) {
	for _, a := range all {
		if a.Like && f.like || !a.Like && f.exact {
			out = append(out, a)
		}
	}
	return out
}

// refrains gives the measures that a hand plays again one fingering (measures.go), then the times of each figure that comes
// again within reach: the likeliest for all of them together, where it is likely enough for the time by itself: a key, a length
// or what follows may forbid it. Where one does not do for all, the times left may have one of their own. It looks at the
// fingers that the lines get with what is remembered up to now, and gives the times that follow, each with the first that has
// its fingering.
func (m *memory) refrains(
	fits fingering.Fits, percent int, of figuresAgain, apart func(id int) bool,
	search func(Remembering) engine.Result,
) (out []parallel.Return) {
	found := make([][]parallel.Refrain, len(m.lines))
	lines, chords := make([]*fingering.Line, len(m.lines)), make([][][]int, len(m.lines))
	some := len(of.measures) > 0 || len(of.parts) > 0
	for i, l := range m.lines {
		lines[i] = fingering.NewLine(l.Hand, l.Notes, fits)
		found[i] = parallel.Refrains(lines[i])
		chords[i] = chordsAgain(lines[i])
		some = some || len(found[i]) > 0 || len(chords[i]) > 0
		some = some || slices.ContainsFunc(l.Notes, func(n fingering.Note) bool { return of.text(n.ID) })
	}
	both := m.unisonsOf(lines)
	if !some && len(both) == 0 {
		return nil
	}
	m.search(search, func(int) bool { return true })
	for _, line := range lines {
		m.stays(line, of.repeat, of.text, apart)
		m.goesOn(line, of, apart)
	}
	m.chords(lines, chords, percent, apart)
	for _, line := range lines {
		m.keysAgain(line, percent, apart)
	}
	m.unisons(both, percent, apart)
	bound := newByNote[fingering.Finger](len(m.at.of))
	// What follows digits of the text goes before all else, the parts first: a measure may hold a part again that stands bare in it.
	out = m.measures(of.led(of.parts), true, percent, bound, of.text, apart)
	out = append(out, m.measures(of.led(of.measures), true, percent, bound, of.text, apart)...)
	if len(out) > 0 { // the rest of a figure is held against the others as it goes on from what is carried
		some := map[int]bool{}
		for _, r := range out {
			for _, id := range slices.Concat(r.First, r.Later) {
				some[id] = true
			}
		}
		m.search(search, func(id int) bool { return some[id] })
	}
	out = append(out, m.measures(of.measures, false, percent, bound, of.text, apart)...)
	for i, line := range lines {
		for _, r := range found[i] {
			limit := int64(refrainGives*percent) / 100
			if r.Like {
				limit = int64(refrainLikeGives*percent) / 100
			}
			times := idsOf(line, r.Times, apart)
			for len(times) > 1 {
				var follow []parallel.Return
				if follow, times = m.oneFingering(times, bound, limit); len(follow) == 0 {
					break
				}
				out = append(out, follow...)
			}
		}
	}
	return append(out, m.measures(of.parts, false, percent, bound, of.text, apart)...)
}

// idsOf gives the notes of the times of a figure, but for times with a note that is to be fingered for itself.
func idsOf(line *fingering.Line, times [][parallel.RefrainStrokes]int, apart func(id int) bool) (out [][]int) {
	for _, t := range times {
		ids := make([]int, len(t))
		for i, s := range t {
			ids[i] = line.Strikes[s].IDs[0]
		}
		if !slices.ContainsFunc(ids, apart) {
			out = append(out, ids)
		}
	}
	return out
}

// oneFingering finds the best of the fingerings that times of a figure have, gives it to those for which it is likely
// enough, and gives the others back.
func (m *memory) oneFingering(
	times [][]int, bound byNote[fingering.Finger], limit int64,
) (follow []parallel.Return, left [][]int) {
	with, best, left := m.bestFor(times, len(times[0]), bound, limit)
	if len(with) < 2 {
		return nil, left
	}
	for _, t := range with {
		m.remembers(t, best, refrainWorth)
		for i, id := range t {
			bound.of[id] = best[i]
		}
		follow = append(follow, parallel.Return{Kind: parallel.Figure, First: with[0], Later: t})
	}
	return follow[1:], left
}

// bestFor finds the best of the fingerings that times have, for all of them together, and says for which times it is likely
// enough; it gives the others back. A time may be a chord of so many keys struck again and again: all its strokes have the
// fingers of one.
func (m *memory) bestFor(
	times [][]int, keys int, bound byNote[fingering.Finger], limit int64,
) (with [][]int, best []fingering.Finger, left [][]int) {
	var ways [][]fingering.Finger
	for _, t := range times {
		way := make([]fingering.Finger, keys)
		for i := range way {
			way[i] = m.finger.at(t[i])
		}
		if len(ways) < mostWays && !slices.Contains(way, 0) &&
			!slices.ContainsFunc(ways, func(w []fingering.Finger) bool { return slices.Equal(w, way) }) {
			ways = append(ways, way)
		}
	}
	least := int64(1 << 62)
	for _, way := range ways {
		sum := int64(0)
		for _, t := range times {
			sum += min(m.lessLikely(t, way, bound), 2*limit)
		}
		if sum < least {
			best, least = way, sum
		}
	}
	if best == nil {
		return nil, nil, nil
	}
	for _, t := range times {
		if m.lessLikely(t, best, bound) > limit {
			left = append(left, t)
		} else {
			with = append(with, t)
		}
	}
	return with, best, left
}

// remembers lets a time of a figure or a chord have a fingering.
func (m *memory) remembers(ids []int, way []fingering.Finger, worth int) {
	for i, id := range ids {
		f := way[i%len(way)]
		m.finger.of[id] = f
		if n := m.at.at(id); !given(n) {
			n.Remembered, n.Worth = f, max(n.Worth, worth)
		}
	}
}

// lessLikely is by how much less likely a fingering is at a time of a figure than the one it has, in 1/16 of a bit; what
// the text forbids or another figure has bound otherwise is out of reach.
func (m *memory) lessLikely(ids []int, way []fingering.Finger, bound byNote[fingering.Finger]) (sum int64) {
	for i, id := range ids {
		n, f := m.at.at(id), way[i%len(way)]
		if n == nil || m.carried.at(id) && n.Remembered != f || n.Allowed != 0 && !n.Allowed.Has(f) || bound.at(id) != 0 && bound.at(id) != f {
			return 1 << 40
		}
		if own := m.finger.at(id); own.Valid() && own != f {
			sum += likelihood(m.shares.at(id)[own-1]) - likelihood(m.shares.at(id)[f-1])
		}
	}
	return sum
}
