package findings

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/mutants"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
)

// planter puts faults into one document.
type planter struct {
	*mutants.Mutant
	pass    *lint.Inspection // of the untouched score
	at      []*etree.Element
	strokes [][2][]int     // pairs of strokes that follow each other in a hand
	near    map[int]string // what is planted at a note
	rest    map[int]bool   // measures that hold a fault of a whole measure
	truths  []seeded
	// planting is the rule that is planted for now.
	planting string
	values   []func(*lint.Inspection)
	old      *score.Score
	// decisions of editors about the untouched score
	decisions []decision.Decision
	finder    *decision.Finder
}

func (g *planter) prepare() {
	g.at = g.Doc.FindElements("//note")
	g.old = mutants.CloneNotes(g.pass.Score)
	for _, l := range g.pass.Lines() {
		for i := 1; i < len(l.Strokes); i++ {
			g.strokes = append(g.strokes, [2][]int{l.Strokes[i-1], l.Strokes[i]})
		}
	}
}

// witness is the untouched score, with the digits that a fault gave the witness.
func (g *planter) witness() *score.Score { return g.old }

// take marks notes and all of their measures and the neighbouring ones as
// used, if they are free.
func (g *planter) take(notes ...int) bool {
	for _, n := range notes {
		if g.rest[g.pass.Score.Notes[n].Measure] {
			return false
		}
	}
	for _, n := range notes {
		g.near[n] = g.planting
	}
	for _, n := range notes {
		m := g.pass.Score.Notes[n].Measure
		g.rest[m] = true
	}
	return true
}

// plantedAt names what was planted at the notes of a finding, or in the measure of one without notes; empty: nothing.
func (g *planter) plantedAt(f lint.Finding) string {
	for _, n := range f.Notes {
		if g.near[n] != "" {
			return g.near[n]
		}
	}
	if len(f.Notes) > 0 || !g.rest[f.Measure] {
		return ""
	}
	for n := range g.pass.Score.Notes {
		if g.pass.Score.Notes[n].Measure == f.Measure && g.near[n] != "" {
			return g.near[n]
		}
	}
	return ""
}

func (g *planter) want(rule string, note int) {
	g.truths = append(g.truths, seeded{rule: rule, note: note, measure: g.pass.Score.Notes[note].Measure})
}

// wantIn asks for a finding anywhere in the measure of a note, as long as the fault is one when all is planted.
func (g *planter) wantIn(rule string, note int, still func(p *lint.Inspection) bool) {
	g.truths = append(g.truths, seeded{rule: rule, note: -1, measure: g.pass.Score.Notes[note].Measure, still: still})
}

// sameHands says that notes are played by the hands that they were planted for: a note that has moved goes to whoever is nearer.
func (g *planter) sameHands(notes ...int) func(p *lint.Inspection) bool {
	return func(p *lint.Inspection) bool {
		for _, n := range notes {
			if p.Hand[n] != g.pass.Hand[n] {
				return false
			}
		}
		return true
	}
}

// digits makes the digits of a note these.
func (g *planter) digits(n int, texts ...string) []*etree.Element {
	e := g.at[n]
	for _, f := range mutants.FingeringsOf(e) {
		f.Parent().RemoveChild(f)
	}
	var out []*etree.Element
	for _, text := range texts {
		f := mutants.TechnicalOf(e).CreateElement("fingering")
		f.SetText(text)
		out = append(out, f)
	}
	return out
}

// outwardDigits gives two notes a digit each: a to the one on the side of the thumb, b to the other.
func (g *planter) outwardDigits(n, m int, a, b string) {
	if g.pass.Outward(n, m) < 0 {
		a, b = b, a
	}
	g.digits(n, a)
	g.digits(m, b)
}

// line picks the strokes of one hand; none where the score has none.
func (g *planter) line() []lint.Stroke {
	lines := g.pass.Lines()
	if len(lines) == 0 {
		return nil
	}
	return lines[g.Rng.IntN(len(lines))].Strokes
}

