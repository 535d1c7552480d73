package findings

import (
	"fingerproof/rules/lint"
)

// faultsOfWitnesses are faults against a witness, and those given from outside the score.
var faultsOfWitnesses = []fault{
	{"digit-of-witness-lost", func(g *planter) {
		if n, ok := g.single(func(int) bool { return true }); ok {
			g.digits(n)
			g.sourceDigit(n, "3")
			g.want("digit-of-witness-lost", n)
		}
	}},
	{"digit-of-witness-moved", func(g *planter) {
		n, m, ok := g.singles(func(n, m int) bool { return true })
		if ok {
			g.digits(n)
			g.digits(m, "3")
			g.sourceDigit(n, "3")
			g.sourceDigit(m, "")
			g.want("digit-of-witness-moved", m)
		}
	}},
	{"digit-on-note-witness-lacks", func(g *planter) {
		if n, ok := g.single(func(n int) bool {
			return g.untied(n) && g.at[n].SelectElement("pitch") != nil && g.at[n].SelectElement("chord") == nil && !g.headsChord(n)
		}); ok {
			g.digits(n, "3")
			g.sourceRest(n)
			g.want("digit-on-note-witness-lacks", n)
		}
	}},
	{"text-differs-from-witness", func(g *planter) {
		if n, ok := g.single(func(n int) bool {
			return g.at[n].FindElement("pitch") != nil && g.note(n).TiedTo < 0 && g.note(n).TiedFrom < 0
		}); ok {
			setOctave(g.at[n], 1-2*g.Rng.IntN(2))
			g.digits(n)
			g.wantIn("text-differs-from-witness", n, nil)
		}
	}},
	{"collapses-at-tempo", func(g *planter) {
		if n, m, ok := g.singles(func(n, m int) bool { return true }); ok {
			g.digits(n, "1")
			g.digits(m, "2")
			g.values = append(g.values, func(p *lint.Inspection) {
				p.Collapses = append(p.Collapses, lint.Collapse{Notes: []int{n, m}, Fingers: []int{1, 2}})
			})
			g.want("collapses-at-tempo", n)
		}
	}},
}

// headsChord says that the notes of a chord follow a note in the file.
func (g *planter) headsChord(n int) bool {
	return n+1 < len(g.at) && g.at[n+1].SelectElement("chord") != nil
}
