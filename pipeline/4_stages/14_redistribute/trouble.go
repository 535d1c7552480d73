package redistribute

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// trouble is a window in which a hand is in trouble.
type trouble struct {
	hand     int
	reason   string
	from, to int  // moments
	alike    bool // it is a place like one where it is offered
}

// apartMoments is how far troubles of one kind may lie apart to be one window; longest is the longest window.
const (
	apartMoments = 2
	longest      = 16
)

// troubles lists the windows in trouble, in the order of the reasons and then of playing.
func (f *finder) troubles() []trouble {
	var out []trouble
	for _, reason := range troubled {
		for h := range 2 {
			first := len(out)
			for m := range f.moments {
				from, to, in := f.trouble(reason, h, m)
				if !in {
					continue
				}
				if k := len(out) - 1; k >= first && from-out[k].to <= apartMoments && to-out[k].from < longest &&
					f.alike(out[k], from, to) {
					out[k].to = max(out[k].to, to)
					continue
				}
				out = append(out, trouble{hand: h, reason: reason, from: from, to: min(to, from+longest)})
			}
		}
	}
	return out
}

// alike says that a window may grow to a moment: of rhythms, where the other hand rests stands apart from where it
// plays.
func (f *finder) alike(t trouble, from, to int) bool {
	if t.reason != Rhythm {
		return true
	}
	other := 1 - t.hand
	return min(f.strokes(other, t.from, t.to), 1) == min(f.strokes(other, from, to), 1) &&
		f.free(t.hand, t.from, t.to) == f.free(t.hand, t.from, to)
}

// free says that the hand beside h has no rhythm of its own.
func (f *finder) free(h, from, to int) bool { return f.strokes(1-h, from, to) <= 1 }

// trouble says whether hand h is in trouble for a reason by what it strikes at m, and how far that goes.
func (f *finder) trouble(reason string, h, m int) (from, to int, in bool) {
	here := &f.moments[m]
	switch reason {
	case Reach:
		for _, k := range here.struck[h] {
			if id := f.line[h][k].ID; id < len(f.in.Said) {
				switch f.in.Said[id].OutOfReach {
				case engine.BeyondSpan, engine.TooManyKeys:
					return m, m, true
				}
			}
		}
	case Speed:
		if f.in.MarkedTempo && f.leapTo(h, m) {
			return m - 1, m, true
		}
	case Line, Held:
		for _, k := range here.struck[h] {
			n := &f.line[h][k]
			if n.ID >= len(f.in.Said) || f.inLine(h, n) != (reason == Line) || n.Detached ||
				n.Rank != playing.OnOnset ||
				f.pedal[m] ||
				reason == Held && !f.worthHolding(h, n) ||
				!f.in.Said[n.ID].Pedal ||
				f.meets(h, m, n.Key) {
				continue
			}
			to := m
			for to+1 < len(f.moments) && f.moments[to+1].at.Compare(n.End) < 0 && to-m < longest-1 {
				to++
			}
			return m, to, true
		}
	case Rhythm:
		return m, f.againstItself(h, m), f.againstItself(h, m) > m
	case Collision:
		return m, m, h == 0 && f.collides(m) // told once, of the right hand
	}
	return 0, 0, false
}

// worthHolding says that a key lasts longer than a quarter, or is the highest that the right hand strikes, which is
// mostly the tune: what else is as short, a hand lets go without ado, or the pedal has it (common practice in
// accompaniments).
func (f *finder) worthHolding(h int, n *fingering.Note) bool {
	_, high, _ := f.outer(h, f.where.of(n.ID))
	return h == 0 && n.Key == high || quarter.Less(fraction(f.heldTo(n.ID)).Sub(fraction(n.Onset)))
}

// inLine says that a slur joins a note to the next one of its voice, or to the one before.
func (f *finder) inLine(h int, n *fingering.Note) bool {
	if n.Slurred {
		return true
	}
	m := f.where.of(n.ID)
	near := f.between(h, m, m)
	voice := f.in.Score.Notes[n.ID].Voice
	for k := len(near) - 1; k >= 0; k-- {
		if b := &near[k]; b.ID < len(f.in.Score.Notes) && f.where.of(b.ID) < m && f.in.Score.Notes[b.ID].Voice == voice {
			return b.Slurred
		}
	}
	return false
}

// fastest is the way a hand leaps in a second, in hundredths of a millimetre, before it
// has to be ready for the next key; leaps of less than leastLeap are none. From memory, hand-set.
const (
	fastest   = 170_000
	leastLeap = 30_000
)

// tooFar says whether the way between two strokes cannot be made in time: from the nearest outer key to the nearest
// one.
func tooFar(lowA, highA, lowB, highB int, micros int64) bool {
	way := min(hand.Distance(min(lowA, lowB), max(lowA, lowB)), hand.Distance(min(highA, highB), max(highA, highB)))
	return way >= leastLeap && micros > 0 && int64(way)*1_000_000 > micros*fastest
}

