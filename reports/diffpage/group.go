package diffpage

import (
	"fmt"

	"fingerproof/pipeline/4_services/compare"
)

// A group is differences that stand close together: what is drawn in one
// picture of each reading.
type group struct {
	title    string
	changes  []int // of the piece
	old, new span  // measures by index
	at       *compare.Place
}

// span is measures from first to last; of a nil span first is -1.
type span struct{ first, last int }

const (
	mostMeasures = 4 // in one picture
	gap          = 1 // measures between two differences of one picture that may be the same in both
)

// add takes a measure in, and says whether the span is not too long then.
func (s span) add(measure int) (span, bool) {
	switch {
	case measure < 0:
		return s, true
	case s.first < 0:
		return span{measure, measure}, true
	}
	wider := span{min(s.first, measure), max(s.last, measure)}
	near := measure >= s.first-gap-1 && measure <= s.last+gap+1
	return wider, near && wider.last-wider.first < mostMeasures
}

func (g *group) drawable() bool { return g.old.first >= 0 || g.new.first >= 0 }

// groupsOf gathers the differences of a piece by system, where the score says
// where systems break, and by measures. What stands at no measure comes first.
func groupsOf(p *compare.Piece) []group {
	var out []group
	leaders := p.Leaders()
	for k := range p.Changes {
		if leaders[k] != k {
			continue // it is told in the line of its cause
		}
		c := &p.Changes[k]
		at := c.At()
		old, new := c.Measures()
		if n := len(out); n > 0 {
			g := &out[n-1]
			first, fits := g.old.add(old)
			second, alsoFits := g.new.add(new)
			if fits && alsoFits && g.drawable() == (old >= 0 || new >= 0) && sameSystem(g.at, at) {
				g.old, g.new, g.changes = first, second, append(g.changes, k)
				continue
			}
		}
		none := span{-1, -1}
		g := group{changes: []int{k}, at: at}
		g.old, _ = none.add(old)
		g.new, _ = none.add(new)
		out = append(out, g)
	}
	for i := range out {
		out[i].title = out[i].name(p)
	}
	return out
}

func sameSystem(p, q *compare.Place) bool {
	return p == nil || q == nil || p.Page == q.Page && p.System == q.System
}

// name is the heading of a group: "p. 3, system 2, mm. 12–13".
func (g *group) name(p *compare.Piece) string {
	var first, last *compare.Place
	for _, k := range g.changes {
		at := p.Changes[k].At()
		if at == nil || at.Measure == "" {
			continue
		}
		if first == nil || at.Index < first.Index {
			first = at
		}
		if last == nil || at.Index > last.Index {
			last = at
		}
	}
	if first == nil {
		return "whole piece"
	}
	out := "m. " + first.Measure
	if first.Index != last.Index {
		out = "mm. " + first.Measure + "–" + last.Measure
	}
	if first.Page > 0 {
		out = fmt.Sprintf("p. %d, system %d, %s", first.Page, first.System, out)
	}
	return out
}
