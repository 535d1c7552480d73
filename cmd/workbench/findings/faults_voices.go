package findings

import (
	"github.com/beevik/etree"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// faultsOfVoices are faults of two voices on one staff, and of signs that hold or remind.
var faultsOfVoices = []fault{
	{"voices-collide", func(g *planter) {
		// The rest of one voice is set on a head of the other.
		head := -1
		rest := -1
		g.once("voices-collide rest", func(n int) bool {
			rest, head = g.restBeside(n), n
			return rest >= 0 && g.note(n).Onset.Sign() > 0
		}, func(int) {
			e := g.at[rest].SelectElement("rest")
			e.CreateElement("display-step").SetText(string(g.note(head).Pitch.Step))
			e.CreateElement("display-octave").SetText(number(int(g.note(head).Pitch.Octave)))
			g.wantIn("voices-collide", head, nil)
		})
	}},
	{"voices-collide", func(g *planter) {
		// The second voice of a measure has the number of the first.
		var second []int
		g.once("voices-collide number", func(n int) bool {
			second = g.secondVoice(n)
			return len(second) > 0
		}, func(n int) {
			for _, m := range second {
				g.at[m].SelectElement("voice").SetText(g.note(n).Voice)
				g.near[m] = g.planting
			}
			g.wantIn("voices-collide", n, nil)
		})
	}},
	{"accidental-doubtful", func(g *planter) {
		// A sign that is needed stands in parentheses.
		g.once("accidental-doubtful parentheses", func(n int) bool {
			return g.at[n].SelectElement("accidental") != nil && g.untied(n) && int(g.note(n).Pitch.Alter) != g.ofKey(n) &&
				g.firstOfLetter(n) && g.Doc.FindElement("//accidental[@parentheses='yes']") == nil &&
				g.Doc.FindElement("//accidental[@bracket='yes']") == nil
		}, func(n int) {
			g.at[n].SelectElement("accidental").CreateAttr("parentheses", "yes")
			g.want("accidental-doubtful", n)
		})
	}},
	{"courtesy-missing", func(g *planter) {
		// A sign that reminds of the key, after its line was altered before the barline, is lost.
		g.once("courtesy-missing", g.reminded, func(n int) {
			g.at[n].RemoveChild(g.at[n].SelectElement("accidental"))
			g.wantIn("courtesy-missing", n, nil)
		})
	}},
	{"accidental-needless", func(g *planter) {
		// A note that is tied over has its sign again.
		g.once("accidental-needless tied", func(n int) bool {
			to := g.note(n).TiedTo
			if to < 0 || g.note(n).Pitch.Alter < -1 || g.note(n).Pitch.Alter > 1 || g.at[to].SelectElement("type") == nil ||
				g.at[to].SelectElement("accidental") != nil || !g.writesAccidentals(g.note(n).Part) {
				return false
			}
			a, b := g.base.Score.Measures[g.note(n).Measure], g.base.Score.Measures[g.note(to).Measure]
			return a.System == b.System && a.Page == b.Page && !g.rest[g.note(to).Measure]
		}, func(n int) {
			to := g.note(n).TiedTo
			sign := etree.NewElement("accidental")
			sign.SetText(map[int8]string{-1: "flat", 0: "natural", 1: "sharp"}[g.note(n).Pitch.Alter])
			at := g.at[to].SelectElement("type")
			if dots := g.at[to].SelectElements("dot"); len(dots) > 0 {
				at = dots[len(dots)-1]
			}
			g.at[to].InsertChildAt(at.Index()+1, sign)
			g.near[to] = g.planting
			g.wantIn("accidental-needless", to, nil)
		})
	}},
}

// restBeside finds a rest that another voice of the staff has where a note is struck; -1 for none.
func (g *planter) restBeside(n int) int {
	for m := range g.base.Score.Notes {
		x, y := g.note(m), g.note(n)
		if x.Kind == score.Rest && !x.Hidden && x.Part == y.Part && x.Staff == y.Staff && x.Voice != y.Voice && x.Measure == y.Measure &&
			x.Onset == y.Onset && g.at[m].SelectElement("rest") != nil && g.at[m].FindElement("rest/display-step") == nil {
			return m
		}
	}
	return -1
}

// secondVoice lists the notes of the measure of a note in the one other voice of its staff, where a note of it begins while the
// note lasts; nil where there are none, where another staff takes part, and where a measure has two lines under one number already.
func (g *planter) secondVoice(n int) (out []int) {
	y, s := g.note(n), g.base.Score
	end := y.Onset.Add(y.Duration)
	other, meets := "", false
	for m := range s.Notes {
		x := g.note(m)
		if x.Part != y.Part || x.Measure != y.Measure || x.Staff != y.Staff && x.HomeStaff != y.Staff {
			continue
		}
		switch {
		case x.HomeStaff != x.Staff, g.at[m].SelectElement("voice") == nil:
			return nil
		case x.Voice == y.Voice:
			continue
		case other != "" && x.Voice != other, x.TiedFrom >= 0, x.TiedTo >= 0, len(x.Slurs) > 0:
			return nil
		}
		other = x.Voice
		out = append(out, m)
		meets = meets || x.Kind == score.Pitched && x.Grace == 0 && !x.Hidden && !x.Chord && y.Onset.Less(x.Onset) && x.Onset.Less(end)
	}
	if !meets || y.Grace > 0 || lintsOneNumber(g.base) {
		return nil
	}
	return out
}

// reminded says that a note has a sign that it does not need, as the first of its letter in the measure, and that the note of its voice
// before it was of its line and altered otherwise.
func (g *planter) reminded(n int) bool {
	x := g.note(n)
	if x.Onset.Sign() > 0 || x.Grace > 0 || !g.untied(n) || g.at[n].SelectElement("accidental") == nil || int(x.Pitch.Alter) != g.ofKey(n) || !g.base.PianoParts()[x.Part] {
		return false
	}
	for m := n - 1; m >= 0 && g.note(m).Measure >= x.Measure-1; m-- {
		y := g.note(m)
		if y.Kind == score.Pitched && y.Grace == 0 && y.Measure == x.Measure-1 && y.InVoiceOf(x) && g.base.Score.At(m).Add(y.Duration) == g.base.Score.At(n) {
			return !y.Chord && y.Pitch.Step == x.Pitch.Step && y.Pitch.Octave == x.Pitch.Octave && y.Pitch.Alter != x.Pitch.Alter
		}
	}
	return false
}

// lintsOneNumber says that a score has notes of one voice that sound at once and are no chord.
func lintsOneNumber(p *lint.Inspection) bool {
	type voice struct {
		part, staff, measure int
		name                 string
	}
	ends := map[voice]score.Fraction{}
	for n := range p.Score.Notes {
		x := &p.Score.Notes[n]
		if x.Kind != score.Pitched || x.Chord || x.Grace > 0 || x.Cue || x.Hidden {
			continue
		}
		v := voice{x.Part, x.HomeStaff, x.Measure, x.Voice}
		if x.Onset.Less(ends[v]) {
			return true
		}
		ends[v] = score.Max(ends[v], x.Onset.Add(x.Duration))
	}
	return false
}