func (f *finder) outer(h, m int) (low, high int, ok bool) {
	s := f.moments[m].struck[h]
	if len(s) == 0 {
		return 0, 0, false
	}
	return f.line[h][s[0]].Key, f.line[h][s[len(s)-1]].Key, true
}

// leapTo says whether the hand cannot reach m from the moment before, which it strikes too.
func (f *finder) leapTo(h, m int) bool {
	if m == 0 {
		return false
	}
	a, b, ok1 := f.outer(h, m-1)
	c, d, ok2 := f.outer(h, m)
	return ok1 && ok2 && tooFar(a, b, c, d, f.moments[m].micros-f.moments[m-1].micros)
}

// leaps counts the leaps of a line that time does not allow.
func (f *finder) leaps(notes []fingering.Note, from, to int) (n int) {
	if !f.in.MarkedTempo {
		return 0
	}
	type span struct{ low, high, at int }
	var before *span
	order := slices.Clone(notes)
	slices.SortStableFunc(order, func(a, b fingering.Note) int { return a.Onset.Compare(b.Onset) })
	for i := 0; i < len(order); {
		now := span{128, -1, f.where.of(order[i].ID)}
		for ; i < len(order) && f.where.of(order[i].ID) == now.at; i++ {
			if !order[i].Tied {
				now.low, now.high = min(now.low, order[i].Key), max(now.high, order[i].Key)
			}
		}
		if now.high < 0 {
			continue
		}
		if before != nil && now.at >= from && now.at <= to &&
			tooFar(before.low, before.high, now.low, now.high, f.moments[now.at].micros-f.moments[before.at].micros) {
			n++
		}
		before = &now
	}
	return n
}

// againstItself gives the last moment of a beat that begins at m and in which two voices of the hand move in
// different divisions, one of them in triplets or the like; m where it does not.
func (f *finder) againstItself(h, m int) int {
	s := f.in.Score
	if f.moments[m].at.Den > 1 || len(f.moments[m].struck[h]) < 2 {
		return m
	}
	type moving struct {
		strokes int
		tuplet  int
	}
	voices := map[string]moving{}
	last := m
	for k := m; k < len(f.moments); k++ {
		at := f.moments[k].at
		if at.Num >= (f.moments[m].at.Num+1)*max(at.Den, 1) {
			break
		}
		for _, i := range f.moments[k].struck[h] {
			id := f.line[h][i].ID
			if id >= len(s.Notes) || s.Notes[id].Grace > 0 {
				continue
			}
			v := voices[s.Notes[id].Voice]
			v.strokes++
			v.tuplet = s.Notes[id].Tuplet.Actual
			voices[s.Notes[id].Voice] = v
			last = k
		}
	}
	tuplets := map[int]bool{}
	for _, v := range voices {
		if v.strokes >= 2 {
			tuplets[v.tuplet] = true
		}
	}
	if len(tuplets) < 2 {
		return m
	}
	return last
}

// collides says whether both hands strike one key at m, or lie between one
// another. A hand wholly on the other side has crossed, as the composer means it;
// and two voices that meet on one key are one stroke to the player, whose hand
// takes it need not be said (common practice): a key is in the way only where it
// hangs on one stem with other keys in both hands, and for a quarter or longer;
// in passing, players leave it to one hand by themselves.
func (f *finder) collides(m int) bool {
	lowR, highR, right := f.outer(0, m)
	lowL, highL, left := f.outer(1, m)
	if !right || !left || lowL > highR || highL < lowR {
		return false
	}
	return highL > lowR || f.onStem(0, m, lowR) && f.onStem(1, m, highL)
}

// meets says that the other hand strikes the key too: then it is not lost.
func (f *finder) meets(h, m, key int) bool {
	return slices.ContainsFunc(f.moments[m].struck[1-h], func(k int) bool { return f.line[1-h][k].Key == key })
}

// onStem says that a key hangs on one stem with another that the hand strikes at m, and sounds for a quarter or
// longer.
func (f *finder) onStem(h, m, key int) bool {
	voice := func(k int) string {
		if id := f.line[h][k].ID; id < len(f.in.Score.Notes) {
			return f.in.Score.Notes[id].Voice
		}
		return ""
	}
	struck := f.moments[m].struck[h]
	for _, k := range struck {
		if n := &f.line[h][k]; n.Key == key &&
			n.End.Compare(fingering.Moment{Num: n.Onset.Num + max(n.Onset.Den, 1), Den: n.Onset.Den}) >= 0 {
			for _, o := range struck {
				if o != k && voice(o) == voice(k) {
					return true
				}
			}
		}
	}
	return false
}

// signed says that a hand sign stands in the measure of a note: who plays there has been said.
func signed(s *score.Score, n *score.Note) bool {
	return slices.ContainsFunc(s.Directions, func(d score.Direction) bool {
		return d.Kind == score.HandSign && d.Measure == n.Measure && d.Part == n.Part && !s.Offered(&d)
	})
}
