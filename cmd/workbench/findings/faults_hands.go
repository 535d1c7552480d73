package findings

import (
	"strconv"

	"fingerproof/cmd/workbench/alteration"
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
	{"hands-collide", func(g *planter) {
		s := g.base.Score
		// A key that the right hand has just struck, and holds for some time to come, is struck by the left hand.
		m := -1
		n, ok := g.single(func(n int) bool {
			if g.base.Playing.Hand(n) != score.Left || !g.untied(n) || g.base.PedalDown(s.Notes[n].Part, s.At(n)) {
				return false
			}
			m = g.heldByRight(n)
			return m >= 0
		})
		if ok {
			g.digits(n)
			p := s.Notes[m].Pitch
			alteration.SetPitch(g.at[n], string(p.Step), int(p.Alter), int(p.Octave))
			g.wantIn("hands-collide", n, g.sameHands(n, m))
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
	{"sequence-broken", func(g *planter) {
		for range 100 {
			l := g.line()
			if len(l) < 8 {
				continue
			}
			for i, tries := g.Rng.IntN(len(l)-6), 0; i+5 < len(l) && tries < 200; i, tries = i+1, tries+1 {
				var f []int
				for _, s := range l[i : i+6] {
					if len(s) != 1 || !g.free(s[0]) {
						break
					}
					f = append(f, s[0])
				}
				if len(f) == 6 && g.sameFigure(f) && g.take(f...) {
					for _, n := range f {
						g.digits(n)
					}
					g.digits(f[1], "2")
					g.digits(f[4], "3")
					g.want("sequence-broken", f[4])
					return
				}
			}
		}
	}},
}

// sameFigure says that six notes are three and three of one shape, colour and
// rhythm, on other keys.
func (g *planter) sameFigure(f []int) bool {
	for i := range 3 {
		a, b := g.note(f[i]), g.note(f[i+3])
		if g.base.Black(f[i]) != g.base.Black(f[i+3]) || a.Duration != b.Duration || a.Midi == b.Midi {
			return false
		}
		if i > 0 && a.Midi-g.note(f[i-1]).Midi != b.Midi-g.note(f[i+2]).Midi {
			return false
		}
	}
	return turns(g.note(f[0]).Midi, g.note(f[1]).Midi, g.note(f[2]).Midi, g.note(f[3]).Midi)
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
