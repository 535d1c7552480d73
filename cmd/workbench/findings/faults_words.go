package findings

import (
	"slices"

	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// faultsOfWords are signs that are written as the standard does not know them, twice, without extent, or against what they
// stand at. Each is planted once in a score: where there are many, that is how the score is written.
var faultsOfWords = []fault{
	{"value-unreadable", func(g *planter) {
		g.once("value-unreadable a stem", func(n int) bool { return g.at[n].SelectElement("stem") != nil }, func(n int) {
			g.at[n].SelectElement("stem").SetText("upp")
			g.want("value-unreadable", n)
		})
	}},
	{"value-unreadable", func(g *planter) {
		g.once("value-unreadable a dynamic", func(int) bool { return true }, func(n int) {
			d := etree.NewElement("dynamics")
			d.CreateElement("fm")
			g.direction(n, max(g.note(n).Staff, 1), d)
			g.wantIn("value-unreadable", n, nil)
		})
	}},
	{"value-unreadable", func(g *planter) {
		g.once("value-unreadable an accidental", func(n int) bool { return g.at[n].SelectElement("accidental") != nil }, func(n int) {
			g.at[n].SelectElement("accidental").SetText("shrap")
			g.want("value-unreadable", n)
		})
	}},
	{"beam-against-value", func(g *planter) {
		g.once("beam-against-value", func(n int) bool {
			return len(g.at[n].SelectElements("beam")) == 1 && g.note(n).Type == "eighth" && g.note(n).Tremolo.Strokes == 0
		}, func(n int) {
			first := g.at[n].SelectElement("beam")
			b := etree.NewElement("beam")
			b.CreateAttr("number", "2")
			b.SetText("forward hook")
			g.at[n].InsertChildAt(first.Index()+1, b)
			g.want("beam-against-value", n)
		})
	}},
	{"sign-doubled", func(g *planter) {
		g.once("sign-doubled", func(int) bool { return true }, func(n int) {
			a := alteration.NotationsOf(g.at[n]).CreateElement("articulations")
			a.CreateElement("tenuto")
			a.CreateElement("tenuto")
			g.want("sign-doubled", n)
		})
	}},
	{"line-without-end", func(g *planter) {
		g.once("line-without-end no extent", func(n int) bool { return g.note(n).Onset.Sign() > 0 }, func(n int) {
			for _, kind := range []string{"stop", "diminuendo"} { // each goes before the note and what stands there
				w := etree.NewElement("wedge")
				w.CreateAttr("type", kind)
				w.CreateAttr("number", "16")
				g.direction(n, max(g.note(n).Staff, 1), w)
			}
			g.wantIn("line-without-end", n, nil)
		})
	}},
	{"slur-without-end", func(g *planter) {
		g.once("slur-without-end one note", func(int) bool { return true }, func(n int) {
			for _, kind := range []string{"start", "stop"} {
				s := alteration.NotationsOf(g.at[n]).CreateElement("slur")
				s.CreateAttr("number", "16")
				s.CreateAttr("type", kind)
			}
			g.want("slur-without-end", n)
		})
	}},
	{"octave-line-doubtful", func(g *planter) {
		if g.planted("octave-line-doubtful") {
			return
		}
		clefs := g.base.Clefs()
		n, m, ok := g.singles(func(n, m int) bool {
			x := g.note(n)
			middle, is := clefs.Middle(x.Part, x.Staff, g.base.Score.At(n))
			return is && x.Measure == g.note(m).Measure && lint.Place(x.Pitch) > middle && !g.octaveLineAt(n) && g.alone(n)
		})
		if ok {
			for at, kind := range map[int]string{n: "up", m: "stop"} {
				o := etree.NewElement("octave-shift")
				o.CreateAttr("type", kind)
				o.CreateAttr("size", "8")
				o.CreateAttr("number", "8")
				g.direction(at, max(g.note(n).Staff, 1), o)
			}
			g.wantIn("octave-line-doubtful", n, nil)
		}
	}},
	{"tie-missing", func(g *planter) {
		if g.planted("tie-missing") {
			return
		}
		c, ok := g.tiedChord()
		if ok {
			n := c[1]
			to := g.note(n).TiedTo
			g.rest[g.note(to).Measure] = true
			g.untie(n, "start")
			g.untie(to, "stop")
			g.want("tie-missing", n)
		}
	}},
	{"notation-odd", func(g *planter) {
		if g.planted("notation-odd a key twice") {
			return
		}
		c, ok := g.chord(2, 3, func(c []int) bool { return g.untied(c...) && g.oneElement(c) })
		if ok {
			g.markPlanted("notation-odd a key twice")
			p := g.note(c[0]).Pitch
			alteration.SetPitch(g.at[c[1]], string(p.Step), int(p.Alter), int(p.Octave))
			for _, n := range c {
				g.digits(n)
			}
			g.wantIn("notation-odd", c[0], nil)
		}
	}},
	{"dynamics-contradict", func(g *planter) {
		g.once("dynamics-contradict one sign", func(n int) bool { return !g.dynamicsAt(n) }, func(n int) {
			d := etree.NewElement("dynamics")
			d.CreateElement("pp")
			d.CreateElement("ff")
			g.direction(n, max(g.note(n).Staff, 1), d)
			g.wantIn("dynamics-contradict", n, nil)
		})
	}},
	{"change-without-effect", func(g *planter) {
		g.once("change-without-effect overtaken", func(n int) bool {
			return g.note(n).Measure > 1 && g.note(n).Onset.Sign() == 0 && !g.barlineAt(g.note(n).Measure)
		}, func(n int) {
			fifths := g.base.Score.Measures[g.note(n).Measure].Fifths
			for _, k := range []int{fifths, other(fifths)} { // each goes to the beginning
				a := etree.NewElement("attributes")
				a.CreateElement("key").CreateElement("fifths").SetText(number(k))
				g.at[n].Parent().InsertChildAt(0, a)
			}
			g.wantIn("change-without-effect", n, nil)
		})
	}},
	{"measure-number-odd", func(g *planter) {
		g.once("measure-number-odd letters", func(n int) bool {
			m := g.note(n).Measure
			return m > 1 && m+1 < len(g.base.Score.Measures) && g.plainNumbers(m)
		}, func(n int) {
			for _, part := range g.Doc.FindElements("//part") {
				part.SelectElements("measure")[g.note(n).Measure].CreateAttr("number", "II")
			}
			g.wantIn("measure-number-odd", n, nil)
		})
	}},
	{"digit-as-text", func(g *planter) {
		g.once("digit-as-text a string", func(int) bool { return true }, func(n int) {
			g.digits(n)
			alteration.TechnicalOf(g.at[n]).CreateElement("string").SetText("3")
			g.want("digit-as-text", n)
		})
	}},
	{"octave-doubtful", func(g *planter) {
		if g.planted("octave-doubtful") {
			return
		}
		for range 100 {
			l := g.line()
			if len(l) < 8 {
				continue
			}
			i := g.Rng.IntN(len(l) - 6)
			f := slices.Concat(l[i : i+7]...)
			if len(f) != 7 || !g.free(f...) || !g.untied(f...) || !g.evenLine(f) || !g.take(f...) {
				continue
			}
			setOctave(g.at[f[3]], 1)
			for _, n := range f {
				g.digits(n)
			}
			g.want("octave-doubtful", f[3])
			return
		}
	}},
	{"stem-against-voice", func(g *planter) {
		if g.planted("stem-against-voice") || g.stemsApart() < 50 {
			return
		}
		a, _, ok := g.pair(func(a, _ []int) bool { return len(a) == 2 && g.stemsOfTwo(a[0], a[1]) })
		if ok {
			g.at[a[1]].SelectElement("stem").SetText("down")
			g.wantIn("stem-against-voice", a[1], nil)
		}
	}},
	{"sign-against-staff", func(g *planter) {
		g.once("sign-against-staff outside", func(n int) bool {
			return g.note(n).Staff == 1 && g.base.Playing.Hand(n) == score.Right && g.alone(n) && g.leftStrikesWith(n)
		}, func(n int) {
			g.direction(n, 1, words("m.s."))
			at := g.at[n].Index() - 1
			if d, is := g.at[n].Parent().Child[at].(*etree.Element); is {
				d.CreateAttr("placement", "above")
			}
			g.wantIn("sign-against-staff", n, nil)
		})
	}},
}
