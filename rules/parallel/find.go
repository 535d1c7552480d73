package parallel

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
)

// What counts as a passage, and where its comparison stops. The figures are ours, in the terms of the trade: three
// groups of four sixteenths are remembered as a passage, and so is a whole measure of eight strokes. Shorter ones
// depend more on where the hand comes from and goes to than on where they stood before: held to the first time, they
// agree less with what editors print.
const (
	longEnough   = 12 // strokes that make a passage
	inAMeasure   = 8  // strokes that make one where they fill a measure
	continuation = 2  // last strokes before two passages part: they may need other fingers for what comes
	leastLeft    = 3  // strokes that must be left to compare
	leastUnit    = 4  // strokes of a figure that goes on repeating itself: a shake or a run is none
)

// restFrees is the rest, in quarters, after which the hand comes anew: what follows it has no hold on the fingers
// before.
var restFrees = score.Whole(1)

// grams are the numbers of strokes by which places are looked up, the longest first: a long return is found by a long
// one even where its beginning is a figure that stands everywhere.
//
// The last stroke of a passage may go on otherwise, hence one less.
var grams = [3]int{32, longEnough - 1, inAMeasure - 1}

// mostPlaces is how many earlier places are looked at for one gram, so that the time stays in proportion to the
// length of a piece.
const mostPlaces = 24

// Find lists the passages that return in the lines of a piece, by where the later one begins. Exact returns come
// before transposed ones and those before mirrored ones; each later note returns one first note, the earliest there
// is. A passage that returns several times in a row is listed once for each time. The first note of an exact return may
// itself be the later one of a return of another kind.
//
// Transposed is what has the same intervals, in semitones or, within the key, in steps. Mirrored is the same of the
// two hands, one upside down; of two that begin together the right hand's is the first.
//
// The comparison stops before the last strokes ahead of where two passages part, unless a rest parts them. Time grows
// with the number of notes times a constant (see mostPlaces).
func Find(s *score.Score, p *playing.Playing) []Return {
	f := finder{strokes: strokesOf(s, p), measures: s.Measures}
	f.first, f.how, f.order = make([]int, len(f.strokes)), make([]*match, len(f.strokes)), make([]int, len(f.strokes))
	for i := range f.first {
		f.first[i], f.order[i] = -1, i
	}
	slices.SortStableFunc(f.order, f.compare)
	f.pass(Exact, byKeys)
	f.pass(Transposed, byIntervals)
	f.pass(Transposed, byDegrees)
	f.pass(Mirrored, byIntervals)
	f.pass(Mirrored, byDegrees)
	return f.returns()
}

// finder keeps for each stroke which earlier one it returns.
type finder struct {
	strokes  []stroke
	measures []score.Measure
	first    []int    // -1: none
	how      []*match // by which match
	order    []int    // the strokes by time
}

// match is one passage found to return.
type match struct {
	kind  Kind
	first int // index of its first stroke
	later int
	n     int // strokes
	alike bool
}

// pass looks for returns of one kind among the strokes that return nothing yet.
func (f *finder) pass(kind Kind, v view) {
	words := v.words(f.strokes)
	places := f.places(words)
	for i := 0; i < len(f.strokes); {
		m := f.best(kind, v, words, places, i)
		if m == nil {
			i++
			continue
		}
		for k := range m.n {
			f.first[i+k], f.how[i+k] = m.first+k, m
		}
		i += m.n
	}
	// Earliest in time first, so that what a first stroke returns is known when it is asked.
	for _, i := range f.order {
		if m := f.how[i]; m != nil && m.kind == kind {
			for j := f.first[i]; f.leadsOn(j, kind); j = f.first[i] {
				f.first[i] = f.first[j]
			}
		}
	}
}

// leadsOn says that a first stroke itself returns an earlier one, and that a return of the kind goes back to that one.
func (f *finder) leadsOn(i int, kind Kind) bool {
	m := f.how[i]
	return m != nil && (m.kind == Exact || m.kind == Transposed && kind != Exact)
}

// compare orders two strokes by time; at the same time the earlier line comes first.
func (f *finder) compare(a, b int) int {
	x, y := &f.strokes[a], &f.strokes[b]
	return cmp.Or(x.at.Cmp(y.at), cmp.Compare(x.line, y.line), cmp.Compare(a, b))
}

// places are the strokes at which runs of words begin, for one gram.
type places struct {
	first []int32  // by where a sum is looked for (at): the first stroke of a hand at which a run stands, and one more; 0 is free
	sums  []uint64 // by stroke: of the run that begins at it
	next  []int32  // by stroke: the next one of its hand at which the same run stands, −1 for none
}

// places lists by gram where each run of words stands.
func (f *finder) places(words []int32) (out [len(grams)]places) {
	size := 4
	for size < 2*len(f.strokes) {
		size *= 2
	}
	for g, n := range grams {
		p := places{make([]int32, size), make([]uint64, len(f.strokes)), make([]int32, len(f.strokes))}
		for i := range slices.Backward(f.strokes) {
			p.next[i] = -1
			if sum, ok := f.gram(words, i, n); ok {
				p.sums[i] = sum
				at := f.at(&p, f.strokes[i].hand, sum)
				p.next[i], p.first[at] = p.first[at]-1, int32(i)+1
			}
		}
		out[g] = p
	}
	return out
}

