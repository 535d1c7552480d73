package findings

import (
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/corpus/score"
)

// faultsOfMarks are faults of accidentals in octaves, of dynamics, pedals, tuplets and sides, as typesetters and programs
// that export make them.
var faultsOfMarks = []fault{
	{"accidental-doubtful", func(g *planter) {
		c, ok := g.chord(2, 2, func(c []int) bool {
			return g.untied(c...) && g.note(c[1]).Midi-g.note(c[0]).Midi == 12 && g.note(c[0]).Pitch.Alter == 0
		})
		if ok {
			p := g.note(c[0]).Pitch
			alteration.SetPitch(g.at[c[0]], string(p.Step), 1, int(p.Octave))
			for _, n := range c {
				g.digits(n)
			}
			g.want("accidental-doubtful", c[0])
		}
	}},
	{"dynamics-contradict", func(g *planter) {
		if n, ok := g.single(func(n int) bool { return !g.dynamicsAt(n) }); ok {
			for _, level := range []string{pick(g.Rng, "f", "ff"), pick(g.Rng, "p", "pp")} {
				d := etree.NewElement("dynamics")
				d.CreateElement(level)
				g.direction(n, max(g.note(n).Staff, 1), d)
			}
			g.wantIn("dynamics-contradict", n, nil)
		}
	}},
	{"line-without-end", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			pedal := etree.NewElement("pedal")
			pedal.CreateAttr("type", "stop")
			pedal.CreateAttr("number", strconv.Itoa(7+len(g.truths)%9))
			g.direction(n, max(g.note(n).Staff, 1), pedal)
			g.wantIn("line-without-end", n, nil)
		}
	}},
	{"tuplet-number-as-digit", func(g *planter) {
		n, ok := g.single(func(n int) bool { return g.signsOfTuplets() > 2 && g.middleOfTriplet(n) })
		if ok {
			for _, m := range []int{n - 1, n, n + 1} {
				g.digits(m)
				for _, sign := range g.at[m].FindElements("notations/tuplet") {
					sign.Parent().RemoveChild(sign)
				}
			}
			g.digits(n, "3")
			g.want("tuplet-number-as-digit", n)
		}
	}},
}

// dynamicsAt says that dynamics stand where a note begins.
func (g *planter) dynamicsAt(n int) bool {
	for k := range g.base.Score.Directions {
		d := &g.base.Score.Directions[k]
		if d.Kind == score.Dynamics && d.Measure == g.note(n).Measure && d.Onset == g.note(n).Onset {
			return true
		}
	}
	return false
}

// signsOfTuplets counts the tuplets that are marked.
func (g *planter) signsOfTuplets() (count int) {
	for k := range g.base.Score.Items {
		if g.base.Score.Items[k].Kind == score.ItemTuplet {
			count++
		}
	}
	return count
}

// middleOfTriplet says that a note is the second of a triplet of three equal single notes, which are free.
func (g *planter) middleOfTriplet(n int) bool {
	if n == 0 || n+1 >= len(g.base.Score.Notes) || !g.oneVoice(n-1, n) || !g.oneVoice(n, n+1) || !g.free(n-1, n, n+1) {
		return false
	}
	a, b, c := g.note(n-1), g.note(n), g.note(n+1)
	for _, m := range []int{n - 1, n, n + 1} {
		if g.note(m).Kind != score.Pitched || g.note(m).Chord || len(g.base.Playing.Together(m)) > 1 {
			return false
		}
	}
	whole := a.Onset.Den()&(a.Onset.Den()-1) == 0
	return whole && a.Tuplet.Actual == 3 && a.Tuplet == b.Tuplet && b.Tuplet == c.Tuplet && a.Duration == b.Duration &&
		b.Duration == c.Duration && a.Measure == c.Measure
}
