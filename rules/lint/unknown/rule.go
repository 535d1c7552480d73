// Package unknown checks that everyone responsible is known.
package unknown

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: nobody is known to be responsible for a digit.
var Rule = &lint.Rule{
	Name:     "responsibility-unknown",
	Title:    "nobody is known to be responsible for a digit",
	Checks:   "Digits whose responsibility neither the file nor the manifest nor the policy gives, and initials or sigla that are not declared.",
	Why:      "Every digit is somebody's. One without a name cannot be defended in the commentary.",
	Before:   "a digit signed “xy”, initials that nobody declared",
	After:    "the initials declared, or corrected",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Pass) {
	for n := range p.Score.Notes {
		for k := range p.Score.Notes[n].Indications {
			ind := &p.Score.Notes[n].Indications[k]
			message := ""
			switch {
			case ind.Hidden:
			case k < len(p.Whose[n]) && p.Whose[n][k] == score.Unattributed:
				message = fmt.Sprintf("nobody is known to be responsible for the %s on %s", ind.Text, p.Score.Notes[n].Pitch)
			case ind.Agent != "" && p.Agents != nil && !p.Agents[ind.Agent]:
				message = fmt.Sprintf("%q is responsible for the %s on %s and is not declared", ind.Agent, ind.Text, p.Score.Notes[n].Pitch)
			}
			if message != "" {
				p.Report(lint.Finding{Notes: []int{n}, Line: ind.Line, Column: ind.Column, Message: message, Fix: "declare who it is, or correct the name"})
			}
		}
	}
}
