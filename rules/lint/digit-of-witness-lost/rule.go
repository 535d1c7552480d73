// Package digitofwitnesslost checks that the witnesses' digits are kept.
package digitofwitnesslost

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a digit of the witness is lost.
var Rule = &lint.Rule{
	Name:  "digit-of-witness-lost",
	Title: "a digit of the witness is lost",
	Checks: "Digits that stand in an aligned witness on a note that the text has, and not on that note in the " +
		"text: neither there nor, moved, on a note beside it. Of a witness of the composer's, where the text has " +
		"another digit in its place, too, unless it is that of another such witness; where the text's own digit is " +
		"the composer's as well it is a note: two readings.",
	Why:      "The composer's digits are part of the text. What is left out without a word is a loss.",
	Before:   "witness A: C5 with 3; the text: C5 without a digit",
	After:    "the C5 with 3 in the text as well",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	otherwise := map[string]bool{} // witnesses that seem to count their fingers in another way: one finding says it
	for _, c := range p.Countings() {
		otherwise[c.Siglum] = c.By != 0
	}
	p.WitnessDigits(func(w *lint.Witness, m, n int, text string) {
		has := lint.DigitsText(&p.Score.Notes[n])
		switch {
		case has == "" && len(p.Score.Notes[n].Indications) == 0:
			if lint.MovedTo(p, w, m) >= 0 {
				return
			}
			has = "no digit"
		case w.Responsibility != score.Composer || otherwise[w.Siglum] || kept(p, n) || old(&p.Score.Notes[n]):
			return // an editor may finger otherwise than those before; of a +, the rule on the old numbering speaks
		case has == "":
			has = "another sign"
		}
		f := lint.Finding{
			Notes: []int{n},
			Message: fmt.Sprintf(
				"witness %s has %s on %s, the text has %s", w.Siglum, text, p.Score.Notes[n].Pitch, has,
			),
			Fix: "put the digit in, or say in the commentary why not",
		}
		if p.OfComposer(n) {
			// The text's digit is the composer's as well: two readings, and none is lost without a trace.
			f.Severity, f.Fix = lint.Note, "decide which of the two is to stand, and mention the other in the commentary"
		}
		p.Report(f)
	})
}

// kept says that the digits of a note are those of a witness of the composer's:
// where such witnesses differ the text follows one of them.
func kept(p *lint.Inspection, n int) bool {
	has := fingers(&p.Score.Notes[n])
	for i := range p.Witnesses {
		w := &p.Witnesses[i]
		if m := w.Note[n]; m >= 0 && w.Responsibility == score.Composer &&
			slices.Equal(has, fingers(&w.Score.Notes[m])) {
			return true
		}
	}
	return false
}

// fingers lists the fingers of a note as its digits give them, alternatives
// left out.
func fingers(n *score.Note) (out []int) {
	for k := range n.Indications {
		if ind := &n.Indications[k]; !ind.Alternate && !ind.Hidden {
			out = append(out, ind.Fingers...)
		}
	}
	return out
}

// old says that a sign of the old numbering stands at a note.
func old(n *score.Note) bool {
	return slices.ContainsFunc(n.Indications, func(ind score.Indication) bool { return ind.Old })
}