func (g *planter) slur(n, m int) {
	for i, x := range []int{n, m} {
		s := mutants.NotationsOf(g.at[x]).CreateElement("slur")
		s.CreateAttr("number", "6")
		s.CreateAttr("type", []string{"start", "stop"}[i])
	}
}

// direction puts a direction before a note's chord.
func (g *planter) direction(n int, staff int, child *etree.Element) {
	e := g.at[n]
	parent := e.Parent()
	at := e.Index()
	for at > 0 {
		if x, ok := parent.Child[at].(*etree.Element); ok && x.Tag == "note" && x.SelectElement("chord") == nil {
			break
		}
		at--
	}
	d := etree.NewElement("direction")
	d.CreateElement("direction-type").AddChild(child)
	d.CreateElement("staff").SetText(fmt.Sprint(staff))
	parent.InsertChildAt(at, d)
}

func words(text string) *etree.Element {
	w := etree.NewElement("words")
	w.SetText(text)
	return w
}

// pair picks two strokes that follow each other and suit: the first from a place drawn onwards, so that what is rare is found.
func (g *planter) pair(suits func(a, b []int) bool) (a, b []int, ok bool) {
	from := g.Rng.IntN(max(len(g.strokes), 1))
	for k := range g.strokes {
		s := g.strokes[(from+k)%len(g.strokes)]
		if g.free(s[0]...) && g.free(s[1]...) && suits(s[0], s[1]) && g.take(append(slices.Clone(s[0]), s[1]...)...) {
			return s[0], s[1], true
		}
	}
	return nil, nil, false
}

func (g *planter) free(notes ...int) bool {
	for _, n := range notes {
		note := &g.pass.Score.Notes[n]
		if g.rest[note.Measure] || note.Grace > 0 || len(note.Ornaments) > 0 || note.Tremolo.Strokes > 0 || note.Arpeggio.Rolled || note.Marks != 0 || len(note.Slurs) > 0 || note.HomeStaff != note.Staff || g.at[n].FindElement("notations[@print-object='no']") != nil {
			return false
		}
	}
	return true
}

// single picks one note struck alone.
func (g *planter) single(suits func(n int) bool) (int, bool) {
	a, _, ok := g.pair(func(a, _ []int) bool { return len(a) == 1 && suits(a[0]) })
	if !ok {
		return 0, false
	}
	return a[0], true
}

// singles picks two notes struck alone one after the other, in one voice.
func (g *planter) singles(suits func(n, m int) bool) (n, m int, ok bool) {
	a, b, ok := g.pair(func(a, b []int) bool {
		return len(a) == 1 && len(b) == 1 && g.oneVoice(a[0], b[0]) && suits(a[0], b[0])
	})
	if !ok {
		return 0, 0, false
	}
	return a[0], b[0], true
}

func (g *planter) oneVoice(n, m int) bool {
	s := g.pass.Score
	a, b := &s.Notes[n], &s.Notes[m]
	return a.Part == b.Part && a.Voice == b.Voice && a.Staff == b.Staff && n < m && s.At(n).Add(a.Duration) == s.At(m)
}

// chord picks a chord on one stem.
func (g *planter) chord(least, most int, suits func(c []int) bool) ([]int, bool) {
	c, _, ok := g.pair(func(c, _ []int) bool {
		if len(c) < least || len(c) > most {
			return false
		}
		for _, n := range c[1:] {
			if !g.pass.OneStem(c[0], n) || n == c[0] {
				return false
			}
		}
		return suits(c)
	})
	return c, ok
}

// outward lists the notes of a chord from the thumb outward.
func (g *planter) outward(c []int) []int {
	c = slices.Clone(c)
	if g.pass.Hand[c[0]] == score.Left {
		slices.Reverse(c)
	}
	return c
}

func (g *planter) length(n, m int) hand.Length {
	d := g.pass.Outward(n, m)
	return max(d, -d)
}

func pick(rng *rand.Rand, texts ...string) string { return texts[rng.IntN(len(texts))] }
