package findings

import (
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// faultsOfSigns are signs that lack their other half or contradict what they stand at, and voices that do not fit.
var faultsOfSigns = []fault{
	{"tuplet-does-not-add-up", func(g *planter) {
		// The sign of a tuplet over a note that is in none.
		n, ok := g.single(func(n int) bool {
			return g.note(n).Tuplet.Actual == 0 && g.note(n).Grace == 0 && g.at[n].SelectElement("pitch") != nil
		})
		if ok {
			for _, kind := range []string{"start", "stop"} {
				t := alteration.NotationsOf(g.at[n]).CreateElement("tuplet")
				t.CreateAttr("type", kind)
				t.CreateAttr("number", "5")
			}
			g.want("tuplet-does-not-add-up", n)
		}
	}},
	{"tuplet-does-not-add-up", func(g *planter) {
		// One that is begun or ended only.
		n, ok := g.single(func(n int) bool { return g.note(n).Tuplet.Actual > 0 && g.at[n].FindElement("notations/tuplet") == nil })
		if ok {
			t := alteration.NotationsOf(g.at[n]).CreateElement("tuplet")
			t.CreateAttr("type", pick(g.Rng, "start", "stop"))
			t.CreateAttr("number", "5")
			g.want("tuplet-does-not-add-up", n)
		}
	}},
	{"tuplet-does-not-add-up", func(g *planter) {
		// The third of a triplet is written without it, at the cost of what follows.
		a, b, ok := g.pair(func(a, b []int) bool { return len(a) == 1 && len(b) == 1 && g.endsTriplet(a[0], b[0]) })
		if !ok {
			return
		}
		third, next := g.at[a[0]].SelectElement("duration"), g.at[b[0]].SelectElement("duration")
		x, _ := strconv.Atoi(third.Text())
		y, _ := strconv.Atoi(next.Text())
		third.SetText(strconv.Itoa(x + x/2))
		next.SetText(strconv.Itoa(y - x/2))
		if m := g.at[a[0]].SelectElement("time-modification"); m != nil {
			g.at[a[0]].RemoveChild(m)
		}
		g.wantIn("tuplet-does-not-add-up", a[0], nil)
	}},
	{"voices-collide", func(g *planter) {
		// A key that another voice of the staff holds is struck.
		m := -1
		n, ok := g.single(func(n int) bool {
			m = g.heldByVoice(n)
			return m >= 0 && g.untied(n)
		})
		if ok {
			p := g.note(m).Pitch
			g.digits(n)
			alteration.SetPitch(g.at[n], string(p.Step), int(p.Alter), int(p.Octave))
			g.near[m] = g.planting
			g.wantIn("voices-collide", n, nil)
		}
	}},
	{"accidental-against-pitch", func(g *planter) {
		n, ok := g.single(func(n int) bool {
			return g.at[n].SelectElement("accidental") == nil && g.untied(n) && g.at[n].SelectElement("type") != nil &&
				g.at[n].SelectElement("pitch") != nil && g.writesAccidentals(g.note(n).Part) && !g.keyOfItsOwn()
		})
		if ok {
			sign := etree.NewElement("accidental")
			sign.SetText(map[bool]string{true: "sharp", false: "natural"}[g.note(n).Pitch.Alter == 0])
			e := g.at[n].SelectElement("type")
			at := e.Index() + 1
			if dots := g.at[n].SelectElements("dot"); len(dots) > 0 {
				at = dots[len(dots)-1].Index() + 1
			}
			g.at[n].InsertChildAt(at, sign)
			g.want("accidental-against-pitch", n)
		}
	}},
	{"unlikely-finger", func(g *planter) {
		// The digits of two neighbours stand the wrong way round, between two that lie well.
		for range 200 {
			l := g.line()
			if len(l) < 4 {
				continue
			}
			i := g.Rng.IntN(len(l) - 3)
			var f []int
			for _, s := range l[i : i+4] {
				if len(s) == 1 && g.free(s[0]) && g.untied(s[0]) && g.base.Finger[s[0]] > 0 {
					f = append(f, s[0])
				}
			}
			if len(f) != 4 || !g.oneVoice(f[0], f[1]) || !g.oneVoice(f[1], f[2]) || !g.oneVoice(f[2], f[3]) {
				continue
			}
			a, b := g.base.Finger[f[1]], g.base.Finger[f[2]]
			far := g.base.Semitones(f[1], f[2])
			if a == b || a == 1 || b == 1 || far < 3 || far > 9 || g.base.Crossed(f[1], f[2], a, b) || !g.take(f...) {
				continue
			}
			for _, n := range []int{f[0], f[3]} {
				g.digits(n, strconv.Itoa(g.base.Finger[n]))
			}
			g.digits(f[1], strconv.Itoa(b))
			g.digits(f[2], strconv.Itoa(a))
			g.want("unlikely-finger", f[2])
			// Where it is quick or slurred another rule names the two.
			g.truths[len(g.truths)-1].or = "impossible-passing"
			return
		}
	}},
	{"repeat-without-end", func(g *planter) {
		n, ok := g.single(func(n int) bool {
			m := g.note(n).Measure
			return !g.repeatsBetween(max(m-2, 0), min(m+2, len(g.base.Score.Measures)-1)) && !g.endings()
		})
		if ok { // the bracket of an ending that is closed and was not opened
			bar := etree.NewElement("barline")
			bar.CreateAttr("location", "right")
			end := bar.CreateElement("ending")
			end.CreateAttr("number", "1")
			end.CreateAttr("type", "stop")
			g.at[n].Parent().AddChild(bar)
			g.wantIn("repeat-without-end", n, nil)
		}
	}},
	{"measure-does-not-add-up", func(g *planter) {
		// A voice that ends too early; what follows is written as before.
		n, ok := g.single(func(n int) bool {
			s := g.base.Score
			a, m := g.note(n), &s.Measures[g.note(n).Measure]
			return g.untied(n) && a.Tuplet.Actual == 0 && m.Length == m.Nominal && a.Onset.Add(a.Duration) == m.Length && a.Onset.Sign() > 0 &&
				a.Measure > 0 && a.Measure < len(s.Measures)-1 && g.evenDuration(n) && g.backupAfter(n) != nil &&
				g.otherVoiceFills(n) && g.voiceIsWhole(n)
		})
		if ok {
			d, back := g.at[n].SelectElement("duration"), g.backupAfter(n).SelectElement("duration")
			x, _ := strconv.Atoi(d.Text())
			y, _ := strconv.Atoi(back.Text())
			d.SetText(strconv.Itoa(x / 2))
			back.SetText(strconv.Itoa(y - x/2))
			g.wantIn("measure-does-not-add-up", n, nil)
		}
	}},
}

// endsTriplet says that a note is the third of a triplet, and that the next of its voice is long enough to give up half
// of its length.
func (g *planter) endsTriplet(n, m int) bool {
	a, b := g.note(n), g.note(m)
	end := a.Onset.Add(a.Duration)
	if !g.oneVoice(n, m) || a.Tuplet.Actual != 3 || b.Tuplet.Actual != 0 || a.Measure != b.Measure || !lint.Dyadic(end) ||
		lint.Dyadic(a.Onset) || !g.evenDuration(n) || !g.untied(n, m) || n == 0 {
		return false
	}
	before := g.note(n - 1)
	return before.Tuplet.Actual == 3 && before.Voice == a.Voice && before.Grace == 0 && before.Onset.Less(a.Onset) &&
		!lint.Dyadic(before.Onset) && before.Onset.Add(before.Duration) == a.Onset && a.Duration.Less(b.Duration)
}

// evenDuration says that the length of a note can be halved in the file.
func (g *planter) evenDuration(n int) bool {
	d := g.at[n].SelectElement("duration")
	if d == nil {
		return false
	}
	x, err := strconv.Atoi(d.Text())
	return err == nil && x > 1 && x%2 == 0
}

// backupAfter is the step back that follows a note at once; nil for none.
func (g *planter) backupAfter(n int) *etree.Element {
	siblings := g.at[n].Parent().ChildElements()
	for k, e := range siblings {
		if e == g.at[n] && k+1 < len(siblings) && siblings[k+1].Tag == "backup" {
			return siblings[k+1]
		}
	}
	return nil
}

// otherVoiceFills says that another voice of a note's staff goes to the end of its measure.
func (g *planter) otherVoiceFills(n int) bool {
	a := g.note(n)
	for m := range g.base.Score.Notes {
		b := g.note(m)
		if b.Part == a.Part && b.Staff == a.Staff && b.Measure == a.Measure && b.Voice != a.Voice &&
			b.Onset.Add(b.Duration) == g.base.Score.Measures[a.Measure].Length {
			return true
		}
	}
	return false
}

// voiceIsWhole says that the voice of a note is there in many measures, and goes to the end in each.
func (g *planter) voiceIsWhole(n int) bool {
	a, ends := g.note(n), map[int]score.Fraction{}
	for m := range g.base.Score.Notes {
		if b := g.note(m); b.Part == a.Part && b.Voice == a.Voice {
			ends[b.Measure] = score.Max(ends[b.Measure], b.Onset.Add(b.Duration))
		}
	}
	for m, end := range ends {
		if end != g.base.Score.Measures[m].Length {
			return false
		}
	}
	return len(ends) > 20
}

// heldByVoice finds a note that another voice of the staff holds on under a note, on another key; -1 for none.
func (g *planter) heldByVoice(n int) int {
	s := g.base.Score
	for m := range s.Notes {
		x := &s.Notes[m]
		if x.Part != g.note(n).Part || x.Staff != g.note(n).Staff || x.Voice == g.note(n).Voice || x.Measure != g.note(n).Measure ||
			!s.At(m).Less(s.At(n)) || x.Midi == g.note(n).Midi || !g.untied(m) || !g.free(m) || !g.base.Playing.Plays(m) {
			continue
		}
		if left := s.At(m).Add(x.Duration).Sub(s.At(n)); !left.Less(score.Frac(1, 2)) && !g.keyBetween(m, n) {
			return m
		}
	}
	return -1
}

// keyBetween says that the key of a note is struck again before another, or at it.
func (g *planter) keyBetween(m, n int) bool {
	s := g.base.Score
	for k := range s.Notes {
		if k != m && s.Notes[k].Midi == s.Notes[m].Midi && s.At(m).Cmp(s.At(k)) <= 0 && s.At(k).Cmp(s.At(n)) <= 0 {
			return true
		}
	}
	return false
}

// keyOfItsOwn says that the piece has a key signature that is none of the usual.
func (g *planter) keyOfItsOwn() bool {
	for k := range g.base.Score.Items {
		if i := &g.base.Score.Items[k]; i.Kind == score.ItemKey && (len(i.Reading) > 6 && i.Reading[:6] == "key of" || i.Onset.Sign() > 0) {
			return true
		}
	}
	return false
}

// endings says that the piece has endings.
func (g *planter) endings() bool {
	for i := range g.base.Score.Measures {
		if len(g.base.Score.Measures[i].Endings) > 0 {
			return true
		}
	}
	return false
}
