// Package dynamicscontradict checks dynamics that stand at one place.
package dynamicscontradict

import (
	"fmt"
	"regexp"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: two dynamics at one place contradict each other.
var Rule = &lint.Rule{
	Name:  "dynamics-contradict",
	Title: "two dynamics at one place contradict each other",
	Checks: "Levels from ppp to fff of which two stand at one moment on one staff of the piano, on the same side of it. " +
		"A level after an accent (sf p), one for each voice, above and below, and the same level twice are left alone.",
	Why:      "Nobody can play both. One of them has been left standing from an earlier state or belongs elsewhere.",
	Before:   "f and pp under the first beat of the upper staff",
	After:    "the one that is meant",
	Severity: lint.Warning,
	Since:    "0.7",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

// inOneSign reports levels that one sign has beside each other, as "ppff", and that are no dynamic of their own, as fp is.
func inOneSign(p *lint.Inspection, piano map[int]bool) {
	for k := range p.Score.Directions {
		d := &p.Score.Directions[k]
		if d.Kind == score.Dynamics && piano[d.Part] && several.MatchString(d.Text) && !level.MatchString(d.Text) && !sudden[d.Text] {
			p.ReportSign(k, lint.Finding{
				Message: fmt.Sprintf("%q stands here as one dynamic", d.Text), Fix: "take out what is not meant",
			})
		}
	}
}

var several = regexp.MustCompile(`^(p+|m[pf]|f+){2,}$`)

// sudden are the levels that are followed by another at once (MusicXML 4.0, dynamics; common practice).
var sudden = map[string]bool{"fp": true, "ffp": true, "fpp": true, "ffpp": true, "pf": true, "mfp": true}

var level = regexp.MustCompile(`^(p+|m[pf]|f+)$`)

func run(p *lint.Inspection) {
	type place struct {
		part, staff, measure int
		onset                score.Fraction
		voice                string
		above                bool
	}
	piano := p.PianoParts()
	inOneSign(p, piano)
	first := map[place]int{}
	for _, k := range p.InTime(func(d *score.Direction) bool { return d.Kind == score.Dynamics && level.MatchString(d.Text) }) {
		d := &p.Score.Directions[k]
		at := place{d.Part, max(d.Staff, 1), d.Measure, d.Onset, d.Voice, d.Above}
		before, is := first[at]
		if !is {
			first[at] = k
			continue
		}
		if was := &p.Score.Directions[before]; piano[d.Part] && was.Text != d.Text {
			p.ReportSign(k, lint.Finding{
				Message: fmt.Sprintf("%s and %s stand at one place", was.Text, d.Text), Fix: "take out the one that is not meant",
			})
		}
	}
}
