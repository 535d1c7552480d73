package suggest

import (
	"math/bits"
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
	parts := partsOf(in, &Suggestion{Notes: make([]NoteFingering, len(in.Score.Notes))})
	work := newWorkers(len(parts))
	defer work.giveBack()
	if agreed := agreeing(work, in); agreed != nil {
		agreed.follow(parts)
	} else {
		remember(work, in, parts)
	}
	for _, p := range parts {
		if p.player == player && p.hand == h {
			return p.line
		}
	}
	return nil
}

// carried is how many times more than another finger a digit counts that stands in the text at one of the places.
const carried = 3

// alikeCounts is how many times more a figure counts about which everything is the same.
const alikeCounts = 2

// otherwise is how many strokes on either side of a digit that says otherwise are left free of memory.
const otherwise = 2

// entering is with how many strokes a passage begins whose fingers go by where the hand comes from, where no rest stands before
// it either time, or, on other keys, the second time: the music before is another. They are remembered like others, but a digit that stands at one of two such places is no reason to finger the other
// so against the hand.
const entering = 2

// remember sets at each note of a passage that returns the finger that took it first. The piece is fingered once for
// that, without a word on choices. A digit that stands at any one of the places is carried to the others.
//
// It gives the figures that come again nearby, and the measures that a hand plays again, as they are remembered.
func remember(work workers, in Input, parts []part) (follow []parallel.Return) {
	if in.Policy.Aim("memory") == 0 {
		return nil
	}
	lines := make([]Remembering, len(parts))
	for i, p := range parts {
		lines[i] = Remembering{Hand: fingering.HandOf(p.hand), Notes: p.line, Line: i, Player: p.player}
	}
	search := func(r Remembering) engine.Result {
		return work.of(r.Line).Finger(r.Hand, in.Profile, in.Weights, r.Notes,
			engine.Options{Decode: engine.MostAgreement, Aims: AimsIn(in)})
	}
	strokes := parallel.StrokesOf(in.Score, in.Playing)
	var figures []parallel.Return
	if in.Policy.Memory(parallel.Figure.String()) > 0 {
		figures = strokes.Figures()
	}
	m := newMemory(lines)
	for i := range lines {
		m.slips(fingering.NewLine(lines[i].Hand, lines[i].Notes, in.Profile.Fits))
	}
	apart := func(id int) bool { return in.Apart != nil && id < len(in.Apart) && in.Apart[id] || m.slip.at(id) }
	m.passages(slices.Concat(in.Returns, figures), MemoryOf(in.Policy), apart, search)
	if percent := in.Policy.Memory("refrains"); percent > 0 {
		again := strokes.MeasuresAgain(in.Score)
		text := func(id int) bool {
			if in.Free || id >= len(in.Score.Notes) {
				return false
			}
			f := GivenFinger(&in.Score.Notes[id], in.Whose[id])
			return f > 0 && f == in.bound(id)
		}
		measure := func(id int) int {
			if id >= len(in.Score.Notes) {
				return -1
			}
			return in.Score.Notes[id].Measure
		}
		worths := MemoryOf(in.Policy)
		all := figuresAgain{
			measures: again, parts: strokes.PartsAgain(in.Score), text: text, measure: measure,
			exact: worths[parallel.Exact] > 0, like: worths[parallel.Transposed] > 0, repeat: AimsIn(in).RepeatMicros,
		}
		for _, r := range m.refrains(in.Profile.Fits, percent, all, apart, search) {
			if !slices.ContainsFunc(slices.Concat(r.First, r.Later), func(id int) bool { return id >= len(in.Score.Notes) }) {
				follow = append(follow, r)
			}
		}
	}
	return slices.Concat(follow, figures)
}

// Remembering is one hand's line whose notes get what is remembered.
type Remembering struct {
	Hand  fingering.Hand
	Notes []fingering.Note
	Line  int // the caller's own number
	// Player is whose hand it is.
	Player int
}

