package findings

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// faultsOfText are faults of the text itself, as a corrector meets them.
var faultsOfText = []fault{
	{"slur-without-end", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			s := alteration.NotationsOf(g.at[n]).CreateElement("slur")
			s.CreateAttr("number", strconv.Itoa(7+len(g.truths)%9))
			s.CreateAttr("type", pick(g.Rng, "start", "stop"))
			g.want("slur-without-end", n)
		}
	}},
	{"line-without-end", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			name := pick(g.Rng, "wedge", "octave-shift")
			line := etree.NewElement(name)
			start := map[string]string{"wedge": "crescendo", "octave-shift": "down"}[name]
			line.CreateAttr("type", pick(g.Rng, start, "stop"))
			line.CreateAttr("number", strconv.Itoa(7+len(g.truths)%9))
			g.direction(n, g.note(n).Staff, line)
			g.wantIn("line-without-end", n, nil)
		}
	}},
	{"repeat-without-end", func(g *planter) {
		if g.planted("repeat-without-end") {
			return
		}
		if n, ok := g.single(func(n int) bool { return !g.repeatsAfter(g.note(n).Measure) }); ok {
			g.repeatSign(g.note(n).Measure, "forward")
			g.wantIn("repeat-without-end", n, nil)
		}
	}},
	{"value-against-length", func(g *planter) {
		n, ok := g.single(func(n int) bool {
			return g.untied(n) && g.note(n).Type != "" && g.note(n).Tuplet.Actual == 0 && g.note(n).Beams == 0
		})
		if ok {
			e := g.at[n].SelectElement("type")
			e.SetText(map[bool]string{true: "half", false: "quarter"}[g.note(n).Type != "half"])
			if g.note(n).Type == e.Text() {
				e.SetText("whole")
			}
			g.want("value-against-length", n)
		}
	}},
	{"value-against-length", func(g *planter) {
		// A note of a triplet that is not marked as one.
		n, ok := g.single(func(n int) bool {
			return g.untied(n) && g.note(n).Tuplet.Actual == 3 && g.note(n).Duration.Den()%3 == 0 && g.startsTuplet(n)
		})
		if ok {
			if m := g.at[n].SelectElement("time-modification"); m != nil {
				g.at[n].RemoveChild(m)
				g.wantIn("value-against-length", n, nil)
			}
		}
	}},
	{"measure-number-odd", func(g *planter) {
		n, ok := g.single(func(n int) bool {
			m := g.note(n).Measure
			return m > 1 && m+1 < len(g.base.Score.Measures) && g.plainNumbers(m)
		})
		if ok {
			m := g.note(n).Measure
			number := g.base.Score.Measures[m-1].Number
			for _, part := range g.Doc.FindElements("//part") {
				part.SelectElements("measure")[m].CreateAttr("number", number)
			}
			g.wantIn("measure-number-odd", n, nil)
		}
	}},
	{"tie-to-other-pitch", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool {
			return g.base.Semitones(n, m) > 0 && g.untied(n, m) && !g.note(n).TieStart && !g.note(m).TieStop
		})
		if ok {
			g.tie(n, "start")
			g.tie(m, "stop")
			g.want("tie-to-other-pitch", n)
		}
	}},
	{"accidental-missing", func(g *planter) {
		n, ok := g.single(func(n int) bool {
			return g.at[n].SelectElement("accidental") != nil && g.untied(n) && !g.base.Score.Notes[n].Hidden &&
				int(g.note(n).Pitch.Alter) != g.ofKey(n) && g.firstOfLetter(n)
		})
		if ok {
			g.at[n].RemoveChild(g.at[n].SelectElement("accidental"))
			g.want("accidental-missing", n)
		}
	}},
	{"accidental-needless", func(g *planter) {
		n, ok := g.single(func(n int) bool {
			return g.at[n].SelectElement("accidental") == nil && g.untied(n) && g.note(n).Pitch.Alter == 0 && g.ofKey(n) == 0 &&
				g.writesAccidentals(g.note(n).Part) && g.firstOfLetter(n) && g.onlyNatural(n)
		})
		if ok {
			if e := g.at[n].SelectElement("type"); e != nil {
				sign := etree.NewElement("accidental")
				sign.SetText("natural")
				g.at[n].InsertChildAt(e.Index()+1, sign)
				g.wantIn("accidental-needless", n, nil)
			}
		}
	}},
	{"change-without-effect", func(g *planter) {
		n, ok := g.single(func(n int) bool {
			m := g.note(n).Measure
			return m > 1 && !g.repeatsBetween(m-1, m) && g.base.Score.Measures[m].Fifths == g.base.Score.Measures[0].Fifths &&
				g.note(n).Onset.Sign() == 0 && !g.barlineAt(m)
		})
		if ok {
			a := etree.NewElement("attributes")
			fifths := g.base.Score.Measures[g.note(n).Measure].Fifths
			a.CreateElement("key").CreateElement("fifths").SetText(strconv.Itoa(fifths))
			g.at[n].Parent().InsertChildAt(0, a)
			g.wantIn("change-without-effect", n, nil)
		}
	}},
	{"value-unreadable", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			m := etree.NewElement("metronome")
			m.CreateElement("beat-unit").SetText(pick(g.Rng, "quarter", "beat"))
			m.CreateElement("per-minute").SetText("fast")
			g.direction(n, g.note(n).Staff, m)
			g.wantIn("value-unreadable", n, nil)
		}
	}},
	{"gets-no-digits", func(g *planter) {
		n, ok := g.single(func(n int) bool { return g.note(n).Onset.Sign() == 0 && !g.barlineAt(g.note(n).Measure) })
		if ok {
			style := etree.NewElement("attributes")
			s := style.CreateElement("measure-style")
			s.CreateAttr("number", strconv.Itoa(g.note(n).Staff))
			sign := s.CreateElement("slash")
			sign.CreateAttr("type", "start")
			measure := g.at[n].Parent()
			measure.InsertChildAt(g.at[n].Index(), style)
			stop := etree.NewElement("attributes")
			s = stop.CreateElement("measure-style")
			s.CreateElement("slash").CreateAttr("type", "stop")
			measure.InsertChildAt(g.at[n].Index()+1, stop)
			g.wantIn("gets-no-digits", n, nil)
		}
	}},
	{"rest-doubled", func(g *planter) {
		s := g.base.Score
		for n := range s.Notes {
			a := g.note(n)
			if a.Kind != score.Rest || !a.Hidden || g.rest[a.Measure] || !g.base.PianoParts()[a.Part] {
				continue
			}
			for m := range s.Notes {
				b := g.note(m)
				if b.Kind == score.Rest && !b.Hidden && b.Part == a.Part && b.Staff == a.Staff && b.Voice != a.Voice &&
					s.At(m) == s.At(n) && b.Duration == a.Duration && g.take(n, m) {
					g.at[n].RemoveAttr("print-object")
					g.wantIn("rest-doubled", n, nil)
					return
				}
			}
		}
	}},
}

