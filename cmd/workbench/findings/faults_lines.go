package findings

import (
	"slices"

	"fingerproof/rules/lint"
	"fingerproof/rules/parallel"
)

// faultsOfLines are faults of digits that follow each other.
var faultsOfLines = []fault{
	{"impossible-passing", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool { return g.base.Semitones(n, m) >= 3 && g.base.Semitones(n, m) <= 12 })
		if ok {
			g.outwardDigits(n, m, "4", "2")
			g.slur(n, m)
			g.want("impossible-passing", m)
		}
	}},
	{"same-finger-in-a-line", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool { return g.base.Semitones(n, m) > 0 && !g.base.Black(n) })
		if ok {
			f := pick(g.Rng, "1", "2", "3", "4", "5")
			g.digits(n, f)
			g.digits(m, f)
			g.slur(n, m)
			g.want("same-finger-in-a-line", m)
		}
	}},
	{"line-broken", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool {
			return g.length(n, m) > g.base.Profile.Practical(2, 3) && !g.base.PedalDown(g.note(n).Part, g.base.Score.At(m))
		})
		if ok {
			g.outwardDigits(n, m, "2", "3")
			g.slur(n, m)
			g.want("line-broken", m)
		}
	}},
	{"repetition-too-fast", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool {
			return g.base.Semitones(n, m) == 0 && g.base.Gap(n, m) < g.base.RepeatMicros
		})
		if ok {
			g.digits(n, "3")
			g.digits(m, "3")
			g.want("repetition-too-fast", m)
		}
	}},
	{"speed-beyond-hand", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool { return g.length(n, m) > 14000 && g.base.Gap(n, m) < 110_000 })
		if ok {
			g.digits(n, "5")
			g.digits(m, "5")
			g.want("speed-beyond-hand", m)
		}
	}},
	{"short-finger-on-black", func(g *planter) {
		for range 100 {
			l := g.line()
			if len(l) < 3 {
				continue
			}
			i := 1 + g.Rng.IntN(len(l)-2)
			a, b, c := l[i-1], l[i], l[i+1]
			if len(a)+len(b)+len(c) != 3 || !g.free(a[0], b[0], c[0]) {
				continue
			}
			alone := g.base.Black(b[0]) && !g.base.Black(a[0]) && !g.base.Black(c[0])
			near := g.base.Semitones(a[0], b[0]) <= 5 && g.base.Semitones(b[0], c[0]) <= 5
			if !alone || !near || !g.take(a[0], b[0], c[0]) {
				continue
			}
			g.digits(b[0], pick(g.Rng, "1", "5"))
			g.want("short-finger-on-black", b[0])
			return
		}
	}},
	{"return-differs", func(g *planter) {
		for range 20 {
			if len(g.base.Returns) == 0 {
				return
			}
			r := g.base.Returns[g.Rng.IntN(len(g.base.Returns))]
			if r.Kind != parallel.Exact || len(r.First) == 0 {
				continue
			}
			i := g.Rng.IntN(len(r.First))
			n, m := r.First[i], r.Later[i]
			if !g.free(n, m) || !g.take(n, m) {
				continue
			}
			g.digits(n, "2")
			g.digits(m, "4")
			g.want("return-differs", m)
			g.truths[len(g.truths)-1].still = func(p *lint.Inspection) bool {
				return slices.ContainsFunc(p.Returns, func(r parallel.Return) bool {
					for i := range min(len(r.First), len(r.Later)) {
						if r.Kind == parallel.Exact && r.First[i] == n && r.Later[i] == m {
							return true
						}
					}
					return false
				})
			}
			return
		}
	}},
}
