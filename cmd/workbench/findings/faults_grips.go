package findings

import (
	"strconv"
)

// faultsOfGrips are faults of digits on what is struck or held together.
var faultsOfGrips = []fault{
	{"content-no-finger", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			g.digits(n, pick(g.Rng, "6", "9", "33", "a", "l"))
			g.want("content-no-finger", n)
		}
	}},
	{"fingers-out-of-order", func(g *planter) {
		c, ok := g.chord(3, 3, func(c []int) bool {
			return g.base.Semitones(c[0], c[1]) > 2 && g.base.Semitones(c[1], c[2]) > 2
		})
		if ok {
			c = g.outward(c)
			row := [][3]string{{"1", "5", "3"}, {"3", "1", "5"}, {"5", "3", "1"}, {"2", "5", "4"}}[g.Rng.IntN(4)]
			for i, n := range c {
				g.digits(n, row[i])
			}
			g.want("fingers-out-of-order", c[1])
		}
	}},
	{"finger-on-two-keys", func(g *planter) {
		c, ok := g.chord(2, 5, func(c []int) bool { return g.base.Semitones(c[0], c[1]) > 2 })
		if ok {
			f := pick(g.Rng, "1", "2", "3", "4", "5")
			for _, n := range c {
				g.digits(n)
			}
			g.digits(c[0], f)
			g.digits(c[1], f)
			g.want("finger-on-two-keys", c[1])
		}
	}},
	{"span-beyond-hand", func(g *planter) {
		c, ok := g.chord(2, 2, func(c []int) bool { return g.length(c[0], c[1]) > g.base.Profile.Practical(2, 3) })
		if ok {
			c = g.outward(c)
			g.digits(c[0], "2")
			g.digits(c[1], "3")
			g.want("span-beyond-hand", c[0])
		}
	}},
	{"span-beyond-hand", func(g *planter) {
		// An octave with 4 and 5, as a digit on the wrong note makes it.
		c, ok := g.chord(2, 2, func(c []int) bool {
			return g.base.Semitones(c[0], c[1]) == 12 && g.length(c[0], c[1]) > g.base.Profile.Practical(4, 5)
		})
		if ok {
			c = g.outward(c)
			g.digits(c[0], "4")
			g.digits(c[1], "5")
			g.want("span-beyond-hand", c[0])
		}
	}},
	{"wide-span", func(g *planter) {
		var a, b int
		c, ok := g.chord(2, 2, func(c []int) bool {
			for a = 1; a < 5; a++ {
				for b = a + 1; b <= 5; b++ {
					long, most := g.length(c[0], c[1]), g.base.Profile.Practical(a, b)
					if long <= most && int(100*long/most) >= g.base.Options.WideSpan {
						return true
					}
				}
			}
			return false
		})
		if ok {
			c = g.outward(c)
			g.digits(c[0], strconv.Itoa(a))
			g.digits(c[1], strconv.Itoa(b))
			g.want("wide-span", c[0])
		}
	}},
	{"finger-holds-a-key", func(g *planter) {
		a, b, ok := g.pair(func(a, b []int) bool {
			s := g.base.Score
			if len(a) != 2 || len(b) != 1 {
				return false
			}
			x, y := g.note(a[0]), g.note(b[0])
			held := s.At(b[0]).Less(s.At(a[0]).Add(x.Duration)) && !g.base.PedalDown(x.Part, s.At(b[0]))
			return held && x.Midi != y.Midi && x.TiedTo < 0
		})
		if ok {
			g.digits(a[1])
			g.digits(a[0], "2")
			g.digits(b[0], "2")
			g.want("finger-holds-a-key", b[0])
		}
	}},
}