// Worths says for each kind of return what a note may cost more, in milli-nats, to be taken as it was.
type Worths [4]int

// MemoryOf gives what the policy says of returns.
func MemoryOf(p interface{ Memory(kind string) int }) (w Worths) {
	for k := range w {
		w[k] = p.Memory(parallel.Kind(k).String())
	}
	return w
}

// Remember sets Remembered and Worth at the notes of passages that return, by a first search of each line: search
// gives the fingering of a line as it stands. Notes that are apart remember nothing.
//
// An exact return follows its first passage as that one is fingered in the end: where the first passage itself
// follows another (transposed, say), its line is searched a second time.
func Remember(
	lines []Remembering, returns []parallel.Return, worths Worths, apart func(id int) bool,
	search func(Remembering) engine.Result,
) {
	newMemory(lines).passages(returns, worths, apart, search)
}

func newMemory(lines []Remembering) *memory {
	notes := 0
	for l := range lines {
		for k := range lines[l].Notes {
			notes = max(notes, lines[l].Notes[k].ID+1)
		}
	}
	m := &memory{
		lines: lines, at: newByNote[*fingering.Note](notes), finger: newByNote[fingering.Finger](notes),
		shares: newByNote[[fingering.Fingers]int](notes), carried: newByNote[bool](notes),
		slip: newByNote[bool](notes), stay: newByNote[bool](notes), joined: newByNote[bool](notes),
	}
	for l := range lines {
		for k := range lines[l].Notes {
			m.at.of[lines[l].Notes[k].ID] = &lines[l].Notes[k]
		}
		m.findJoined(lines[l].Notes)
	}
	return m
}

// findJoined finds the notes of a line, in the order of playing, before which no rest stands: what was struck before them sounds
// up to them.
func (m *memory) findJoined(line []fingering.Note) {
	var end, next fingering.Moment // up to which the notes struck before sound, and with those struck together now
	some := false
	for k := range line {
		if k > 0 && fingering.Before(&line[k-1], &line[k]) != 0 {
			end, some = next, true
		}
		m.joined.of[line[k].ID] = some && end.Compare(line[k].Onset) >= 0
		if !some && k == 0 || line[k].End.Compare(next) > 0 {
			next = line[k].End
		}
	}
}

// passages does what Remember says.
func (m *memory) passages(
	returns []parallel.Return, worths Worths, apart func(id int) bool, search func(Remembering) engine.Result,
) {
	follows := map[int]bool{}
	for _, r := range returns {
		if worths[r.Kind] > 0 {
			for _, p := range m.pairsOf(r, worths[r.Kind], apart) {
				if r.Kind != parallel.Figure || !follows[p.later] { // a passage goes before a figure in it
					m.pairs = append(m.pairs, p)
					follows[p.later] = true
				}
			}
		}
	}
	// In the order of time, so that what a first note follows itself is known when it is followed.
	slices.SortStableFunc(m.pairs, func(p, q pair) int { return fingering.Before(m.at.at(p.later), m.at.at(q.later)) })
	if len(m.pairs) == 0 {
		return
	}
	m.carryBack()
	m.search(search, func(int) bool { return true })
	m.asOne(returns)
	chained := m.follow(false)
	if len(chained) > 0 {
		m.search(search, func(id int) bool { return chained[id] })
		m.follow(true)
	}
}

// memory is the work of Remember.
type memory struct {
	lines  []Remembering
	at     byNote[*fingering.Note]
	finger byNote[fingering.Finger]       // as last searched
	shares byNote[[fingering.Fingers]int] // as first searched
	pairs  []pair
	// carried are the notes that a digit in the text or a decision reaches from another place.
	carried  byNote[bool]
	slip     byNote[bool] // whose digit may be a slip (slips.go)
	stay     byNote[bool] // on which the finger of a digit of the text stays (staying.go)
	joined   byNote[bool] // no rest stands before it
	searched bool
}

