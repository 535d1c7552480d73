package findings

import (
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/corpus/score"
)

// faultsOfNotation are faults of how digits and signs are written.
var faultsOfNotation = []fault{
	{"digit-as-text", func(g *planter) {
		if n, ok := g.single(func(n int) bool { return g.note(n).Staff > 0 }); ok {
			g.digits(n)
			g.direction(n, g.note(n).Staff, words(pick(g.Rng, "1", "3", "4 5", "2-1")))
			g.wantIn("digit-as-text", n, nil)
		}
	}},
	{"more-digits-than-notes", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			g.digits(n, "2", "3")
			g.want("more-digits-than-notes", n)
		}
	}},
	{"malformed-substitution", func(g *planter) {
		if n, ok := g.single(func(n int) bool { return g.note(n).TiedFrom < 0 }); ok {
			if g.Rng.IntN(2) == 0 {
				g.digits(n, "4-4")
			} else {
				g.digits(n, "3")[0].CreateAttr("substitution", "yes")
			}
			g.want("malformed-substitution", n)
		}
	}},
	{"malformed-substitution", func(g *planter) {
		// In a chord, where a row of digits would be for its notes.
		c, ok := g.chord(2, 5, func(c []int) bool { return true })
		if ok {
			for _, n := range c {
				g.digits(n)
			}
			g.digits(c[0], pick(g.Rng, "3-3", "1-1", "5-5"))
			g.want("malformed-substitution", c[0])
		}
	}},
	{"digit-doubled", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			f := pick(g.Rng, "1", "2", "3", "4", "5")
			g.digits(n, f, f)
			g.want("digit-doubled", n)
		}
	}},
	{"digit-doubled", func(g *planter) {
		c, ok := g.chord(2, 5, func(c []int) bool { return g.base.Semitones(c[0], c[1]) > 2 })
		if ok {
			f := pick(g.Rng, "1", "2", "3", "4", "5")
			for _, n := range c {
				g.digits(n)
			}
			g.digits(c[0], f, f)
			g.digits(c[len(c)-1], pick(g.Rng, "1", "5"))
			g.want("digit-doubled", c[0])
		}
	}},
	{"digit-on-rest", func(g *planter) {
		from := g.Rng.IntN(max(len(g.base.Score.Notes), 1))
		for k := range g.base.Score.Notes {
			n := (from + k) % len(g.base.Score.Notes)
			if x := g.note(n); x.Kind != score.Rest || g.rest[x.Measure] || !g.base.PianoParts()[x.Part] {
				continue
			}
			g.take(n)
			g.digits(n, pick(g.Rng, "1", "2", "3", "4", "5"))
			g.want("digit-on-rest", n)
			return
		}
	}},
	{"substitution-too-fast", func(g *planter) {
		n, ok := g.single(func(n int) bool {
			time := g.base.Ends[n] - g.base.Micros[n]
			return time > 0 && time < 250_000 && g.note(n).TiedTo < 0
		})
		if ok {
			g.digits(n, "5-4")
			g.want("substitution-too-fast", n)
		}
	}},
	{"needless-digit-on-tie", func(g *planter) {
		n, ok := g.single(func(n int) bool {
			to := g.note(n).TiedTo
			return to > n && g.base.Playing.Plays(to) && !g.rest[g.note(to).Measure]
		})
		if ok {
			to := g.note(n).TiedTo
			g.rest[g.note(to).Measure] = true
			g.near[to] = g.planting
			f := pick(g.Rng, "1", "3", "5")
			g.digits(n, f)
			g.digits(to, f)
			g.want("needless-digit-on-tie", to)
		}
	}},
	{"wrong-side", func(g *planter) {
		n, ok := g.single(func(n int) bool { return g.alone(n) })
		if ok {
			side := "below"
			if g.base.Playing.Hand(n) == score.Left {
				side = "above"
			}
			g.digits(n, "3")[0].CreateAttr("placement", side)
			g.want("wrong-side", n)
		}
	}},
	{"wrong-order-in-chord", func(g *planter) {
		c, ok := g.chord(3, 3, func([]int) bool { return true })
		if ok {
			row := []string{"1", "2", "5"}
			if g.base.Playing.Hand(c[0]) == score.Left {
				row = []string{"5", "3", "1"}
			}
			for _, n := range c {
				g.digits(n)
			}
			g.digits(c[0], row...)
			g.want("wrong-order-in-chord", c[0])
		}
	}},
	{"weak-pair-in-ornament", func(g *planter) {
		if n, ok := g.single(func(n int) bool { return g.note(n).TiedFrom < 0 }); ok {
			alteration.NotationsOf(g.at[n]).CreateElement("ornaments").CreateElement("trill-mark")
			g.digits(n, "4", "5")[1].CreateAttr("substitution", "yes")
			g.want("weak-pair-in-ornament", n)
		}
	}},
	{"sign-in-other-language", func(g *planter) {
		right := func(n int) bool { return g.note(n).Staff == 1 && g.base.Playing.Hand(n) == score.Right }
		if n, m, ok := g.singles(func(n, m int) bool { return right(n) && right(m) && g.note(n).Measure != g.note(m).Measure }); ok {
			g.direction(n, 1, words("mano destra"))
			g.direction(m, 1, words(pick(g.Rng, "r.h.", "r.H.", "main droite")))
			g.wantIn("sign-in-other-language", m, nil)
		}
	}},
	{"sign-against-next-sign", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool {
			return g.note(n).Measure == g.note(m).Measure && g.note(n).Staff == 1 && g.base.Playing.Hand(n) == score.Right
		})
		if ok {
			g.direction(n, 1, words("m.d."))
			g.direction(m, 1, words("m.d."))
			g.wantIn("sign-against-next-sign", n, nil)
		}
	}},
	{"sign-without-end", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			b := etree.NewElement("bracket")
			b.CreateAttr("type", pick(g.Rng, "start", "stop"))
			b.CreateAttr("number", strconv.Itoa(1+len(g.truths)%16))
			b.CreateAttr("line-end", "none")
			g.direction(n, g.note(n).Staff, b)
			g.wantIn("sign-without-end", n, nil)
		}
	}},
	{"notation-odd", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool { return g.base.Semitones(n, m) > 0 && !g.note(n).TieStart })
		if ok {
			_ = m
			e := g.at[n]
			t := etree.NewElement("tie")
			t.CreateAttr("type", "start")
			if dur := e.SelectElement("duration"); dur != nil {
				e.InsertChildAt(dur.Index()+1, t)
			}
			alteration.NotationsOf(e).CreateElement("tied").CreateAttr("type", "start")
			g.want("notation-odd", n)
		}
	}},
}
