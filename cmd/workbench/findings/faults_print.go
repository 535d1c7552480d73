package findings

import (
	"slices"
	"strconv"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// faultsOfPrint are faults of what is printed: looks and number of digits.
var faultsOfPrint = []fault{
	{"style-not-in-legend", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			e := g.digits(n, "3")[0]
			e.CreateAttr("font-style", "italic")
			e.CreateAttr("font-weight", "bold")
			g.values = append(g.values, func(p *lint.Inspection) {
				p.Legend = true
				p.Looks = plantedLooks()
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
				p.Looks = plantedLooks()
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
		n, m, ok := g.singles(func(n, m int) bool { return g.base.Semitones(n, m) > 0 && g.base.Semitones(n, m) <= 2 })
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
			f := slices.Concat(l[i], l[i+1], l[i+2], l[i+3])
			if len(f) != 4 || !g.free(f...) {
				continue
			}
			fingers := []int{g.base.Finger[f[1]], g.base.Finger[f[2]]}
			if fingers[0] == 0 || fingers[1] == 0 || g.base.Semitones(f[1], f[2]) == 0 {
				continue
			}
			if !g.base.Crossed(f[1], f[2], fingers[0], fingers[1]) || !g.take(f...) {
				continue
			}
			g.digits(f[1])
			g.digits(f[2])
			g.digits(f[0], strconv.Itoa(g.base.Finger[f[0]]))
			g.digits(f[3], strconv.Itoa(g.base.Finger[f[3]]))
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

// plantedLooks is how each responsibility looks where a fault is one of looks.
func plantedLooks() map[score.Responsibility]score.Style {
	return map[score.Responsibility]score.Style{
		score.Composer: {}, score.Editor: {Italic: true}, score.Open: {Bold: true},
	}
}
