package suggest

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/parallel"
)

// part is what one hand of one player plays.
type part struct {
	player int
	hand   score.Hand
	line   []fingering.Note
	signs  *ornaments
}

// partsOf gathers the lines of a piece, in order of player, right hand first.
func partsOf(in Input, out *Suggestion) (parts []part) {
	in.slurred = UnderSlurs(in.Score)
	for i := range in.Playing.Lines {
		l := &in.Playing.Lines[i]
		line, signs := lineOf(in, l.Player, l.Hand, out)
		parts = append(parts, part{player: l.Player, hand: l.Hand, line: line, signs: signs})
	}
	return parts
}

// RememberedLine gives the notes of one hand of one player as the engine is asked about them in the end, with what is
// remembered from other places.
func RememberedLine(in Input, player int, h score.Hand) []fingering.Note {
	var worker engine.Worker
	parts := partsOf(in, &Suggestion{Notes: make([]Note, len(in.Score.Notes))})
	remember(&worker, in, parts)
	for _, p := range parts {
		if p.player == player && p.hand == h {
			return p.line
		}
	}
	return nil
}

// carried is how many times more than another finger a digit counts that stands in the text at one of the places.
const carried = 3

// otherwise is how many strokes on either side of a digit that says otherwise are left free of memory.
const otherwise = 2

// remember sets at each note of a passage that returns the finger that took it first. The piece is fingered once for
// that, without a word on choices. A digit that stands at any one of the places is carried to the others.
func remember(worker *engine.Worker, in Input, parts []part) {
	if len(in.Returns) == 0 || in.Policy.Aim("memory") == 0 {
		return
	}
	lines := make([]Remembering, len(parts))
	for i, p := range parts {
		lines[i] = Remembering{Hand: fingering.HandOf(p.hand), Notes: p.line}
	}
	search := func(r Remembering) engine.Result {
		return worker.Finger(r.Hand, in.Profile, in.Weights, r.Notes, engine.Options{Decode: engine.MostAgreement, Aims: AimsOf(in.Policy)})
	}
	Remember(lines, in.Returns, MemoryOf(in.Policy), func(id int) bool { return in.Apart != nil && in.Apart[id] }, search)
}

// Remembering is one hand's line whose notes get what is remembered.
type Remembering struct {
	Hand  fingering.Hand
	Notes []fingering.Note
}

// Worths says for each kind of return what a note may cost more, in milli-nats, to be taken as it was.
type Worths [3]int

// MemoryOf gives what the policy says of returns.
func MemoryOf(p interface{ Memory(kind string) int }) (w Worths) {
	for k := range w {
		w[k] = p.Memory(parallel.Kind(k).String())
	}
	return w
}

// Remember sets Remembered and Worth at the notes of passages that return, by a first search of each line: search gives
// the fingering of a line as it stands. Notes that are apart remember nothing.
//
// An exact return follows its first passage as that one is fingered in the end: where the first passage itself follows another
// (transposed, say), its line is searched a second time.
func Remember(lines []Remembering, returns []parallel.Return, worths Worths, apart func(id int) bool, search func(Remembering) engine.Result) {
	m := memory{lines: lines, at: map[int]*fingering.Note{}, finger: map[int]fingering.Finger{}}
	for l := range lines {
		for k := range lines[l].Notes {
			m.at[lines[l].Notes[k].ID] = &lines[l].Notes[k]
		}
	}
	for _, r := range returns {
		if worths[r.Kind] > 0 {
			m.pairs = append(m.pairs, m.pairsOf(r, worths[r.Kind], apart)...)
		}
	}
	if len(m.pairs) == 0 {
		return
	}
	m.carryBack()
	m.search(search, func(int) bool { return true })
	chained := m.follow(false)
	if len(chained) > 0 {
		m.search(search, func(id int) bool { return chained[id] })
		m.follow(true)
	}
}

// memory is the work of Remember.
type memory struct {
	lines  []Remembering
	at     map[int]*fingering.Note
	finger map[int]fingering.Finger // as last searched
	pairs  []pair
}

// pair is a note and the one it returns.
type pair struct {
	first, later int
	kind         parallel.Kind
	worth        int
}

func given(n *fingering.Note) bool { return n.Allowed != 0 && n.Allowed&(n.Allowed-1) == 0 }

