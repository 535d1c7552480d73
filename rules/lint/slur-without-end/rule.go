// Package slurwithoutend checks that slurs begin and end.
package slurwithoutend

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a slur has no end or no beginning.
var Rule = &lint.Rule{
	Name:  "slur-without-end",
	Title: "a slur has no end or no beginning",
	Checks: "Slurs, followed in time and by their numbers, whichever voice writes them: each that " +
		"begins must end, and none may end that has not begun; none may begin or end at a rest.",
	Why:      "Engraving drops such a slur or draws it to the end of the system, and what it joins is lost.",
	Before:   "a slur that starts at C4 and no stop",
	After:    "the stop at the last note meant",
	Severity: lint.Note,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

func run(p *lint.Inspection) {
	var without, endless, single []int // notes at which a slur ends only, begins only, does both
	printed := p.TextParts()
	for _, x := range p.Score.SlurSpans() {
		switch note := &p.Score.Notes[max(x.From, x.To)]; {
		case !printed[note.Part]:
		case x.From < 0:
			without = append(without, x.To)
		case x.To < 0:
			endless = append(endless, x.From)
		case x.From == x.To:
			single = append(single, x.From)
		}
	}
	for _, n := range single {
		if !slices.Contains(without, n) && !slices.Contains(endless, n) {
			report(p, n, "begins and ends at one note,")
		}
	}
	for _, x := range p.Score.SlurSpans() {
		if x.From >= 0 && x.To >= 0 && x.From != x.To && printed[p.Score.Notes[x.From].Part] {
			atRest(p, x)
		}
	}
	for _, n := range endless {
		report(p, n, "begins, but does not end, at")
	}
	for _, n := range without {
		report(p, n, "ends, but has not begun, at")
	}
}

// report leaves alone what stands at notes and rests that are not shown: slurs end there that let a key ring.
func report(p *lint.Inspection, n int, what string) {
	if p.Score.Notes[n].Hidden {
		return
	}
	p.Report(lint.Finding{
		Notes: []int{n}, Message: fmt.Sprintf("a slur %s %s", what, p.Score.Notes[n].Pitch),
		Fix: "put in what is missing, or take the slur out",
	})
}

// atRest reports a slur that begins or ends at a rest that is printed.
func atRest(p *lint.Inspection, x score.SlurSpan) {
	for _, n := range []int{x.From, x.To} {
		if note := &p.Score.Notes[n]; note.Kind == score.Rest && !note.Hidden && !note.Cue {
			what := "ends"
			if n == x.From {
				what = "begins"
			}
			p.Report(lint.Finding{
				Notes: []int{n}, Message: fmt.Sprintf("a slur %s at a rest", what), Fix: "set it at the note that is meant",
				Together: what,
			})
			return
		}
	}
}
