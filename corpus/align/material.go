package align

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
)

// ticksPerQuarter is the grid on which times are compared. It holds every
// tuplet of 2, 3, 5, 7 and 9 down to 1/64 of a quarter exactly; others are
// rounded, the same way on both sides.
const ticksPerQuarter = 64 * 9 * 5 * 7

// tolerance is the greatest difference, in ticks, that is still taken for an
// exporter's rounding of a tuplet: just under 1/64 of a quarter. Converters
// count in 480 to the quarter, cut each note of a tuplet to a whole number and
// let the remainders add up; a 128th note, 1/32 of a quarter, stays apart.
const tolerance = ticksPerQuarter/64 - 1

// item is a pitched note as alignment sees it.
type item struct {
	note int32 // index in Score.Notes
	midi int16
	// moved is what a reading added to midi to try an octave; 0 elsewhere.
	moved int16
	rank  playing.Rank // place among the notes of one tick
	part  int16
	held  bool // the continuation of a tie
	staff int8
	// tick is the onset counted from the first barline of the run of measures
	// the item was taken from.
	tick int64
	dur  int64
}

// measureItems is the music of one measure in playing order; of notes struck
// together by pitch, then in document order.
type measureItems struct {
	items  []item
	length int64 // ticks
	exact  uint64
	octave uint64 // fingerprint that hears octaves as equal
	order  uint64 // fingerprint that hears only the row of pitches
	whole  uint64 // exact, and durations, ties and digits: keeps copies of one measure apart
}

// material is one score prepared.
type material struct {
	score    *score.Score
	in       []bool
	measures []measureItems
	start    []int64
}

func ticks(f score.Fraction) int64 { return f.Scaled(ticksPerQuarter) }

func prepare(s *score.Score, parts []int) *material {
	wanted := make([]bool, len(s.Parts))
	if parts == nil {
		parts = s.PianoParts()
	}
	for _, p := range parts {
		wanted[p] = true
	}
	if len(parts) == 0 {
		for p := range wanted {
			wanted[p] = true
		}
	}
	m := &material{
		score: s, in: make([]bool, len(s.Notes)), measures: make([]measureItems, len(s.Measures)),
		start: make([]int64, len(s.Measures)),
	}
	counts := make([]int, len(s.Measures))
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Kind == score.Pitched && (n.Part >= len(wanted) || wanted[n.Part]) {
			m.in[i] = true
			counts[n.Measure]++
		}
	}
	for i := range m.measures {
		m.measures[i].items = make([]item, 0, counts[i])
		m.measures[i].length = ticks(s.Measures[i].Length)
		m.start[i] = ticks(s.Measures[i].Start)
	}
	for i := range s.Notes {
		if !m.in[i] {
			continue
		}
		n := &s.Notes[i]
		m.measures[n.Measure].items = append(m.measures[n.Measure].items, item{
			note: int32(i), midi: int16(n.Midi), rank: playing.RankOf(s, i), part: int16(n.Part),
			held: n.TiedFrom >= 0, staff: int8(n.Staff), tick: ticks(n.Onset), dur: ticks(n.Duration),
		})
	}
	for i := range m.measures {
		slices.SortFunc(m.measures[i].items, inTime)
		m.fingerprint(&m.measures[i])
	}
	return m
}

// inTime orders notes as they are played, then by pitch, then as they are written.
func inTime(a, b item) int {
	return cmp.Or(together(a, b), cmp.Compare(a.midi, b.midi), cmp.Compare(a.note, b.note))
}

// together is 0 for notes that are struck together, else as inTime.
func together(a, b item) int { return cmp.Or(cmp.Compare(a.tick, b.tick), cmp.Compare(a.rank, b.rank)) }

// run gives the items of several measures, with ticks counted from the first
// barline. One measure is returned without copying.
func (m *material) run(r Range) []item {
	if r.Len() == 1 {
		return m.measures[r.From].items
	}
	var out []item
	for i := r.From; i < r.To; i++ {
		for _, it := range m.measures[i].items {
			it.tick += m.start[i] - m.start[r.From]
			out = append(out, it)
		}
	}
	slices.SortFunc(out, inTime) // a measure may be overfull
	return out
}

// length of a run in ticks.
func (m *material) length(r Range) int64 {
	if r.Len() == 0 {
		return 0
	}
	last := r.To - 1
	return m.start[last] - m.start[r.From] + m.measures[last].length
}

// fingerprint hashes the music of a measure at four depths. Grace notes are
// left out (editions differ most in them), and a chord counts each key once,
// so that unisons doubled in two voices do not matter.
func (m *material) fingerprint(mi *measureItems) {
	exact, octave, order, whole := newHash(), newHash(), newHash(), newHash()
	var lastTick int64 = -1
	var lastMidi int16 = -1
	var classes uint16
	flush := func() {
		if classes != 0 {
			octave = octave.add(uint64(lastTick)).add(uint64(classes))
			classes = 0
		}
	}
	for _, it := range mi.items {
		n := &m.score.Notes[it.note]
		whole = whole.add(uint64(it.tick)).add(uint64(it.midi)).add(uint64(it.dur)).add(uint64(n.Grace))
		if n.TieStart {
			whole = whole.add(1 << 20)
		}
		if n.TieStop {
			whole = whole.add(1 << 21)
		}
		for _, ind := range n.Indications {
			for _, f := range ind.Fingers {
				whole = whole.add(uint64(f))
			}
		}
		if it.rank.IsGrace() || it.tick == lastTick && it.midi == lastMidi {
			continue
		}
		if it.tick != lastTick {
			flush()
		}
		lastTick, lastMidi = it.tick, it.midi
		exact = exact.add(uint64(it.tick)).add(uint64(it.midi))
		order = order.add(uint64(it.midi))
		classes |= 1 << (((it.midi % 12) + 12) % 12)
	}
	flush()
	mi.exact, mi.octave, mi.order, mi.whole = uint64(exact), uint64(octave), uint64(order), uint64(whole)
}

// hash is FNV-1a over 64-bit words: quick, and the same on every machine.
type hash uint64

func newHash() hash { return 14695981039346656037 }

func (h hash) add(v uint64) hash {
	h ^= hash(v)
	h *= 1099511628211
	return h ^ h>>29
}