// byNote is something of each note by its id; nothing of ids that are in no line.
type byNote[T any] struct{ of []T }

func newByNote[T any](notes int) byNote[T] { return byNote[T]{make([]T, notes)} }

func (b byNote[T]) at(id int) (v T) {
	if id < 0 || id >= len(b.of) {
		return v
	}
	return b.of[id]
}

// pair is a note and the one it returns.
type pair struct {
	first, later int
	kind         parallel.Kind
	worth        int
	entering     bool // among the first strokes of its passage
}

// carries is what a digit counts at the other place of a pair.
func (p pair) carries() int {
	if p.entering {
		return p.worth
	}
	return carried * p.worth
}

func given(n *fingering.Note) bool { return n.Allowed != 0 && n.Allowed&(n.Allowed-1) == 0 }

// pairsOf lists the notes of a return that follow: not those apart, nor those about a digit that says otherwise or may be a slip.
func (m *memory) pairsOf(r parallel.Return, worth int, apart func(id int) bool) (out []pair) {
	n := len(r.Later)
	free := make([]bool, n)
	if r.Alike {
		worth *= alikeCounts
	}
	for k := range r.Later {
		a, b := m.at.at(r.First[k]), m.at.at(r.Later[k])
		if a == nil || b == nil || apart(r.Later[k]) {
			free[k] = true
			continue
		}
		if given(a) && given(b) && a.Allowed != b.Allowed || m.slip.at(r.First[k]) {
			from, to := k, k
			for strokes := 0; from > 0 && strokes <= otherwise; from-- {
				if c := m.at.at(r.Later[from-1]); c == nil || fingering.Before(c, m.at.at(r.Later[from])) != 0 {
					strokes++
				}
				if strokes > otherwise {
					break
				}
			}
			for strokes := 0; to+1 < n && strokes <= otherwise; to++ {
				c, d := m.at.at(r.Later[to+1]), m.at.at(r.Later[to])
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
	strokes, before := 0, (*fingering.Note)(nil)
	if r.Alike || !m.joined.at(r.Later[0]) || !m.joined.at(r.First[0]) && r.Kind != parallel.Transposed {
		strokes = entering
	}
	for k := range r.Later {
		if b := m.at.at(r.Later[k]); b != nil && (before == nil || fingering.Before(before, b) != 0) {
			strokes, before = strokes+1, b
		}
		if !free[k] {
			out = append(out, pair{r.First[k], r.Later[k], r.Kind, worth, strokes <= entering})
		}
	}
	return out
}

// carryBack lets a first note take the digit that stands at its return, the earliest exact one before others.
func (m *memory) carryBack() {
	for _, exact := range []bool{true, false} {
		for _, p := range m.pairs {
			a, b := m.at.at(p.first), m.at.at(p.later)
			if (p.kind == parallel.Exact) == exact && given(b) && !given(a) && a.Remembered == 0 && !p.entering {
				a.Remembered, a.Worth = only(b.Allowed), p.carries()
				m.carried.of[p.first] = true
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
	first := !m.searched
	m.searched = true
	for _, l := range m.lines {
		if !slices.ContainsFunc(l.Notes, func(n fingering.Note) bool { return asked(n.ID) }) {
			continue
		}
		for _, n := range search(l).Notes {
			m.finger.of[n.ID] = n.Finger
			if first {
				m.shares.of[n.ID] = n.Shares
			}
		}
	}
}

// agree lets a passage that returns more than once, exactly or transposed, be fingered as its places together make
// likely when each is fingered for itself: the first of them may stand where the hand comes from elsewhere.
func (m *memory) agree() {
	votes := map[int]*[fingering.Fingers]int64{}
	vote := func(first, at int) {
		v := votes[first]
		if v == nil {
			v = new([fingering.Fingers]int64)
			votes[first] = v
		}
		for f, share := range m.shares.at(at) {
			v[f] += likelihood(share)
		}
	}
	for _, p := range m.pairs {
		if p.kind == parallel.Mirrored || p.kind == parallel.Figure {
			continue
		}
		if votes[p.first] == nil {
			vote(p.first, p.first)
		}
		vote(p.first, p.later)
	}
	for _, p := range m.pairs {
		v, a := votes[p.first], m.at.at(p.first)
		if p.kind == parallel.Mirrored || v == nil || given(a) || a.Remembered != 0 {
			continue
		}
		best := m.finger.at(p.first)
		for f := fingering.Finger(1); best.Valid() && f <= fingering.Fingers; f++ {
			if v[f-1] > v[best-1] {
				best = f
			}
		}
		m.finger.of[p.first] = best
	}
}

// mostWays bounds how many fingerings of a figure are held against one another.
const mostWays = 12

// asOne gives the first time of each figure the one fingering, of those its times were given each for itself, that
// all of them together make likeliest: a whole fingering, not the likeliest finger of each note, which no hand
// might join.
func (m *memory) asOne(returns []parallel.Return) {
	times := map[int][]parallel.Return{}
	var order []int
	for _, r := range returns {
		if r.Kind == parallel.Figure {
			if times[r.First[0]] == nil {
				order = append(order, r.First[0])
			}
			times[r.First[0]] = append(times[r.First[0]], r)
		}
	}
	for _, first := range order {
		var root []int
		for _, r := range times[first] {
			if len(r.First) > len(root) {
				root = r.First
			}
		}
		places := [][]int{root}
		for _, r := range times[first] {
			places = append(places, r.Later)
		}
		var ways [][]fingering.Finger
		for _, p := range places {
			way := make([]fingering.Finger, len(root))
			for k := range root {
				way[k] = m.finger.at(root[k])
				if k < len(p) {
					way[k] = m.finger.at(p[k])
				}
			}
			if len(ways) < mostWays &&
				!slices.ContainsFunc(ways, func(w []fingering.Finger) bool { return slices.Equal(w, way) }) {
				ways = append(ways, way)
			}
		}
		best, most := 0, int64(-1<<62)
		for i, way := range ways {
			sum := int64(0)
			for _, p := range places {
				for k, id := range p {
					if way[k].Valid() {
						sum += likelihood(m.shares.at(id)[way[k]-1])
					}
				}
			}
			if sum > most {
				best, most = i, sum
			}
		}
		for k, id := range root {
			if a := m.at.at(id); a != nil && !given(a) && a.Remembered == 0 {
				m.finger.of[id] = ways[best][k]
			}
		}
	}
}

// likelihood is the logarithm to base two of a share in ten-thousandths, in 1/16, rounded down; of none it is that of
// half of one.
func likelihood(share int) int64 {
	if share <= 0 {
		return -16
	}
	whole := bits.Len(uint(share)) - 1
	return int64(16*whole + share<<4>>whole - 16)
}

// follow sets what is remembered, and gives the first notes of exact returns that follow another passage themselves.
// again says that those have been searched anew.
func (m *memory) follow(again bool) (chained map[int]bool) {
	chained = map[int]bool{}
	m.agree()
	follows := map[int]bool{}
	for _, p := range m.pairs {
		if p.kind == parallel.Transposed || p.kind == parallel.Mirrored {
			follows[p.later] = true
		}
	}
	for _, p := range m.pairs {
		if again && p.kind != parallel.Exact {
			continue
		}
		b := m.at.at(p.later)
		f, a := m.finger.at(p.first), m.at.at(p.first)
		if !f.Valid() {
			continue
		}
		worth := p.worth
		if given(a) || a.Worth == carried*p.worth {
			worth = p.carries()
			m.carried.of[p.later] = m.carried.at(p.later) || !given(b) && !p.entering
		}
		if !given(b) {
			b.Remembered, b.Worth = f, worth
			if p.kind == parallel.Exact || p.kind == parallel.Figure {
				m.finger.of[p.later] = f
			}
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