// at is where the first stroke of a hand at which a run of this sum stands is kept, or would be.
func (f *finder) at(p *places, h fingering.Hand, sum uint64) int {
	last := uint64(len(p.first) - 1)
	for at := (sum + uint64(h)) & last; ; at = (at + 1) & last {
		if i := p.first[at] - 1; i < 0 || p.sums[i] == sum && f.strokes[i].hand == h {
			return int(at)
		}
	}
}

// gram sums n words from stroke i on; ok is false where the line ends before.
func (f *finder) gram(words []int32, i, n int) (sum uint64, ok bool) {
	if i+n > len(words) || f.strokes[i+n-1].line != f.strokes[i].line {
		return 0, false
	}
	for _, w := range words[i : i+n] {
		sum = (sum ^ uint64(w)) * 0x9e3779b97f4a7c15
		sum ^= sum >> 29
	}
	return sum, true
}

// best gives the longest return that begins at stroke i, of equally long ones the earliest; nil if there is none.
func (f *finder) best(kind Kind, v view, words []int32, places [len(grams)]places, i int) *match {
	if f.how[i] != nil {
		return nil
	}
	h := f.strokes[i].hand
	if kind == Mirrored {
		h = fingering.Right + fingering.Left - h
	}
	for g, n := range grams {
		sum, ok := f.gram(words, i, n)
		if !ok {
			continue
		}
		best, looked := (*match)(nil), 0
		for j := int(places[g].first[f.at(&places[g], h, sum)]) - 1; j >= 0 && looked < mostPlaces; j = int(places[g].next[j]) {
			if j == i || f.compare(j, i) > 0 {
				continue
			}
			looked++
			if m := f.extend(kind, v, words, j, i); m != nil && (best == nil || m.n > best.n) {
				best = m
			}
		}
		if best != nil {
			return best
		}
	}
	return nil
}

// extend follows two passages from strokes j and i on to where they part, and stops before the continuation; nil
// where too little is left.
func (f *finder) extend(kind Kind, v view, words []int32, j, i int) *match {
	first, later := &f.strokes[j], &f.strokes[i]
	if kind == Transposed && first.keys[0] == later.keys[0] && byKeys.same(first, later) {
		return nil // the same keys: too short a return to be an exact one
	}
	unit := i - j // of a passage that runs on into its own return
	if first.line != later.line {
		unit = len(f.strokes)
	}
	n, runs := 0, true
	for words[j+n] == words[i+n] {
		n++
		runs = runs && words[i+n-1] == words[i]
		if f.strokes[j+n-1].last || f.strokes[i+n-1].last || f.how[i+n] != nil {
			break
		}
	}
	if n == 0 || n > unit && unit < leastUnit || runs && v != byKeys {
		return nil // a scale is no sequence of itself, and has handbook fingers of its own
	}
	a, b := &f.strokes[j+n-1], &f.strokes[i+n-1]
	ended := a.last && b.last
	if !a.last && !b.last && f.how[i+n] == nil && v.same(&f.strokes[j+n], &f.strokes[i+n]) {
		n++ // the stroke after which they part is itself the same
	}
	if n < longEnough && (n < inAMeasure || !f.fillsMeasure(i, n)) {
		return nil
	}
	if !ended && !(f.rests(j+n-1) && f.rests(i+n-1)) {
		n -= continuation
	}
	if n < leastLeft {
		return nil
	}
	return &match{kind: kind, first: j, later: i, n: n}
}

// fillsMeasure says that n strokes from stroke i on last as long as the measure in which they begin.
func (f *finder) fillsMeasure(i, n int) bool {
	from, last := &f.strokes[i], &f.strokes[i+n-1]
	startsAt := func(m score.Measure, at score.Fraction) int { return m.Start.Cmp(at) }
	m, found := slices.BinarySearchFunc(f.measures, from.at, startsAt)
	if !found {
		m--
	}
	length := score.Max(f.measures[m].Nominal, f.measures[m].Length)
	return length.Sign() > 0 && last.at.Add(last.gap).Sub(from.at).Cmp(length) >= 0
}

// rests reports whether the hand comes anew after stroke i.
func (f *finder) rests(i int) bool {
	s := &f.strokes[i]
	return s.last || s.gap.Sub(s.end.Sub(s.at)).Cmp(restFrees) >= 0
}

// returns gathers strokes in a row into passages.
func (f *finder) returns() []Return {
	type found struct {
		Return
		at, strokes int
	}
	var out []found
	for i := range f.strokes {
		m, j := f.how[i], f.first[i]
		if m == nil {
			continue
		}
		a, b := &f.strokes[j], &f.strokes[i]
		goes := i > 0 && f.how[i-1] == m && f.first[i-1] == j-1 && f.strokes[j-1].line == a.line
		if !goes {
			r := found{Return{Kind: m.kind, Alike: m.alike}, i, 0}
			if m.kind == Transposed {
				r.Shift = b.hand.Mirror(b.keys[0]) - a.hand.Mirror(a.keys[0])
			}
			out = append(out, r)
		}
		r := &out[len(out)-1]
		r.strokes++
		r.First, r.Later = append(r.First, a.ids...), append(r.Later, b.ids...)
	}
	slices.SortStableFunc(out, func(a, b found) int { return f.compare(a.at, b.at) })
	var long []Return
	for _, r := range out {
		if r.strokes >= leastLeft {
			long = append(long, r.Return)
		}
	}
	return long
}
