package check

import (
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/policies"
)

// looks adds how digits look by another house style than the one in which they were passed: notes and fingers are the same,
// and each of these digits prints otherwise.
func (p *prover) looks() {
	printed := map[string]bool{}
	for i := range p.now.Result.Notes {
		if n := &p.now.Result.Notes[i]; n.Printed {
			printed[lookOf(n.Responsibility)] = true
		}
	}
	old := policies.Resolved(p.was.Policy, "passed")
	keys := policies.Differing(old, p.now.Policy)
	for _, key := range keys {
		parts := strings.Split(key, ".")
		if len(parts) != 3 || parts[0] != "marks" || !printed[parts[1]] {
			continue
		}
		cause := thePolicy + ": " + key
		if slices.Contains(keys, "marks.tradition") {
			cause = thePolicy + ": marks.tradition"
		}
		was, _ := old.Get(key)
		is, _ := p.now.Policy.Get(key)
		p.out.Changes = append(p.out.Changes, Change{Kind: Looks, Pitch: key, N: -1, Old: was.Text, New: is.Text, Cause: cause, old: -1, row: -1})
	}
}

// lookOf names whose look a digit has, as the keys of the policy do.
func lookOf(r score.Responsibility) string {
	if r == score.Unattributed {
		return "open"
	}
	return r.String()
}
