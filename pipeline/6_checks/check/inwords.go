package check

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/policies"
)

// saidInWords are the keys of the house style that preface, legend or commentary put into words, whatever else they do. A
// last "." stands for all below. (TestEachKeyThatPrintsIsTold asks for each.)
var saidInWords = []string{
	"title", "language", "digits", "hand", "span_mm", "marks.polyphony", "marks.alternative", "witness.constrains", "witness.prints", "agents.",
}

// words adds the keys that change what is printed beside the music and nothing else that is told.
func (p *prover) words() {
	old := policies.Resolved(p.was.Policy, "passed")
	for _, key := range policies.Differing(old, p.now.Policy) {
		cause := thePolicy + ": " + key
		if !slices.ContainsFunc(saidInWords, func(w string) bool { return w == key || strings.HasSuffix(w, ".") && strings.HasPrefix(key, w) }) ||
			slices.ContainsFunc(p.out.Changes, func(c Change) bool { return c.Cause == cause }) {
			continue
		}
		was, _ := old.Get(key)
		is, _ := p.now.Policy.Get(key)
		p.out.Changes = append(p.out.Changes, Change{Kind: Heading, Pitch: key, N: -1, Old: was.Text, New: is.Text, Cause: cause, old: -1, row: -1})
	}
}

// reasons adds the decisions of which the reason alone is another: the commentary prints it.
func (p *prover) reasons() {
	was := map[string][]string{}
	for i := range p.was.Decisions {
		d := &p.was.Decisions[i]
		was[withoutReason(d)] = append(was[withoutReason(d)], d.Why)
	}
	for i := range p.now.Decisions {
		d := &p.now.Decisions[i]
		same := withoutReason(d)
		if len(was[same]) == 0 {
			continue
		}
		before := was[same][0]
		if was[same] = was[same][1:]; before == d.Why {
			continue
		}
		c := Change{Kind: Heading, Pitch: "reason of " + d.By, N: -1, Old: before, New: d.Why, Cause: theDecisions, old: -1, row: -1}
		if len(d.Notes) > 0 {
			c.Pitch += fmt.Sprintf(", m. %s", d.Notes[0].Printed)
		}
		p.out.Changes = append(p.out.Changes, c)
	}
}

// withoutReason stands for what a decision decides.
func withoutReason(d *decision.Decision) string {
	bare := *d
	bare.Why, bare.When = "", ""
	text, err := json.Marshal(&bare)
	if err != nil {
		return d.Place()
	}
	return string(text)
}
