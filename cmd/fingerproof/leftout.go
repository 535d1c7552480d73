package main

import (
	"fmt"
	"slices"

	"fingerproof/corpus/wording"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
)

// leftOut says which rules the house style leaves out, of all pieces or of some: that nothing is told of them does not mean
// that nothing was there. Those on the text, which one option turns off, are told as one.
func (t *tally) leftOut() (out []string) {
	pieces := func(rule *lint.Rule) (n int) {
		for _, off := range t.off {
			if off[rule.Name] {
				n++
			}
		}
		return n
	}
	words := func(n int) string {
		if n == len(t.off) {
			return ""
		}
		return fmt.Sprintf(" in %d of %s", n, wording.Count(len(t.off), "piece"))
	}
	ofText := 0 // pieces in which every rule on the text is out
	for _, off := range t.off {
		if !slices.ContainsFunc(all.Rules(), func(r *lint.Rule) bool { return r.Text && !off[r.Name] }) {
			ofText++
		}
	}
	var rules []string
	if ofText > 0 {
		rules = append(rules, "all on the text"+words(ofText))
	}
	for _, r := range all.Rules() {
		if n := pieces(r); n > 0 && (!r.Text || n > ofText) {
			rules = append(rules, r.Name+words(n))
		}
	}
	if len(rules) == 0 {
		return nil
	}
	if n := len(rules); n > mostNamed {
		rules = append(rules[:mostNamed], fmt.Sprintf("%d more", n-mostNamed))
	}
	return []string{"rules that the house style leaves out, so that nothing was looked for: " + wording.List(rules)}
}
