package findings

import (
	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/rules/lint"
)

// planter puts faults into one document.
type planter struct {
	*alteration.Draft
	base    *lint.Inspection // of the untouched score
	at      []*etree.Element
	strokes [][2][]int     // pairs of strokes that follow each other in a hand
	near    map[int]string // what is planted at a note
	rest    map[int]bool   // measures that hold a fault of a whole measure
	truths  []seeded
	named   map[string]bool // faults that are planted once in a score and have names of their own
	// planting is the rule that is planted for now.
	planting string
	values   []func(*lint.Inspection)
	source   *etree.Document // the witness: the untouched score, with what a fault changes in it
	inSource []*etree.Element
	// decisions of editors about the untouched score
	decisions []decision.Decision
	finder    *decision.Finder
}

// note is a note of the untouched score.
func (g *planter) note(n int) *score.Note { return &g.base.Score.Notes[n] }

// prepare lists the places of the untouched score.
func (g *planter) prepare() {
	g.at = g.Doc.FindElements("//note")
	g.source = g.Doc.Copy()
	g.inSource = g.source.FindElements("//note")
	for _, l := range g.base.Playing.Lines {
		for i := 1; i < len(l.Strokes); i++ {
			g.strokes = append(g.strokes, [2][]int{l.Strokes[i-1].Notes, l.Strokes[i].Notes})
		}
	}
}

// witness reads the witness.
func (g *planter) witness(name string) (*score.Score, error) {
	text, err := g.source.WriteToString()
	if err != nil {
		return nil, err
	}
	return opendata.ParseScore(name, []byte(text))
}

// sourceDigit makes the digit of a note in the witness this one, "" for none.
func (g *planter) sourceDigit(n int, text string) {
	e := g.inSource[n]
	for _, f := range alteration.FingeringsOf(e) {
		f.Parent().RemoveChild(f)
	}
	if text != "" {
		alteration.TechnicalOf(e).CreateElement("fingering").SetText(text)
	}
}

// sourceRest makes a note of the witness a rest.
func (g *planter) sourceRest(n int) {
	g.sourceDigit(n, "")
	e := g.inSource[n]
	pitch := e.SelectElement("pitch")
	at := pitch.Index()
	e.RemoveChild(pitch)
	e.InsertChildAt(at, etree.NewElement("rest"))
	for _, gone := range []string{"accidental", "beam", "stem", "notehead"} {
		for _, c := range e.SelectElements(gone) {
			e.RemoveChild(c)
		}
	}
}

// take marks notes and all of their measures and the neighbouring ones as
// used, if they are free.
func (g *planter) take(notes ...int) bool {
	for _, n := range notes {
		if g.rest[g.note(n).Measure] {
			return false
		}
	}
	for _, n := range notes {
		g.near[n] = g.planting
	}
	for _, n := range notes {
		m := g.note(n).Measure
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
	for n := range g.base.Score.Notes {
		if g.note(n).Measure == f.Measure && g.near[n] != "" {
			return g.near[n]
		}
	}
	return ""
}

func (g *planter) want(rule string, note int) {
	g.truths = append(g.truths, seeded{rule: rule, note: note, measure: g.note(note).Measure})
}

// wantIn asks for a finding anywhere in the measure of a note, as long as the fault is one when all is planted.
func (g *planter) wantIn(rule string, note int, still func(p *lint.Inspection) bool) {
	g.truths = append(g.truths, seeded{rule: rule, note: -1, measure: g.note(note).Measure, still: still})
}

// sameHands says that notes are played by the hands that they were planted for: a note that has moved goes to whoever
// is nearer.
func (g *planter) sameHands(notes ...int) func(p *lint.Inspection) bool {
	return func(p *lint.Inspection) bool {
		for _, n := range notes {
			if p.Playing.Hand(n) != g.base.Playing.Hand(n) {
				return false
			}
		}
		return true
	}
}
