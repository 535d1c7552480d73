// Package junit writes findings as a JUnit test report, which most CI systems
// show: a suite for each piece, a case for each rule.
package junit

import (
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/rules/lint"
)

// Report is what the test report is made of.
type Report struct {
	Rules    []*lint.Rule
	Outcomes []state.Outcome
	// Fails says whether a finding makes its case fail; milder ones stand in the case's output.
	Fails func(o *state.Outcome, f *state.Finding) bool
	// Off says that the policy of a piece leaves a rule out: its case is skipped, since nobody looked. Nil: no rule.
	Off func(o *state.Outcome, rule string) bool
}

type suites struct {
	XMLName  xml.Name `xml:"testsuites"`
	Name     string   `xml:"name,attr"`
	Tests    int      `xml:"tests,attr"`
	Failures int      `xml:"failures,attr"`
	Errors   int      `xml:"errors,attr"`
	Skipped  int      `xml:"skipped,attr"`
	Suites   []suite  `xml:"testsuite"`
}

type suite struct {
	Name     string  `xml:"name,attr"`
	Tests    int     `xml:"tests,attr"`
	Failures int     `xml:"failures,attr"`
	Errors   int     `xml:"errors,attr"`
	Skipped  int     `xml:"skipped,attr"`
	Cases    []check `xml:"testcase"`
	Output   string  `xml:"system-out,omitempty"` // what is to be known beside the cases
}

type check struct {
	Name    string   `xml:"name,attr"`
	Class   string   `xml:"classname,attr"`
	File    string   `xml:"file,attr,omitempty"`
	Skipped *message `xml:"skipped"`
	Error   *message `xml:"error"`
	Failure *message `xml:"failure"`
	Output  string   `xml:"system-out,omitempty"`
}

type message struct {
	Message string `xml:"message,attr"`
	Type    string `xml:"type,attr,omitempty"`
	Body    string `xml:",chardata"`
}

// Write writes the report.
func Write(out io.Writer, report Report) error {
	all := suites{Name: "fingerproof"}
	for i := range report.Outcomes {
		s := suiteOf(report, &report.Outcomes[i])
		all.Tests += s.Tests
		all.Failures += s.Failures
		all.Errors += s.Errors
		all.Skipped += s.Skipped
		all.Suites = append(all.Suites, s)
	}
	data, err := xml.MarshalIndent(all, "", "  ")
	if err != nil {
		return fmt.Errorf("writing findings as JUnit: %w", err)
	}
	_, err = fmt.Fprintf(out, "%s%s\n", xml.Header, data)
	return err
}

func suiteOf(report Report, o *state.Outcome) suite {
	s := suite{Name: o.Piece, Output: lines(o.Notices)}
	if o.Problem != "" {
		s.Tests, s.Errors = 1, 1
		problem := &message{Message: o.ProblemLine(), Type: "error", Body: o.Problem}
		if o.Earlier {
			problem.Message = o.LeftWords(earlier) + ": " + problem.Message
		}
		s.Cases = []check{{Name: "read", Class: o.Piece, File: o.File, Error: problem}}
		return s
	}
	for _, r := range report.Rules {
		for _, c := range casesOf(report, o, r) {
			if o.Earlier {
				c.notLookedAt(o.LeftWords(earlier))
			}
			s.Tests++
			switch {
			case c.Failure != nil:
				s.Failures++
			case c.Skipped != nil:
				s.Skipped++
			}
			s.Cases = append(s.Cases, c)
		}
	}
	return s
}

// casesOf is one rule in one piece: failed by findings that count, skipped
// where all there is was let stand or the rule is off, passed otherwise. Where some stand and some
// were let stand, these are a case of their own, so that they are counted apart.
func casesOf(report Report, o *state.Outcome, r *lint.Rule) []check {
	c := check{Name: r.Name, Class: o.Piece, File: o.File}
	var failing, milder, stets []string
	worst := ""
	for k := range o.Findings {
		f := &o.Findings[k]
		if f.Rule != r.Name {
			continue
		}
		line := f.Severity + ": " + f.Advice()
		if report.Fails(o, f) {
			failing, worst = append(failing, line), f.Severity
		} else {
			milder = append(milder, line)
		}
	}
	for k := range o.Stets {
		if s := &o.Stets[k]; s.Finding.Rule == r.Name {
			stets = append(stets, "let stand: "+s.Finding.Sentence()+"; "+s.Words())
		}
	}
	switch {
	case len(failing) > 0:
		c.Failure = &message{Message: headline(r.Title, len(failing)), Type: worst, Body: lines(failing)}
		c.Output = lines(milder)
	case len(milder) > 0:
		c.Output = lines(milder)
	case len(stets) > 0:
		c.Skipped = letStand(stets)
		return []check{c}
	}
	if len(stets) == 0 {
		if report.Off != nil && report.Off(o, r.Name) && c.Failure == nil && c.Output == "" {
			c.Skipped = &message{Message: "switched off by the policy of the piece: not looked at"}
		}
		return []check{c}
	}
	return []check{c, {Name: r.Name + ", let stand", Class: o.Piece, File: o.File, Skipped: letStand(stets)}}
}

// earlier is said of what this run did not look at.
const earlier = "as an earlier run left it, not looked at by this one"

// notLookedAt says that a case is what an earlier run found: it passes no more, and one that failed says so.
func (c *check) notLookedAt(said string) {
	switch {
	case c.Failure != nil:
		c.Failure.Message = said + ": " + c.Failure.Message
	case c.Skipped != nil:
		c.Skipped.Message = said + ": " + c.Skipped.Message
	default:
		c.Skipped = &message{Message: said}
	}
}

func letStand(stets []string) *message {
	return &message{Message: headline("let stand", len(stets)), Body: lines(stets)}
}

func headline(title string, n int) string {
	if n == 1 {
		return title
	}
	return fmt.Sprintf("%s (%d places)", title, n)
}

func lines(l []string) string {
	if len(l) == 0 {
		return ""
	}
	return "\n" + strings.Join(l, "\n") + "\n"
}
