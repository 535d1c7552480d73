// Package measurenumberodd checks how measures are numbered.
package measurenumberodd

import (
	"fmt"
	"strconv"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a measure number stands twice or is skipped.
var Rule = &lint.Rule{
	Name:  "measure-number-odd",
	Title: "a measure number stands twice or is skipped, or a rehearsal mark stands twice",
	Checks: "The printed numbers of measures in their order, in every part, and what stands in place of one. " +
		"Pickups, measures that share one at a repeat, endings and a count that begins anew are left alone. A rehearsal mark " +
		"that stands at two measures.",
	Why:      "A commentary, a rehearsal and a decision name places by these numbers.",
	Before:   "m. 11, m. 12, m. 12, m. 13",
	After:    "m. 11, m. 12, m. 13, m. 14",
	Severity: lint.Note,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

const fix = "number the measures anew"

// between says that a whole measure, that is in no ending, stands between two whose numbers leave one for it.
func between(p *lint.Inspection, i int) bool {
	ms := p.Score.Measures
	if i == 0 || i+1 == len(ms) || ms[i].Implicit || len(ms[i].Endings) > 0 || ms[i].Length != ms[i].Nominal {
		return false
	}
	before, err := strconv.Atoi(ms[i-1].Number)
	after, err2 := strconv.Atoi(ms[i+1].Number)
	return err == nil && err2 == nil && after == before+2
}

func run(p *lint.Inspection) {
	rehearsal(p)
	for _, o := range p.Score.Oddities {
		if o.Kind == score.OddNumber {
			p.Report(lint.Finding{Measure: o.Measure, Line: o.Line, Message: o.Detail, Fix: fix})
		}
	}
	ms := p.Score.Measures
	last, twice := -1, false // the last measure that counts; its number stands twice
	for i := range ms {
		number, err := strconv.Atoi(ms[i].Number)
		if err != nil {
			if between(p, i) {
				p.Report(lint.Finding{
					Measure: i, Line: p.FirstLine(i), Message: fmt.Sprintf("the measure number %q is no number", ms[i].Number),
					Fix: fix,
				})
			}
			last = -1
			continue
		}
		if last >= 0 && !ms[i].Implicit && len(ms[i].Endings) == 0 && len(ms[last].Endings) == 0 {
			before, _ := strconv.Atoi(ms[last].Number)
			shared := ms[last].Length.Add(ms[i].Length).Cmp(ms[i].Nominal) <= 0
			message := ""
			switch {
			case number == before && !shared && !ms[last].Implicit:
				message = fmt.Sprintf("the measure number %d stands twice", number)
			case twice && number == before+2: // one number for two measures, and the count goes on
			case number > before+1 && !ms[last].Implicit:
				message = fmt.Sprintf("after measure number %d comes %d", before, number)
			}
			twice = message != "" && number == before
			if message != "" {
				p.Report(lint.Finding{Measure: i, Line: p.FirstLine(i), Message: message, Fix: fix})
			}
		}
		last = i
	}
}

// rehearsal reports a rehearsal mark that stands at two measures.
func rehearsal(p *lint.Inspection) {
	first := map[string]int{}
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind != score.ItemRehearsal || i.Reading == "" {
			continue
		}
		m, is := first[i.Reading]
		switch {
		case !is:
			first[i.Reading] = i.Measure
		case m < i.Measure && !countsAnew(p, m, i.Measure):
			p.ReportItem(i, lint.Finding{
				Message: fmt.Sprintf("the rehearsal mark %q stands at m. %s, too", i.Reading, p.Score.Measures[m].Number), Fix: "letter the piece anew",
				Together: "rehearsal " + i.Reading,
			})
		}
	}
}

// countsAnew says that the numbers of measures begin anew between two: another movement.
func countsAnew(p *lint.Inspection, from, to int) bool {
	for i := from + 1; i <= to; i++ {
		if p.Score.Measures[i].Number == "1" || p.Score.Measures[i].Number == "0" {
			return true
		}
	}
	return false
}
