package findings

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/policies"
	"fingerproof/rules/lint"
)

// faultsOfEditions are faults of digits in an edition whose looks say whose each is: upright the composer's, italic the
// editor's, bold an open one.
var faultsOfEditions = []fault{
	{"style-not-in-legend", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			e := g.digits(n, "3")[0]
			e.CreateAttr("font-style", "italic")
			e.CreateAttr("font-weight", "bold")
			g.want("style-not-in-legend", n)
		}
	}},
	{"digit-of-composer-restyled", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			g.digits(n, "3")[0].CreateAttr("font-style", "italic")
			g.sourceDigit(n, "3")
			g.want("digit-of-composer-restyled", n)
		}
	}},
	{"digit-too-many", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool { return g.base.Semitones(n, m) > 0 && g.base.Semitones(n, m) <= 2 })
		if ok {
			g.outwardDigits(n, m, "2", "3")
			g.italic(n, m)
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
			g.italic(f[0], f[3])
			g.want("digit-missing", f[2])
			g.truths[len(g.truths)-1].still = func(p *lint.Inspection) bool { // as long as the hand moves there
				return p.Crossed(f[1], f[2], p.Finger[f[1]], p.Finger[f[2]]) && p.Finger[f[1]] > 0 && p.Finger[f[2]] > 0
			}
			return
		}
	}},
}

// italic makes the digits of notes the editor's.
func (g *planter) italic(notes ...int) {
	for _, n := range notes {
		for _, f := range alteration.FingeringsOf(g.at[n]) {
			f.CreateAttr("font-style", "italic")
		}
	}
}

// faultsOfLooks is planted as values, since no page carries it: a policy that gives two responsibilities one look is refused,
// and on a page digits of one look are of one responsibility.
var faultsOfLooks = []fault{
	{"responsibilities-look-alike", func(g *planter) {
		if g.planted("responsibilities-look-alike") {
			return
		}
		n, ok := g.single(func(int) bool { return true })
		if !ok {
			return
		}
		other, ok := g.single(func(int) bool { return true })
		if ok {
			g.digits(n, "3")
			g.digits(other, "2")
			g.values = append(g.values, func(p *lint.Inspection) {
				p.Looks = map[score.Responsibility]score.Style{
					score.Composer: {}, score.Editor: {Italic: true}, score.Earlier: {Italic: true, Size: "7"},
					score.Open: {Bold: true},
				}
				p.Whose[n], p.Whose[other] = []score.Responsibility{score.Earlier}, []score.Responsibility{score.Editor}
			})
			g.truths = append(g.truths, seeded{rule: "responsibilities-look-alike", note: -1, measure: -1})
		}
	}},
}

// faultsOfBrackets are brackets of endings that are not closed: they run on, and so have a score of their own.
var faultsOfBrackets = []fault{
	{"repeat-without-end", func(g *planter) {
		if n, ok := g.single(func(int) bool { return !g.endings() && !g.planted("repeat-without-end") }); ok {
			bar := etree.NewElement("barline")
			bar.CreateAttr("location", "left")
			end := bar.CreateElement("ending")
			end.CreateAttr("number", "1")
			end.CreateAttr("type", "start")
			g.at[n].Parent().InsertChildAt(0, bar)
			g.wantIn("repeat-without-end", n, nil)
		}
	}},
}

// plantedLooks is how each responsibility looks in an edition with faults (policies.LooksField).
const plantedLooks = `{"composer":{},"editor":{"italic":true},"open":{"bold":true}}`

// asEdition makes a score an edition by the fields in its head.
func asEdition(doc *etree.Document) {
	root := doc.Root()
	id := root.SelectElement("identification")
	if id == nil {
		id = etree.NewElement("identification")
		root.InsertChildAt(root.SelectElement("part-list").Index(), id)
	}
	misc := id.SelectElement("miscellaneous")
	if misc == nil {
		misc = id.CreateElement("miscellaneous")
	}
	field := misc.CreateElement("miscellaneous-field")
	field.CreateAttr("name", musicxml.FieldPrefix+policies.LooksField)
	field.SetText(plantedLooks)
}
