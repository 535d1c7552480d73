// Package partsreadasone says which parts of a score were taken for one player's.
package partsreadasone

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule reports parts of one name that were read as one player's without the manifest saying so.
var Rule = &lint.Rule{
	Name:  "parts-read-as-one",
	Title: "parts of one name are read as one player's",
	Checks: "Parts of the piano that bear the same name and are played by the same player, where the file " +
		"does not pair them as right and left hand: a third staff, or the staves of both hands, each written as a " +
		"part of its own.",
	Why: "They are read so because two hands can play what stands in them. If they are two players', their " +
		"hands, fingers and redistributions are wrong.",
	Before:   "two parts “Piano”, one of two staves and one of a single staff",
	After:    "the manifest names the scoring, or the parts",
	Severity: lint.Note,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	type playerPart struct{ player, part int }
	seen := map[playerPart]bool{}
	first := map[int]int{} // player → first part
	for n := range p.Score.Notes {
		if !p.Playing.Plays(n) {
			continue
		}
		part := p.Score.Notes[n].Part
		at := playerPart{p.Playing.Player(n), part}
		if seen[at] {
			continue
		}
		seen[at] = true
		one, known := first[at.player]
		if !known {
			first[at.player] = part
			continue
		}
		a, b := &p.Score.Parts[one], &p.Score.Parts[part]
		if a.Hand != score.NoHand || b.Hand != score.NoHand ||
			!strings.EqualFold(strings.TrimSpace(a.Name), strings.TrimSpace(b.Name)) {
			continue
		}
		p.Report(lint.Finding{
			Notes:   []int{n},
			Message: fmt.Sprintf("the parts %s and %s, both called %q, are read as one player's", a.ID, b.ID, a.Name),
			Fix:     "name the scoring or the parts in the manifest if they are two players'",
		})
	}
}
