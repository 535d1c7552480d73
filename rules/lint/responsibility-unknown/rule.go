// Package responsibilityunknown checks that everyone responsible is known.
package responsibilityunknown

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: nobody is known to be responsible for a digit.
var Rule = &lint.Rule{
	Name:  "responsibility-unknown",
	Title: "nobody is known to be responsible for a digit",
	Checks: "Digits whose responsibility neither the file nor the manifest nor the policy gives, and initials or " +
		"sigla that are not declared: where the policy names its editors (`agents`), one finding for all that " +
		"somebody else decided.",
	Why:      "Every digit is somebody's. One without a name cannot be defended in the commentary.",
	Before:   "a digit signed “xy”, initials that nobody declared",
	After:    "the initials declared, or corrected",
	Severity: lint.Warning,
	Since:    "0.2",
	Options:  []string{"agents.*", "text_digits"},
	Run:      run,
}

func run(p *lint.Inspection) {
	undeclared(p)
	for n := range p.Score.Notes {
		for k := range p.Score.Notes[n].Indications {
			ind := &p.Score.Notes[n].Indications[k]
			message := ""
			switch {
			case ind.Hidden:
			case k < len(p.Whose[n]) && p.Whose[n][k] == score.Unattributed:
				message = fmt.Sprintf(
					"nobody is known to be responsible for the %s on %s", ind.Text, p.Score.Notes[n].Pitch,
				)
			case ind.Agent != "" && p.Agents != nil && !p.Agents[ind.Agent]:
				message = fmt.Sprintf(
					"%q is responsible for the %s on %s and is not declared", ind.Agent, ind.Text,
					p.Score.Notes[n].Pitch,
				)
			}
			if message != "" {
				p.Report(lint.Finding{
					Notes: []int{n}, Line: ind.Line, Column: ind.Column, Message: message,
					Fix: "declare who it is, or correct the name",
				})
			}
		}
	}
}

// undeclared reports initials under decisions that the policy does not name:
// once each, at the first note they decided.
func undeclared(p *lint.Inspection) {
	if p.Agents == nil {
		return
	}
	var order []string
	notes := map[string][]int{}
	for n, who := range p.DecidedBy {
		if who == "" || p.Agents[who] {
			continue
		}
		if notes[who] == nil {
			order = append(order, who)
		}
		notes[who] = append(notes[who], n)
	}
	for _, who := range order {
		first := &p.Score.Notes[notes[who][0]]
		message := fmt.Sprintf("%q decided the digit on %s", who, first.Pitch)
		if more := len(notes[who]) - 1; more > 0 {
			message += fmt.Sprintf(" and %d more", more)
		}
		p.Report(lint.Finding{
			Notes: notes[who][:1], Message: message + ", and is not among the declared editors",
			Fix: "declare the initials (agents in the policy), or correct them in the decisions",
		})
	}
}
