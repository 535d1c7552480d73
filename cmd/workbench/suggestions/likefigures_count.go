package suggestions

import (
	"fmt"
	"strings"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// likeClasses lists the classes in the order in which they are printed.
var likeClasses = []string{
	"a beat again, same measure, exact", "a beat again, same measure, octave", "a beat again, same measure, like",
	"a beat again, within 8, exact", "a beat again, within 8, octave", "a beat again, within 8, like",
	"a beat again, farther, exact", "a beat again, farther, octave", "a beat again, farther, like",
	"a beat again, same strokes beside, exact", "a beat again, same strokes beside, octave", "a beat again, same strokes beside, like",
	"half a measure again, exact", "half a measure again, octave", "half a measure again, like",
	"half a measure again, same strokes beside, exact", "half a measure again, same strokes beside, octave",
	"half a measure again, same strokes beside, like",
	"a measure again, exact", "a measure again, octave", "a measure again, like",
	"a measure again, same strokes beside, exact", "a measure again, same strokes beside, octave", "a measure again, same strokes beside, like",
	"two keys twice in a measure",
	"key again, under 150 ms", "key again, 150 to 300 ms", "key again, 300 to 600 ms", "key again, slower",
	"key again in one hand of a unison alone",
	"octave, broken, joined: 1 and 5", "octave, broken, joined: 1 and 4 or 5", "octave, broken, parted: 1 and 5", "octave, broken, parted: 1 and 4 or 5",
	"octave, struck: 1 and 5", "octave, struck: 1 and 4 or 5",
	"bass a third below a chord or farther: 5", "bass a seventh below a chord or farther: 5",
	"chord pattern's bass as last time", "three keys by one finger: not",
}

// likeLine is the music of one hand with the program's fingers and print's, by strike.
type likeLine struct {
	w           *pipeline.PieceRun
	line        *fingering.Line
	ours, print []fingering.Finger
	given       []bool
	measure     []int // by event
	at          []score.Fraction
	name, show  string
	player      int
	counts      *alikeCounts
}

// eachLikeLine goes through the hands of a piece that has gone through the program: the line of each with the program's fingers and,
// where p is not nil, those of its printed digits that are clean.
func eachLikeLine(p *opendata.Piece, w *pipeline.PieceRun, show string, visit func(l *likeLine)) {
	suggest.EachLine(w.SuggestInput(), func(player int, h score.Hand, notes []fingering.Note) {
		l := newLikeLine(w, fingering.NewLine(fingering.HandOf(h), notes, w.Profile.Fits))
		l.name, l.player, l.show = fmt.Sprintf("%s, %s", w.Piece.ID, h), player, show
		for s := range l.line.Strikes {
			id := l.line.Strikes[s].IDs[0]
			if id >= len(w.Suggestion.Notes) {
				l.ours[s], l.given[s] = w.Suggestion.Added[id].Finger, true // strokes of signs are another matter
				continue
			}
			l.ours[s], l.given[s] = w.Suggestion.Notes[id].Finger, w.Suggestion.Notes[id].Given > 0
			if p == nil {
				continue
			}
			if r := p.RowOf(id); r != nil && r.Clean {
				l.print[s] = r.Finger
			}
		}
		visit(l)
	})
}

func newLikeLine(w *pipeline.PieceRun, line *fingering.Line) *likeLine {
	n := len(line.Strikes)
	l := &likeLine{
		w: w, line: line, ours: make([]fingering.Finger, n), print: make([]fingering.Finger, n), given: make([]bool, n),
	}
	for e := range line.Events {
		measure, at := -1, score.Fraction{}
		for _, k := range line.Events[e].Keys {
			if id := line.Strikes[k.Strike].IDs[0]; k.Struck && id < len(w.Score.Notes) {
				measure = w.Score.Notes[id].Measure
				at = w.Score.At(id).Sub(w.Score.Measures[measure].Start)
			}
		}
		l.measure, l.at = append(l.measure, measure), append(l.at, at)
	}
	return l
}

func (l *likeLine) struck(e int) (out []fingering.Sounding) {
	for _, k := range l.line.Events[e].Keys {
		if k.Struck {
			out = append(out, k)
		}
	}
	return out
}

// single gives the only key struck at an event.
func (l *likeLine) single(e int) (k fingering.Sounding, ok bool) {
	if e < 0 || e >= len(l.line.Events) {
		return k, false
	}
	s := l.struck(e)
	if len(s) != 1 {
		return k, false
	}
	return s[0], true
}

// countPlace counts a place of a class at which so many strikes are asked for; as says whether fingers are as they should be.
func (l *likeLine) countPlace(class string, e int, strikes []int, as func(of []fingering.Finger) bool) {
	c := l.counts.at(class)
	given, printed := false, true
	for _, s := range strikes {
		given = given || l.given[s]
		printed = printed && l.print[s] > 0
	}
	right := as(l.ours)
	if !given {
		count(&c.everywhere, right)
	}
	if printed {
		count(&c.printed, as(l.print))
		count(&c.ours, right)
	}
	if !right && l.show != "" && strings.HasPrefix(class, l.show) {
		l.shows(e, strikes)
	}
}

func (l *likeLine) shows(e int, strikes []int) {
	out := fmt.Sprintf("%s, m. %s:", l.name, l.w.Score.Measures[max(l.measure[e], 0)].Number)
	for _, s := range strikes {
		out += fmt.Sprintf(" %s=%d", keyName(l.line.Hand.Mirror(int(l.line.Strikes[s].Key))), l.ours[s])
		if l.print[s] > 0 {
			out += fmt.Sprintf("(%d)", l.print[s])
		}
	}
	l.counts.shown = append(l.counts.shown, out)
}

func keyName(k int) string {
	return [...]string{"C", "C#", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"}[k%12] + fmt.Sprint(k/12-1)
}

func (l *likeLine) count() {
	for _, u := range []struct {
		name    string
		beats   int // in how many beats of its measure a cell lies; 0: half a measure, -1: all of it
		strikes int
	}{{"a beat again", 1, 2}, {"half a measure again", 0, 3}, {"a measure again", -1, 3}} {
		l.cells(u.name, u.beats, u.strikes)
	}
	l.twoKeys()
	l.keysAgain()
	l.octaves()
	l.basses()
	l.gripsOf()
	for e := range l.line.Events {
		a, ok1 := l.single(e - 2)
		b, ok2 := l.single(e - 1)
		c, ok3 := l.single(e)
		if ok1 && ok2 && ok3 && a.Key != b.Key && b.Key != c.Key && a.Key != c.Key {
			l.countPlace("three keys by one finger: not", e, []int{a.Strike, b.Strike, c.Strike}, func(of []fingering.Finger) bool {
				return of[a.Strike] != of[b.Strike] || of[b.Strike] != of[c.Strike]
			})
		}
	}
}

// cell is what a hand strikes in a beat, in half a measure, in a measure.
type cell struct{ from, to, measure int }

// cells counts cells that came before, each with the nearest one before it.
func (l *likeLine) cells(name string, beats, least int) {
	var all []cell
	of := map[string][]int{}
	for from := 0; from < len(l.line.Events); {
		to := from + 1
		for to < len(l.line.Events) && l.measure[to] == l.measure[from] && l.part(to, beats) == l.part(from, beats) {
			to++
		}
		c := cell{from, to, l.measure[from]}
		if to-from >= least && c.measure >= 0 {
			shape := l.shape(c, beats)
			all = append(all, c)
			before, kind := l.nearest(c, all, of[shape])
			of[shape] = append(of[shape], len(all)-1)
			if before != nil {
				l.tellCell(name, beats, kind, *before, c)
			}
		}
		from = to
	}
}

// part is the number of the beat, or of the half measure, in which an event lies.
func (l *likeLine) part(e, beats int) int64 {
	m := l.measure[e]
	if m < 0 || beats < 0 {
		return 0
	}
	unit := l.w.Score.Measures[m].BeatUnit
	if beats == 0 {
		unit = l.w.Score.Measures[m].Length.Mul(score.Frac(1, 2))
	}
	if unit.Sign() <= 0 {
		unit = score.Whole(1)
	}
	at := l.at[e]
	return at.Num() * unit.Den() / (at.Den() * unit.Num())
}

// shape spells what two cells have in common that may be fingered alike: how many keys are struck and when, and how far they
// lie from the first.
func (l *likeLine) shape(c cell, beats int) string {
	var b strings.Builder
	base := l.struck(c.from)[0].Key
	start := l.at[c.from]
	if beats < 0 {
		start = score.Fraction{} // of a measure it counts where in it the hand begins
	}
	for e := c.from; e < c.to; e++ {
		at := l.at[e].Sub(start)
		fmt.Fprintf(&b, "%v %d:", at, l.line.Events[e].Rank)
		for _, k := range l.struck(e) {
			fmt.Fprintf(&b, "%d,", k.Key-base)
		}
	}
	return b.String()
}

// nearest gives the last cell before that is like this one, one on the same keys before others.
func (l *likeLine) nearest(c cell, all []cell, like []int) (out *cell, kind string) {
	for i := len(like) - 1; i >= 0; i-- {
		o := &all[like[i]]
		shift := l.struck(c.from)[0].Key - l.struck(o.from)[0].Key
		switch {
		case shift == 0:
			return o, "exact"
		case out == nil && shift%12 == 0:
			out, kind = o, "octave"
		case out == nil && l.coloured(*o, c):
			out, kind = o, "like"
		}
	}
	return out, kind
}

// coloured says that the keys of two cells are black and white alike.
func (l *likeLine) coloured(a, b cell) bool {
	for i := range a.to - a.from {
		x, y := l.struck(a.from+i), l.struck(b.from+i)
		for k := range x {
			if hand.Black(int(x[k].Key)) != hand.Black(int(y[k].Key)) {
				return false
			}
		}
	}
	return true
}

// beside says that the strokes before two cells are alike, and those after them.
func (l *likeLine) beside(a, b cell) bool {
	shift := l.struck(b.from)[0].Key - l.struck(a.from)[0].Key
	same := func(d, e int) bool {
		if d < 0 || e >= len(l.line.Events) {
			return d < 0 && e < 0
		}
		x, y := l.struck(d), l.struck(e)
		if len(x) != len(y) {
			return false
		}
		for k := range x {
			if y[k].Key-x[k].Key != shift || hand.Black(int(x[k].Key)) != hand.Black(int(y[k].Key)) {
				return false
			}
		}
		return true
	}
	return same(a.from-1, b.from-1) && same(a.to, b.to)
}

// nearnessOf names how far a cell lies from the one before.
func nearnessOf(measures int) string {
	switch {
	case measures == 0:
		return "same measure, "
	case measures <= nearMeasures:
		return "within 8, "
	}
	return "farther, "
}

func (l *likeLine) tellCell(name string, beats int, kind string, before, now cell) {
	classes := []string{name + ", " + kind}
	if beats == 1 {
		classes[0] = name + ", " + nearnessOf(now.measure-before.measure) + kind
	}
	if l.beside(before, now) {
		classes = append(classes, name+", same strokes beside, "+kind)
	}
	given, right := false, true
	var strikes [][2]int
	for i := range now.to - now.from {
		x, y := l.struck(before.from+i), l.struck(now.from+i)
		for k := range x {
			a, b := x[k].Strike, y[k].Strike
			strikes = append(strikes, [2]int{a, b})
			given = given || l.given[a] || l.given[b]
			right = right && l.ours[a] == l.ours[b]
		}
	}
	for _, class := range classes {
		c := l.counts.at(class)
		if !given {
			count(&c.everywhere, right)
		}
		for _, s := range strikes {
			if a, b := s[0], s[1]; l.print[a] > 0 && l.print[b] > 0 {
				count(&c.printed, l.print[a] == l.print[b])
				count(&c.ours, l.ours[a] == l.ours[b])
			}
		}
		if !right && l.show != "" && strings.HasPrefix(class, l.show) {
			for _, c := range []cell{before, now} {
				var list []int
				for e := c.from; e < c.to; e++ {
					for _, k := range l.struck(e) {
						list = append(list, k.Strike)
					}
				}
				l.shows(c.from, list)
			}
		}
	}
}

// twoKeys counts two keys in a row that stand again in the same measure.
func (l *likeLine) twoKeys() {
	type two struct{ measure, a, b int }
	last := map[two][2]int{}
	for e := 1; e < len(l.line.Events); e++ {
		x, ok1 := l.single(e - 1)
		y, ok2 := l.single(e)
		if !ok1 || !ok2 || x.Key == y.Key || l.measure[e] != l.measure[e-1] {
			continue
		}
		at := two{l.measure[e], int(x.Key), int(y.Key)}
		if b, met := last[at]; met {
			l.countPlace("two keys twice in a measure", e, []int{b[0], b[1], x.Strike, y.Strike}, func(of []fingering.Finger) bool {
				return of[b[0]] == of[x.Strike] && of[b[1]] == of[y.Strike]
			})
		}
		last[at] = [2]int{x.Strike, y.Strike}
	}
}

// again gives a key that is struck alone at an event, and was so at the event before.
func (l *likeLine) again(e int) (a, b fingering.Sounding, ok bool) {
	a, ok1 := l.single(e - 1)
	b, ok2 := l.single(e)
	return a, b, ok1 && ok2 && a.Key == b.Key
}

func (l *likeLine) keysAgain() {
	for e := range l.line.Events {
		a, b, ok := l.again(e)
		if !ok {
			continue
		}
		class := "key again, slower"
		switch t := l.line.Events[e].Micros - l.line.Events[e-1].Micros; {
		case t < 150_000:
			class = "key again, under 150 ms"
		case t < 300_000:
			class = "key again, 150 to 300 ms"
		case t < 600_000:
			class = "key again, 300 to 600 ms"
		}
		l.countPlace(class, e, []int{a.Strike, b.Strike}, func(of []fingering.Finger) bool { return of[a.Strike] == of[b.Strike] })
	}
}

// countUnison counts keys struck again by both hands in octaves: places at which not one hand alone changes its finger.
func countUnison(a, b *likeLine) {
	at := map[fingering.Moment]int{}
	for e := range b.line.Events {
		at[b.line.Events[e].Onset] = e
	}
	for e := range a.line.Events {
		f, both := at[a.line.Events[e].Onset]
		x, y, ok1 := a.again(e)
		if !both || !ok1 {
			continue
		}
		u, v, ok2 := b.again(f)
		if !ok2 || a.line.Events[e-1].Onset != b.line.Events[f-1].Onset ||
			(a.line.Hand.Mirror(int(x.Key))-b.line.Hand.Mirror(int(u.Key)))%12 != 0 {
			continue
		}
		c := a.counts.at("key again in one hand of a unison alone")
		alone := func(p, q []fingering.Finger) bool {
			return (p[x.Strike] == p[y.Strike]) == (q[u.Strike] == q[v.Strike])
		}
		right := alone(a.ours, b.ours)
		if !a.given[x.Strike] && !a.given[y.Strike] && !b.given[u.Strike] && !b.given[v.Strike] {
			count(&c.everywhere, right)
		}
		if a.print[x.Strike] > 0 && a.print[y.Strike] > 0 && b.print[u.Strike] > 0 && b.print[v.Strike] > 0 {
			count(&c.printed, alone(a.print, b.print))
			count(&c.ours, right)
		}
		if !right && a.show != "" && strings.HasPrefix("key again in one hand of a unison alone", a.show) {
			a.shows(e, []int{x.Strike, y.Strike})
			b.shows(f, []int{u.Strike, v.Strike})
		}
	}
}

// octaves counts octaves of two keys: one after the other, and struck together with nothing else.
func (l *likeLine) octaves() {
	tell := func(class string, e int, low, high fingering.Sounding) {
		strikes := []int{low.Strike, high.Strike}
		l.countPlace(class+": 1 and 5", e, strikes, func(of []fingering.Finger) bool { return of[low.Strike] == 1 && of[high.Strike] == 5 })
		l.countPlace(class+": 1 and 4 or 5", e, strikes, func(of []fingering.Finger) bool { return of[low.Strike] == 1 && of[high.Strike] >= 4 })
	}
	for e := range l.line.Events {
		keys := l.line.Events[e].Keys
		if len(keys) == 2 && keys[0].Struck && keys[1].Struck && keys[1].Key-keys[0].Key == 12 {
			tell("octave, struck", e, keys[0], keys[1])
		}
		a, ok1 := l.single(e - 1)
		b, ok2 := l.single(e)
		if !ok1 || !ok2 || a.Key-b.Key != 12 && b.Key-a.Key != 12 {
			continue
		}
		class := "octave, broken, parted"
		if l.line.Strikes[a.Strike].End.Compare(l.line.Events[e].Onset) >= 0 {
			class = "octave, broken, joined"
		}
		if a.Key > b.Key {
			a, b = b, a
		}
		tell(class, e, a, b)
	}
}

// basses counts the single key on the side of the little finger that is followed by a chord on the other side.
func (l *likeLine) basses() {
	last := map[string][2]int{} // a bass with its chord, by shape → its strike, and the measure
	for e := 1; e < len(l.line.Events); e++ {
		bass, ok := l.single(e - 1)
		chord := l.struck(e)
		if !ok || l.line.Hand != fingering.Left || len(chord) < 2 || l.measure[e] != l.measure[e-1] {
			continue
		}
		apart := bass.Key - chord[len(chord)-1].Key // mirrored: the bass lies above
		if apart < 3 {
			continue
		}
		five := func(of []fingering.Finger) bool { return of[bass.Strike] == 5 }
		l.countPlace("bass a third below a chord or farther: 5", e, []int{bass.Strike}, five)
		if apart >= 10 {
			l.countPlace("bass a seventh below a chord or farther: 5", e, []int{bass.Strike}, five)
		}
		shape := fmt.Sprint(bass.Key)
		for _, k := range chord {
			shape += fmt.Sprint(" ", k.Key)
		}
		if b, met := last[shape]; met && l.measure[e]-b[1] <= nearMeasures {
			l.countPlace("chord pattern's bass as last time", e, []int{b[0], bass.Strike}, func(of []fingering.Finger) bool { return of[b[0]] == of[bass.Strike] })
		}
		last[shape] = [2]int{bass.Strike, l.measure[e]}
	}
}
