package findings

import (
	"slices"
	"strconv"

	"fingerproof/corpus/score/playing"
	"fingerproof/rules/hand"
)

// plantedShare is the share of pianists, in percent, that the policy of this measurement asks for.
const plantedShare = 90

// faultsOfWholePieces are faults that a whole piece, or two places of it, make together.
var faultsOfWholePieces = []fault{
	{"old-numbering-suspected", func(g *planter) {
		if g.planted("old-numbering-suspected") {
			return // one finding a piece
		}
		n, ok := g.single(func(n int) bool { return g.untied(n) })
		if !ok {
			return
		}
		m, ok := g.single(func(m int) bool { return g.untied(m) })
		if ok {
			g.digits(n, "+")
			g.digits(m, "5")
			g.truths = append(g.truths, seeded{rule: "old-numbering-suspected", note: -1, measure: -1})
		}
	}},
	{"reach-below-share", func(g *planter) {
		var a, b int
		c, ok := g.chord(2, 2, func(c []int) bool {
			for a = 1; a < 5; a++ {
				for b = a + 1; b <= 5; b++ {
					if l := g.length(c[0], c[1]); l <= g.base.Profile.Practical(a, b) && hand.Reach(a, b, l) < 100*plantedShare {
						return true
					}
				}
			}
			return false
		})
		if ok {
			o := g.outward(c)
			g.digits(o[0], strconv.Itoa(a))
			g.digits(o[1], strconv.Itoa(b))
			g.want("reach-below-share", c[0])
		}
	}},
	{"repeat-does-not-connect", func(g *planter) {
		s := g.base.Score
		for _, l := range g.base.Playing.Lines {
			// From the last stroke of a measure back to the first of one before it, as if a sign of repetition stood there.
			for range 40 {
				if len(l.Strokes) < 12 {
					break
				}
				j := 8 + g.Rng.IntN(len(l.Strokes)-9)
				if len(l.Strokes[j].Notes) != 1 {
					continue
				}
				n := l.Strokes[j].Notes[0]
				to := s.Notes[n].Measure - 1 - g.Rng.IntN(4)
				i := slices.IndexFunc(l.Strokes, func(st playing.Stroke) bool { return s.Notes[st.Notes[0]].Measure >= to })
				if to < 1 || i < 0 || len(l.Strokes[i].Notes) != 1 {
					continue
				}
				m := l.Strokes[i].Notes[0]
				x := &s.Notes[n]
				next := &s.Notes[l.Strokes[j+1].Notes[0]]
				ends := x.Onset.Add(x.Duration) == s.Measures[x.Measure].Length && next.Measure != x.Measure
				begins := s.Notes[m].Measure == to && s.Notes[m].Onset.Sign() == 0
				quick := g.base.Ends[n]-g.base.Micros[n] < 380_000
				if !ends || !begins || !quick || !g.untied(n, m) || x.Midi == s.Notes[m].Midi ||
					g.repeatsBetween(to, x.Measure) || !g.free(n, m) || !g.take(n, m) {
					continue
				}
				for k := to; k <= x.Measure; k++ {
					g.rest[k] = true
				}
				g.digits(n, "3")
				g.digits(m, "3")
				g.repeatSign(s.Notes[m].Measure, "forward")
				g.repeatSign(x.Measure, "backward")
				g.want("repeat-does-not-connect", n)
				return
			}
		}
	}},
}

func (g *planter) planted(rule string) bool {
	return g.named[rule] || slices.ContainsFunc(g.truths, func(s seeded) bool { return s.rule == rule })
}

// repeatsBetween says that a sign of repetition, an ending or another fault stands between two measures.
func (g *planter) repeatsBetween(from, to int) bool {
	for i := from; i <= to; i++ {
		m := &g.base.Score.Measures[i]
		if m.Repeat.Forward || m.Repeat.Backward || len(m.Endings) > 0 || g.rest[i] {
			return true
		}
	}
	return false
}

// stepsUnder says that the hand that holds a note strikes two others meanwhile that lie a step apart.
func (g *planter) stepsUnder(n int) bool {
	s, st := g.base.Score, g.base.Playing.Stroke(n)
	if st == nil {
		return false
	}
	strokes := g.base.Playing.Lines[st.Line].Strokes
	end := s.At(n).Add(s.Notes[n].Duration)
	for i := st.Index + 2; i < len(strokes) && strokes[i].At.Less(end); i++ {
		if step := g.base.Semitones(strokes[i-1].Notes[0], strokes[i].Notes[0]); step == 1 || step == 2 {
			return true
		}
	}
	return false
}
