// Package wrongorderinchord checks the order of digits over a chord.
package wrongorderinchord

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: the digits of a chord stand in the wrong order.
var Rule = &lint.Rule{
	Name:  "wrong-order-in-chord",
	Title: "the digits of a chord stand in the wrong order",
	Checks: "Several digits given out over a chord at one of its notes, as many as the chord has notes: the " +
		"highest note's digit stands on top, so the right hand's fall from top to bottom and the left hand's rise.",
	Why: "The reader gives the topmost digit to the topmost note. In another order each finger lands on another " +
		"key.",
	Before:   "right hand: C4 E4 G4 with 1 3 5 from top to bottom",
	After:    "5 3 1 from top to bottom",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	for n := range p.Score.Notes {
		chord := p.Playing.Together(n)
		if len(chord) < 2 || len(chord) > 5 {
			continue
		}
		stack := digits(&p.Score.Notes[n])
		if len(stack) != len(chord) || others(p, chord, n) || sorted(p, n, stack) {
			continue
		}
		fingers := p.Score.Notes[n].Indications
		right := slices.Clone(stack)
		slices.SortStableFunc(right, func(a, b int) int {
			if p.Playing.Hand(n) == score.Left {
				a, b = b, a
			}
			return fingers[b].Fingers[0] - fingers[a].Fingers[0]
		})
		f := lint.Finding{
			Notes: []int{n}, Line: fingers[stack[0]].Line, Column: fingers[stack[0]].Column,
			Message: fmt.Sprintf(
				"over the chord %s stand %s from top to bottom; the highest note's digit belongs on top",
				p.Keys(chord), words(fingers, stack),
			),
			Fix: "set them " + words(fingers, right),
		}
		if len(stack) == len(fingers) {
			f.Edit = []score.Mark{{Note: n, Order: right}}
		}
		p.Report(f)
	}
}

// digits lists the indications of a note that may be given out over a chord.
func digits(n *score.Note) (out []int) {
	for k := range n.Indications {
		ind := &n.Indications[k]
		if ind.Substitution || ind.Alternate || ind.Hidden || len(ind.Fingers) != 1 {
			return nil
		}
		out = append(out, k)
	}
	return out
}

func others(p *lint.Inspection, chord []int, n int) bool {
	for _, m := range chord {
		if m != n && len(p.Score.Notes[m].Indications) > 0 {
			return true
		}
	}
	return false
}

func sorted(p *lint.Inspection, n int, stack []int) bool {
	for i := 1; i < len(stack); i++ {
		a, b := p.Score.Notes[n].Indications[stack[i-1]].Finger(), p.Score.Notes[n].Indications[stack[i]].Finger()
		if p.Playing.Hand(n) == score.Left {
			a, b = b, a
		}
		if a < b {
			return false
		}
	}
	return true
}

func words(ind []score.Indication, order []int) string {
	out := make([]string, len(order))
	for i, k := range order {
		out[i] = fmt.Sprint(ind[k].Finger())
	}
	return strings.Join(out, " ")
}
