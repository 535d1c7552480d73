// Package collapse checks what becomes of a fingering at the tempo.
package collapse

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: a fingering is best in practice and collapses at the tempo.
var Rule = &lint.Rule{
	Name:     "collapses-at-tempo",
	Title:    "a fingering is best in practice and collapses at the tempo",
	Checks:   "Passages in which the digits that stand are those that serve best at the tempo of practice (`tempo.practice`), and cost much more at the tempo of the piece. Where no digits stand, what an unwary player would learn there; that, and all where the tempo is inferred, is at most a note.",
	Why:      "What is learnt slowly has to be learnt again. A fingering should be tried fast before it is fixed.",
	Before:   "a run fingered with jumps that vanish at half speed",
	After:    "the fingering that holds at the tempo",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Pass) {
	for _, passage := range p.Collapses {
		var standing []int
		for _, n := range passage {
			if p.Digit(n) > 0 && p.Digit(n) == p.Given[n] {
				standing = append(standing, n)
			}
		}
		severity, what := lint.Note, "what serves best in practice does not hold at the tempo"
		if len(standing) > 0 {
			severity, what = p.AtTempo(), "the digits serve in practice and do not hold at the tempo"
		}
		p.Report(lint.Finding{
			Severity: severity, Notes: passage,
			Message: where(p, passage) + " " + what,
			Fix:     "try what is worked out for the tempo" + fingering(p, passage),
		})
	}
}

// where names a passage by its first note and its last.
func where(p *lint.Pass, passage []int) string {
	first, last := passage[0], passage[len(passage)-1]
	if first == last {
		return "at " + p.Keys(passage)
	}
	to := p.Score.Notes[last].Pitch.String()
	if m := p.Score.Notes[last].Measure; m != p.Score.Notes[first].Measure {
		to += fmt.Sprintf(" in m. %s", p.Score.Measures[m].Number)
	}
	return fmt.Sprintf("from %s to %s (%d notes)", p.Score.Notes[first].Pitch, to, len(passage))
}

// shown is how many fingers of a passage fit into a line.
const shown = 6

// fingering gives the fingers worked out for the tempo, as far as they fit
// into a line, where they are others than the digits.
func fingering(p *lint.Pass, passage []int) string {
	var row []string
	for _, n := range passage {
		f := p.Finger[n]
		if p.Unbound != nil && p.Unbound[n] > 0 {
			f = p.Unbound[n]
		}
		if f > 0 && f != p.Digit(n) {
			row = append(row, fmt.Sprintf("%d on %s", f, p.Score.Notes[n].Pitch))
		}
	}
	if len(row) == 0 {
		return ""
	}
	if len(row) > shown {
		row = append(row[:shown], "so on")
	}
	return ": " + lint.Row(row)
}
