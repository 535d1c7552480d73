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
	{"same-finger-in-a-line", func(g *planter) {
		// In a run without a slur.
		for range 100 {
			l := g.line()
			if len(l) < 4 {
				continue
			}
			i := g.Rng.IntN(len(l) - 3)
			f := slices.Concat(l[i], l[i+1], l[i+2])
			if len(f) != 3 || !g.free(f...) || !g.quickRun(f) || !g.take(f...) {
				continue
			}
			d := pick(g.Rng, "1", "2", "3", "4", "5")
			g.digits(f[0])
			g.digits(f[1], d)
			g.digits(f[2], d)
			g.want("same-finger-in-a-line", f[2])
			return
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

// quickRun says that three notes go on in one direction, by a third at most, quickly, and not from a black key.
func (g *planter) quickRun(f []int) bool {
	up := g.note(f[1]).Midi > g.note(f[0]).Midi
	for i := 1; i < len(f); i++ {
		by, gap := g.base.Semitones(f[i-1], f[i]), g.base.Gap(f[i-1], f[i])
		if by == 0 || by > 4 || gap <= 0 || gap > 300_000 || !g.oneVoice(f[i-1], f[i]) ||
			up != (g.note(f[i]).Midi > g.note(f[i-1]).Midi) {
			return false
		}
	}
	return !g.base.Black(f[1])
}
