package findings

import (
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/corpus/score"
)

// faultsOfExport are faults as programs leave them that export a score, and as typists do: signs at the wrong kind of note,
// misspelt words, the wrong clef. Each is planted once in a score, in a pass of its own.
var faultsOfExport = []fault{
	{"clef-doubtful", func(g *planter) {
		g.once("clef-doubtful", g.highMeasure, func(n int) {
			set := func(measure *etree.Element, sign, line string) {
				a := etree.NewElement("attributes")
				c := a.CreateElement("clef")
				c.CreateAttr("number", "1")
				c.CreateElement("sign").SetText(sign)
				c.CreateElement("line").SetText(line)
				measure.InsertChildAt(0, a)
			}
			m := g.at[n].Parent()
			set(m, "F", "4")
			if next := m.NextSibling(); next != nil {
				set(next, "G", "2")
			}
			g.wantIn("clef-doubtful", n, nil)
		})
	}},
	{"word-misspelt", func(g *planter) {
		g.once("word-misspelt", func(int) bool { return true }, func(n int) {
			g.direction(n, max(g.note(n).Staff, 1), words(pick(g.Rng, "cresecndo", "diminuedno", "legaot", "ritradando", "espressvo", "tranqillo")))
			g.wantIn("word-misspelt", n, nil)
		})
	}},
	{"notation-odd", func(g *planter) { // an articulation at a rest
		if g.planted("notation-odd at a rest") {
			return
		}
		for n := range g.base.Score.Notes {
			if x := g.note(n); x.Kind == score.Rest && !x.Hidden && !g.rest[x.Measure] && g.base.PianoParts()[x.Part] && g.take(n) {
				alteration.NotationsOf(g.at[n]).CreateElement("articulations").CreateElement(pick(g.Rng, "staccato", "accent"))
				g.named["notation-odd at a rest"] = true
				g.want("notation-odd", n)
				return
			}
		}
	}},
	{"notation-odd", func(g *planter) { // a dot and a wedge
		g.once("notation-odd dot and wedge", func(int) bool { return true }, func(n int) {
			a := alteration.NotationsOf(g.at[n]).CreateElement("articulations")
			a.CreateElement("staccato")
			a.CreateElement("staccatissimo")
			g.want("notation-odd", n)
		})
	}},
	{"sign-doubled", func(g *planter) { // a slur
		if g.planted("sign-doubled slur") {
			return
		}
		n, m, ok := g.singles(func(n, m int) bool { return g.note(n).Measure == g.note(m).Measure })
		if ok {
			for _, number := range []string{"15", "16"} {
				for i, x := range []int{n, m} {
					s := alteration.NotationsOf(g.at[x]).CreateElement("slur")
					s.CreateAttr("number", number)
					s.CreateAttr("type", []string{"start", "stop"}[i])
				}
			}
			g.named["sign-doubled slur"] = true
			g.want("sign-doubled", n)
		}
	}},
	{"digit-as-text", func(g *planter) { // another sign
		g.once("digit-as-text other sign", func(n int) bool { return g.note(n).Onset.Sign() > 0 }, func(n int) {
			g.digits(n)
			sign := etree.NewElement("rehearsal")
			if g.Rng.IntN(2) == 0 {
				sign = etree.NewElement("dynamics")
				sign.CreateElement("other-dynamics").SetText("3")
			} else {
				sign.SetText("3")
			}
			g.direction(n, max(g.note(n).Staff, 1), sign)
			g.wantIn("digit-as-text", n, nil)
		})
	}},
	{"malformed-substitution", func(g *planter) { // an alternative to none, or to the same
		g.once("malformed-substitution alternative", func(n int) bool { return g.note(n).TiedFrom < 0 }, func(n int) {
			if g.Rng.IntN(2) == 0 {
				g.digits(n, "3")[0].CreateAttr("alternate", "yes")
			} else {
				g.digits(n, "3", "3")[1].CreateAttr("alternate", "yes")
			}
			g.want("malformed-substitution", n)
		})
	}},
	{"tempo-doubtful", func(g *planter) { // against playback
		g.once("tempo-doubtful playback", func(int) bool { return true }, func(n int) {
			m := etree.NewElement("metronome")
			m.CreateElement("beat-unit").SetText("quarter")
			m.CreateElement("per-minute").SetText("60")
			g.direction(n, max(g.note(n).Staff, 1), m)
			sound := m.Parent().Parent().CreateElement("sound")
			sound.CreateAttr("tempo", strconv.Itoa(90+g.Rng.IntN(60)))
			g.wantIn("tempo-doubtful", n, nil)
		})
	}},
	{"dynamics-contradict", func(g *planter) { // both ways
		g.once("dynamics-contradict both ways", func(int) bool { return true }, func(n int) {
			g.direction(n, max(g.note(n).Staff, 1), words("cresc."))
			g.direction(n, max(g.note(n).Staff, 1), words("dim."))
			g.wantIn("dynamics-contradict", n, nil)
		})
	}},
}

// highMeasure says that the upper staff has three notes and more in the measure of a note, and that all of them lie from F5 to C6,
// which stand near the staff by the treble clef in force, and that no clef is set there.
func (g *planter) highMeasure(n int) bool {
	x := g.note(n)
	if x.Staff != 1 || g.base.Score.Parts[x.Part].Staves != 2 {
		return false
	}
	const treble = 34
	count := 0
	clefs := g.base.Clefs()
	for m := range g.base.Score.Notes {
		y := g.note(m)
		if y.Part != x.Part || y.Measure != x.Measure || y.Staff != 1 || y.Kind != score.Pitched {
			continue
		}
		middle, known := clefs.Middle(y.Part, 1, g.base.Score.At(m))
		if !known || middle != treble || y.Midi < 77 || y.Midi > 83 || g.base.OctavesAbove(m) != 0 {
			return false
		}
		count++
	}
	for k := range g.base.Score.Items {
		if i := &g.base.Score.Items[k]; i.Kind == score.ItemClef && i.Measure >= x.Measure && i.Measure <= x.Measure+1 && i.Measure > 0 {
			return false
		}
	}
	return count >= 3
}