// tie puts one end of a tie at a note.
func (g *planter) tie(n int, kind string) {
	e := g.at[n]
	t := etree.NewElement("tie")
	t.CreateAttr("type", kind)
	if dur := e.SelectElement("duration"); dur != nil {
		e.InsertChildAt(dur.Index()+1, t)
	}
	alteration.NotationsOf(e).CreateElement("tied").CreateAttr("type", kind)
}

// repeatsAfter says that a sign of repetition stands in a measure or after it.
func (g *planter) repeatsAfter(measure int) bool {
	for i := measure; i < len(g.base.Score.Measures); i++ {
		if m := &g.base.Score.Measures[i]; m.Repeat.Forward || m.Repeat.Backward || len(m.Endings) > 0 {
			return true
		}
	}
	return false
}

// startsTuplet says that the note before one in its voice is in no tuplet.
func (g *planter) startsTuplet(n int) bool {
	return n > 0 && g.note(n-1).Voice == g.note(n).Voice && g.note(n-1).Tuplet.Actual == 0
}

// plainNumbers says that measures around one are numbered one by one and are whole.
func (g *planter) plainNumbers(measure int) bool {
	for i := measure - 1; i <= measure+1; i++ {
		m := &g.base.Score.Measures[i]
		before, err := strconv.Atoi(g.base.Score.Measures[max(i-1, 0)].Number)
		number, wrong := strconv.Atoi(m.Number)
		if err != nil || wrong != nil || m.Implicit || len(m.Endings) > 0 || m.Length != m.Nominal || i > 0 && number != before+1 {
			return false
		}
	}
	return true
}

// firstOfLetter says that no note of its letter stands before a note in its measure.
func (g *planter) firstOfLetter(n int) bool {
	for m := range g.base.Score.Notes {
		a, b := g.note(m), g.note(n)
		if m != n && a.Measure == b.Measure && a.Part == b.Part && a.Pitch.Step == b.Pitch.Step && a.Onset.Cmp(b.Onset) <= 0 {
			return false
		}
	}
	return true
}

// ofKey is what the key signature makes of the letter of a note.
func (g *planter) ofKey(n int) int {
	return lint.OfKey(g.note(n).Pitch.Step, g.base.Score.Measures[g.note(n).Measure].Fifths)
}

// writesAccidentals says that accidentals are written out in the file, and in a part of it.
func (g *planter) writesAccidentals(part int) bool {
	return g.base.WritesAccidentals() && slices.ContainsFunc(g.base.Score.Items, func(i score.Item) bool {
		return i.Kind == score.ItemAccidental && i.Part == part
	})
}

// onlyNatural says that the letter of a note is altered neither in its measure nor in the one before.
func (g *planter) onlyNatural(n int) bool {
	return !slices.ContainsFunc(g.base.Score.Notes, func(x score.Note) bool {
		return x.Pitch.Step == g.note(n).Pitch.Step && x.Pitch.Alter != 0 && x.Measure <= g.note(n).Measure &&
			x.Measure >= g.note(n).Measure-1
	})
}

// barlineAt says that a barline of its own look stands at the beginning of a measure.
func (g *planter) barlineAt(measure int) bool {
	return slices.ContainsFunc(g.base.Score.Items, func(i score.Item) bool {
		return i.Kind == score.ItemBarline && (i.Measure == measure-1 || i.Measure == measure) ||
			i.Kind == score.ItemKey && i.Measure > 0
	})
}
