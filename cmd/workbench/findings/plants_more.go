package findings

import (
	"slices"
	"strconv"

	"fingerproof/cmd/workbench/mutants"
	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

func init() { plants = slices.Concat(wholePlants, decisionPlants, morePlants, plants) }

// What needs a rare place comes first.

// morePlants are faults of the whole page: hands, signs, measures, looks.
var morePlants = []fault{
	{"grip-out-of-reach", func(g *planter) {
		c, ok := g.chord(2, 5, func(c []int) bool {
			return g.pass.Semitones(c[0], c[len(c)-1]) >= 8 && g.untied(c...)
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
		s := g.pass.Score
		byMoment := map[score.Fraction]int{}
		for n, c := range g.pass.Sounding {
			if len(c) == 1 && g.pass.Hand[n] == score.Right && g.untied(n) {
				byMoment[s.At(n)] = n
			}
		}
		n, ok := g.single(func(n int) bool {
			m, there := byMoment[s.At(n)]
			return there && g.pass.Hand[n] == score.Left && g.untied(n) && g.free(m) && s.Notes[m].Part == s.Notes[n].Part && g.pass.Semitones(n, m) < 20 && g.pass.Semitones(n, m) > 0
		})
		if ok {
			m := byMoment[s.At(n)]
			g.digits(n)
			p := s.Notes[m].Pitch
			mutants.SetPitch(g.at[n], string(p.Step), int(p.Alter), int(p.Octave))
			g.wantIn("hands-collide", n, g.sameHands(n, m))
		}
	}},
	{"measure-does-not-add-up", func(g *planter) {
		s := g.pass.Score
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
		s := g.pass.Score
		low := map[score.Fraction]int{}
		for n, c := range g.pass.Sounding {
			if len(c) > 0 && c[0] == n && g.pass.Hand[n] == score.Left && s.Notes[n].Staff == 2 {
				low[s.At(n)] = n
			}
		}
		n, ok := g.single(func(n int) bool {
			m, there := low[s.At(n)]
			return there && g.pass.Hand[n] == score.Right && s.Notes[n].Staff == 1 && g.pass.Player[m] == g.pass.Player[n] && s.Notes[m].Part == s.Notes[n].Part && s.Notes[n].Midi-s.Notes[m].Midi > 24 && g.alone(n)
		})
		if ok {
			g.direction(n, 1, words("m.s."))
			g.wantIn("sign-against-staff", n, nil)
		}
	}},
	{"sign-against-digits", func(g *planter) {
		c, ok := g.chord(3, 3, func(c []int) bool {
			return g.pass.Hand[c[0]] == score.Right && g.pass.Score.Notes[c[0]].Staff == 1 && g.alone(c[0])
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
	{"style-not-in-legend", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			e := g.digits(n, "3")[0]
			e.CreateAttr("font-style", "italic")
			e.CreateAttr("font-weight", "bold")
			g.values = append(g.values, func(p *lint.Inspection) {
				p.Legend = true
				p.Looks = map[score.Responsibility]score.Style{score.Composer: {}, score.Editor: {Italic: true}, score.Open: {Bold: true}}
			})
			g.want("style-not-in-legend", n)
		}
	}},
	{"digit-of-composer-restyled", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			g.digits(n, "3")[0].CreateAttr("font-style", "italic")
			g.old.Notes[n].Indications = []score.Indication{{Text: "3", Fingers: []int{3}}}
			g.values = append(g.values, func(p *lint.Inspection) {
				p.Legend = true
				p.Looks = map[score.Responsibility]score.Style{score.Composer: {}, score.Editor: {Italic: true}, score.Open: {Bold: true}}
				p.Whose[n] = []score.Responsibility{score.Editor}
			})
			g.want("digit-of-composer-restyled", n)
		}
	}},
	{"digit-on-note-witness-lacks", func(g *planter) {
		if n, ok := g.single(func(n int) bool { return g.untied(n) }); ok {
			g.digits(n, "3")
			g.old.Notes[n].Kind = score.Rest
			g.old.Notes[n].Indications = nil
			g.want("digit-on-note-witness-lacks", n)
		}
	}},
	{"digit-too-many", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool { return g.pass.Semitones(n, m) > 0 && g.pass.Semitones(n, m) <= 2 })
		if ok {
			g.outwardDigits(n, m, "2", "3")
			g.values = append(g.values, func(p *lint.Inspection) {
				p.FewDigits = true
				p.Whose[n], p.Whose[m] = []score.Responsibility{score.Editor}, []score.Responsibility{score.Editor}
			})
			g.want("digit-too-many", m)
		}
	}},
	{"digit-missing", func(g *planter) {
		for range 1000 {
			l := g.line()
			if len(l) < 8 {
				continue
			}
			i := g.Rng.IntN(len(l) - 3)
			f := append(append(append(append([]int{}, l[i]...), l[i+1]...), l[i+2]...), l[i+3]...)
			if len(f) != 4 || !g.free(f...) || g.pass.Finger[f[1]] == 0 || g.pass.Finger[f[2]] == 0 || g.pass.Semitones(f[1], f[2]) == 0 || !g.pass.Crossed(f[1], f[2], g.pass.Finger[f[1]], g.pass.Finger[f[2]]) || !g.take(f...) {
				continue
			}
			fingers := []int{g.pass.Finger[f[1]], g.pass.Finger[f[2]]}
			g.digits(f[1])
			g.digits(f[2])
			g.digits(f[0], strconv.Itoa(g.pass.Finger[f[0]]))
			g.digits(f[3], strconv.Itoa(g.pass.Finger[f[3]]))
			g.values = append(g.values, func(p *lint.Inspection) {
				for _, n := range f { // only here nothing is added
					p.Print[n] = false
				}
				p.Finger[f[1]], p.Finger[f[2]] = fingers[0], fingers[1]
			})
			g.want("digit-missing", f[2])
			return
		}
	}},
}

func (g *planter) untied(notes ...int) bool {
	for _, n := range notes {
		if g.pass.Score.Notes[n].TiedFrom >= 0 || g.pass.Score.Notes[n].TiedTo >= 0 || g.at[n].FindElement("pitch/octave") == nil {
			return false
		}
	}
	return true
}

// sameFigure says that six notes are three and three of one shape, colour and
// rhythm, on other keys.
func (g *planter) sameFigure(f []int) bool {
	for i := range 3 {
		a, b := &g.pass.Score.Notes[f[i]], &g.pass.Score.Notes[f[i+3]]
		if g.pass.Black(f[i]) != g.pass.Black(f[i+3]) || a.Duration != b.Duration || a.Midi == b.Midi || i > 0 && a.Midi-g.pass.Score.Notes[f[i-1]].Midi != b.Midi-g.pass.Score.Notes[f[i+2]].Midi {
			return false
		}
	}
	return true
}
