package findings

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/mutants"
	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
	"fingerproof/rules/parallel"
)

// fault plants one fault, where it finds a place for it.
type fault struct {
	rule  string
	apply func(g *planter)
}

var plants = []fault{
	{"content-no-finger", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			g.digits(n, pick(g.Rng, "6", "9", "33", "a", "l"))
			g.want("content-no-finger", n)
		}
	}},
	{"fingers-out-of-order", func(g *planter) {
		c, ok := g.chord(3, 3, func(c []int) bool {
			return g.pass.Semitones(c[0], c[1]) > 2 && g.pass.Semitones(c[1], c[2]) > 2
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
		c, ok := g.chord(2, 5, func(c []int) bool { return g.pass.Semitones(c[0], c[1]) > 2 })
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
		c, ok := g.chord(2, 2, func(c []int) bool { return g.length(c[0], c[1]) > g.pass.Profile.Practical(2, 3) })
		if ok {
			c = g.outward(c)
			g.digits(c[0], "2")
			g.digits(c[1], "3")
			g.want("span-beyond-hand", c[0])
		}
	}},
	{"wide-span", func(g *planter) {
		var a, b int
		c, ok := g.chord(2, 2, func(c []int) bool {
			for a = 1; a < 5; a++ {
				for b = a + 1; b <= 5; b++ {
					if share := int(100 * g.length(c[0], c[1]) / g.pass.Profile.Practical(a, b)); share >= g.pass.Options.WideSpan && g.length(c[0], c[1]) <= g.pass.Profile.Practical(a, b) {
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
			s := g.pass.Score
			return len(a) == 2 && len(b) == 1 && !g.pass.PedalDown(s.Notes[a[0]].Part, s.At(b[0])) && s.At(b[0]).Less(s.At(a[0]).Add(s.Notes[a[0]].Duration)) && s.Notes[a[0]].Midi != s.Notes[b[0]].Midi && s.Notes[a[0]].TiedTo < 0
		})
		if ok {
			g.digits(a[1])
			g.digits(a[0], "2")
			g.digits(b[0], "2")
			g.want("finger-holds-a-key", b[0])
		}
	}},
	{"impossible-passing", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool { return g.pass.Semitones(n, m) >= 3 && g.pass.Semitones(n, m) <= 12 })
		if ok {
			g.outwardDigits(n, m, "4", "2")
			g.slur(n, m)
			g.want("impossible-passing", m)
		}
	}},
	{"same-finger-in-a-line", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool { return g.pass.Semitones(n, m) > 0 && !g.pass.Black(n) })
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
			return g.length(n, m) > g.pass.Profile.Practical(2, 3) && !g.pass.PedalDown(g.pass.Score.Notes[n].Part, g.pass.Score.At(m))
		})
		if ok {
			g.outwardDigits(n, m, "2", "3")
			g.slur(n, m)
			g.want("line-broken", m)
		}
	}},
	{"repetition-too-fast", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool {
			return g.pass.Semitones(n, m) == 0 && g.pass.Gap(n, m) < g.pass.RepeatMicros
		})
		if ok {
			g.digits(n, "3")
			g.digits(m, "3")
			g.want("repetition-too-fast", m)
		}
	}},
	{"speed-beyond-hand", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool { return g.length(n, m) > 14000 && g.pass.Gap(n, m) < 110_000 })
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
			if len(a)+len(b)+len(c) != 3 || !g.free(a[0], b[0], c[0]) || g.pass.Black(a[0]) || !g.pass.Black(b[0]) || g.pass.Black(c[0]) || g.pass.Semitones(a[0], b[0]) > 5 || g.pass.Semitones(b[0], c[0]) > 5 || !g.take(a[0], b[0], c[0]) {
				continue
			}
			g.digits(b[0], pick(g.Rng, "1", "5"))
			g.want("short-finger-on-black", b[0])
			return
		}
	}},
	{"return-differs", func(g *planter) {
		for range 20 {
			if len(g.pass.Returns) == 0 {
				return
			}
			r := g.pass.Returns[g.Rng.IntN(len(g.pass.Returns))]
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
	{"digit-as-text", func(g *planter) {
		if n, ok := g.single(func(n int) bool { return g.pass.Score.Notes[n].Staff > 0 }); ok {
			g.digits(n)
			g.direction(n, g.pass.Score.Notes[n].Staff, words(pick(g.Rng, "1", "3", "4 5", "2-1")))
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
		if n, ok := g.single(func(n int) bool { return g.pass.Score.Notes[n].TiedFrom < 0 }); ok {
			if g.Rng.IntN(2) == 0 {
				g.digits(n, "4-4")
			} else {
				g.digits(n, "3")[0].CreateAttr("substitution", "yes")
			}
			g.want("malformed-substitution", n)
		}
	}},
	{"substitution-too-fast", func(g *planter) {
		n, ok := g.single(func(n int) bool {
			time := g.pass.Ends[n] - g.pass.Micros[n]
			return time > 0 && time < 250_000 && g.pass.Score.Notes[n].TiedTo < 0
		})
		if ok {
			g.digits(n, "5-4")
			g.want("substitution-too-fast", n)
		}
	}},
	{"needless-digit-on-tie", func(g *planter) {
		n, ok := g.single(func(n int) bool {
			to := g.pass.Score.Notes[n].TiedTo
			return to > n && g.pass.Piano[to] && !g.rest[g.pass.Score.Notes[to].Measure]
		})
		if ok {
			to := g.pass.Score.Notes[n].TiedTo
			g.rest[g.pass.Score.Notes[to].Measure] = true
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
			if g.pass.Hand[n] == score.Left {
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
			if g.pass.Hand[c[0]] == score.Left {
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
		if n, ok := g.single(func(n int) bool { return g.pass.Score.Notes[n].TiedFrom < 0 }); ok {
			mutants.NotationsOf(g.at[n]).CreateElement("ornaments").CreateElement("trill-mark")
			g.digits(n, "4", "5")[1].CreateAttr("substitution", "yes")
			g.want("weak-pair-in-ornament", n)
		}
	}},
	{"sign-in-other-language", func(g *planter) {
		if n, ok := g.single(func(n int) bool { return g.pass.Score.Notes[n].Staff == 1 && g.pass.Hand[n] == score.Right }); ok {
			g.direction(n, 1, words(pick(g.Rng, "r.h.", "r.H.", "main droite")))
			g.wantIn("sign-in-other-language", n, nil)
		}
	}},
	{"sign-against-next-sign", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool {
			return g.pass.Score.Notes[n].Measure == g.pass.Score.Notes[m].Measure && g.pass.Score.Notes[n].Staff == 1 && g.pass.Hand[n] == score.Right
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
			g.direction(n, g.pass.Score.Notes[n].Staff, b)
			g.wantIn("sign-without-end", n, nil)
		}
	}},
	{"notation-odd", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool { return g.pass.Semitones(n, m) > 0 && !g.pass.Score.Notes[n].TieStart })
		if ok {
			_ = m
			e := g.at[n]
			t := etree.NewElement("tie")
			t.CreateAttr("type", "start")
			if dur := e.SelectElement("duration"); dur != nil {
				e.InsertChildAt(dur.Index()+1, t)
			}
			mutants.NotationsOf(e).CreateElement("tied").CreateAttr("type", "start")
			g.want("notation-odd", n)
		}
	}},
	{"digit-of-witness-lost", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			g.digits(n)
			g.old.Notes[n].Indications = []score.Indication{{Text: "3", Fingers: []int{3}}}
			g.want("digit-of-witness-lost", n)
		}
	}},
	{"digit-of-witness-moved", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool { return true })
		if ok {
			g.digits(n)
			g.digits(m, "3")
			g.old.Notes[n].Indications = []score.Indication{{Text: "3", Fingers: []int{3}}}
			g.old.Notes[m].Indications = nil
			g.want("digit-of-witness-moved", m)
		}
	}},
	{"text-differs-from-witness", func(g *planter) {
		if n, ok := g.single(func(n int) bool {
			return g.at[n].FindElement("pitch") != nil && g.pass.Score.Notes[n].TiedTo < 0 && g.pass.Score.Notes[n].TiedFrom < 0
		}); ok {
			setOctave(g.at[n], 1-2*g.Rng.IntN(2))
			g.digits(n)
			g.wantIn("text-differs-from-witness", n, nil)
		}
	}},
	{"collapses-at-tempo", func(g *planter) {
		if n, m, ok := g.singles(func(n, m int) bool { return true }); ok {
			g.values = append(g.values, func(p *lint.Inspection) {
				p.Collapses = append(p.Collapses, lint.Collapse{Notes: []int{n, m}, Fingers: []int{1, 2}})
			})
			g.want("collapses-at-tempo", n)
		}
	}},
}

// alone says that a note's staff has one voice and one hand in its measure.
func (g *planter) alone(n int) bool {
	s := g.pass.Score
	for m := range s.Notes {
		a, b := &s.Notes[n], &s.Notes[m]
		if a.Measure == b.Measure && a.Part == b.Part && a.Staff == b.Staff && g.pass.Piano[m] && (a.Voice != b.Voice || g.pass.Hand[m] != g.pass.Hand[n] || b.HomeStaff != b.Staff) {
			return false
		}
	}
	return true
}

func setOctave(e *etree.Element, by int) {
	o := e.FindElement("pitch/octave")
	n, _ := strconv.Atoi(o.Text())
	o.SetText(strconv.Itoa(n + by))
}
