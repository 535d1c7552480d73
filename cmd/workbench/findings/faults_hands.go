package findings

import (
	"strconv"

	"fingerproof/corpus/score"
)

// faultsOfHands are faults of both hands, of hand signs, of measures and of sequences.
var faultsOfHands = []fault{
	{"grip-out-of-reach", func(g *planter) {
		c, ok := g.chord(2, 5, func(c []int) bool {
			return g.base.Semitones(c[0], c[len(c)-1]) >= 8 && g.untied(c...)
		})
		if ok {
			for _, n := range c {
				g.digits(n)
			}
			setOctave(g.at[c[0]], -1)
			g.wantIn("grip-out-of-reach", c[0], g.sameHands(c...))
		}
	}},
	{"measure-does-not-add-up", func(g *planter) {
		s := g.base.Score
		n, ok := g.single(func(n int) bool {
			m := &s.Measures[s.Notes[n].Measure]
			return g.untied(n) && m.Length == m.Nominal && s.Notes[n].Onset.Add(s.Notes[n].Duration) == m.Length && g.alone(n)
		})
		if ok {
			d := g.at[n].SelectElement("duration")
			v, _ := strconv.Atoi(d.Text())
			d.SetText(strconv.Itoa(2 * v))
			g.wantIn("measure-does-not-add-up", n, nil)
		}
	}},
	{"sign-against-staff", func(g *planter) {
		s := g.base.Score
		low := map[score.Fraction]int{}
		for n := range s.Notes {
			left := g.base.Playing.Hand(n) == score.Left && s.Notes[n].Staff == 2
			if c := g.base.Playing.Together(n); left && len(c) > 0 && c[0] == n {
				low[s.At(n)] = n
			}
		}
		n, ok := g.single(func(n int) bool {
			m, there := low[s.At(n)]
			if !there || g.base.Playing.Hand(n) != score.Right || g.base.Playing.Player(m) != g.base.Playing.Player(n) {
				return false
			}
			x, y := g.note(n), g.note(m)
			return x.Staff == 1 && x.Part == y.Part && x.Midi-y.Midi > 24 && g.alone(n)
		})
		if ok {
			g.direction(n, 1, words("m.s."))
			g.wantIn("sign-against-staff", n, nil)
		}
	}},
	{"sign-against-digits", func(g *planter) {
		c, ok := g.chord(3, 3, func(c []int) bool {
			return g.base.Playing.Hand(c[0]) == score.Right && g.note(c[0]).Staff == 1 && g.alone(c[0])
		})
		if ok {
			for i, n := range c {
				g.digits(n, []string{"5", "3", "1"}[i])
			}
			g.direction(c[0], 1, words("m.d."))
			g.wantIn("sign-against-digits", c[0], nil)
		}
	}},
}

// turns says that keys do not all go in one direction.
func turns(keys ...int) bool {
	up, down := false, false
	for i := 1; i < len(keys); i++ {
		up, down = up || keys[i] > keys[i-1], down || keys[i] < keys[i-1]
	}
	return up && down
}

// heldByRight finds a note that the right hand holds for a while yet where the left hand strikes another, near by and
// struck alone; -1 for none.
func (g *planter) heldByRight(n int) int {
	s := g.base.Score
	for m := range s.Notes {
		x := &s.Notes[m]
		if g.base.Playing.Hand(m) != score.Right || x.Part != s.Notes[n].Part || x.Measure != s.Notes[n].Measure ||
			!s.At(m).Less(s.At(n)) || len(g.base.Playing.Together(m)) != 1 {
			continue
		}
		left, wide := s.At(m).Add(x.Duration).Sub(s.At(n)), g.base.Semitones(n, m)
		if !left.Less(score.Frac(1, 2)) && g.base.Ends[m]-g.base.Micros[n] > 400_000 && wide > 0 && wide < 16 &&
			g.untied(m) && g.free(m) {
			return m
		}
	}
	return -1
}