// pairsOf lists the notes of a return that follow: not those apart, nor those about a digit that says otherwise.
func (m *memory) pairsOf(r parallel.Return, worth int, apart func(id int) bool) (out []pair) {
	n := len(r.Later)
	free := make([]bool, n)
	for k := range r.Later {
		a, b := m.at[r.First[k]], m.at[r.Later[k]]
		if a == nil || b == nil || apart(r.Later[k]) {
			free[k] = true
			continue
		}
		if given(a) && given(b) && a.Allowed != b.Allowed {
			from, to := k, k
			for strokes := 0; from > 0 && strokes <= otherwise; from-- {
				if c := m.at[r.Later[from-1]]; c == nil || fingering.Before(c, m.at[r.Later[from]]) != 0 {
					strokes++
				}
				if strokes > otherwise {
					break
				}
			}
			for strokes := 0; to+1 < n && strokes <= otherwise; to++ {
				c, d := m.at[r.Later[to+1]], m.at[r.Later[to]]
				if c == nil || d == nil || fingering.Before(d, c) != 0 {
					strokes++
				}
				if strokes > otherwise {
					break
				}
			}
			for i := from; i <= to; i++ {
				free[i] = true
			}
		}
	}
	for k := range r.Later {
		if !free[k] {
			out = append(out, pair{r.First[k], r.Later[k], r.Kind, worth})
		}
	}
	return out
}

// carryBack lets a first note take the digit that stands at its return, the earliest exact one before others.
func (m *memory) carryBack() {
	for _, exact := range []bool{true, false} {
		for _, p := range m.pairs {
			a, b := m.at[p.first], m.at[p.later]
			if (p.kind == parallel.Exact) == exact && given(b) && !given(a) && a.Remembered == 0 {
				a.Remembered, a.Worth = only(b.Allowed), carried*p.worth
			}
		}
	}
}

func only(m fingering.Mask) fingering.Finger {
	for f := fingering.Finger(1); f <= fingering.Fingers; f++ {
		if m.Has(f) {
			return f
		}
	}
	return 0
}

// search fingers the lines in which a note is asked for.
func (m *memory) search(search func(Remembering) engine.Result, asked func(id int) bool) {
	for _, l := range m.lines {
		if !slices.ContainsFunc(l.Notes, func(n fingering.Note) bool { return asked(n.ID) }) {
			continue
		}
		for _, n := range search(l).Notes {
			m.finger[n.ID] = n.Finger
		}
	}
}

// agree lets a passage that returns more than once, exactly or transposed, be fingered as most of its places were when each was fingered for
// itself: the first of them may stand where the hand comes from elsewhere.
func (m *memory) agree() {
	votes := map[int]*[fingering.Fingers + 1]int{}
	for _, p := range m.pairs {
		if p.kind == parallel.Mirrored {
			continue
		}
		v := votes[p.first]
		if v == nil {
			v = new([fingering.Fingers + 1]int)
			v[m.finger[p.first]]++
			votes[p.first] = v
		}
		v[m.finger[p.later]]++
	}
	for _, p := range m.pairs {
		v, a := votes[p.first], m.at[p.first]
		if p.kind == parallel.Mirrored || v == nil || given(a) || a.Remembered != 0 {
			continue
		}
		best := m.finger[p.first]
		for f := fingering.Finger(1); f <= fingering.Fingers; f++ {
			if v[f] > v[best] {
				best = f
			}
		}
		m.finger[p.first] = best
	}
}

// follow sets what is remembered, and gives the first notes of exact returns that follow another passage themselves. again says that
// those have been searched anew.
func (m *memory) follow(again bool) (chained map[int]bool) {
	chained = map[int]bool{}
	m.agree()
	follows := map[int]bool{}
	for _, p := range m.pairs {
		if p.kind != parallel.Exact {
			follows[p.later] = true
		}
	}
	for _, p := range m.pairs {
		if again && p.kind != parallel.Exact {
			continue
		}
		b := m.at[p.later]
		f, a := m.finger[p.first], m.at[p.first]
		if !f.Valid() {
			continue
		}
		worth := p.worth
		if given(a) || a.Worth == carried*p.worth {
			worth *= carried
		}
		if !given(b) {
			b.Remembered, b.Worth = f, worth
		}
		// The first passage stands by what the others take from it.
		if !given(a) && (a.Remembered == 0 || again && !follows[p.first]) {
			a.Remembered, a.Worth = f, p.worth
		}
		if p.kind == parallel.Exact && follows[p.first] {
			chained[p.first] = true
		}
	}
	return chained
}
