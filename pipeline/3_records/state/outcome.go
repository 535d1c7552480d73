package state

import "fmt"

// Outcome is what lint says of one piece, as reports take it.
type Outcome struct {
	Piece    string
	File     string // the score as the report names it, with slashes
	Problem  string // why the piece could not be worked on; the rest is empty then
	Findings []Finding
	Stets    []Stet
	Earlier  bool     // an earlier run found it so, and this one did not look
	Changed  string   // of an earlier run: why it may not hold any more, "" where it would come out the same
	Notices  []string // what is to be known of it beside findings, a sentence each
	Since    *Since   // how the findings stand to an earlier report; nil where none was given
}

// Total sums outcomes: findings by severity, stets apart, failed pieces.
type Total struct {
	Pieces  int
	Counts  Counts
	Stets   int
	Unfound int // of these, those that are not found as digits, hand and policy stand now
	Failed  int
	Earlier int // of the pieces, those that this run did not look at
}

// TotalOf sums outcomes.
func TotalOf(outcomes []Outcome) Total {
	t := Total{Pieces: len(outcomes)}
	for i := range outcomes {
		o := &outcomes[i]
		t.Counts.Add(CountsOf(o.Findings))
		t.Stets += len(o.Stets)
		for k := range o.Stets {
			if o.Stets[k].NotFound {
				t.Unfound++
			}
		}
		if o.Earlier {
			t.Earlier++
		}
		if o.Problem != "" {
			t.Failed++
		}
	}
	return t
}

// LeftWords says of a piece of an earlier run that this one did not look at it, and why it may not hold any more.
func (o *Outcome) LeftWords(said string) string {
	if o.Changed == "" {
		return said
	}
	return said + "; since then: " + o.Changed
}

// CountsOf counts findings by severity.
func CountsOf(findings []Finding) Counts {
	var c Counts
	for _, f := range findings {
		switch f.Severity {
		case "error":
			c.Error++
		case "warning":
			c.Warning++
		default:
			c.Note++
		}
	}
	return c
}

// Add adds other counts.
func (c *Counts) Add(other Counts) {
	c.Error += other.Error
	c.Warning += other.Warning
	c.Note += other.Note
}

// String says it in words: "2 errors, 1 warning; 3 let stand".
func (t Total) String() string {
	if t.Stets == 0 {
		return t.Counts.String()
	}
	said := fmt.Sprintf("%s; %d let stand", t.Counts, t.Stets)
	if t.Unfound > 0 {
		said += fmt.Sprintf(", %d of them not found as digits, hand and policy stand now", t.Unfound)
	}
	return said
}

// Words says why a finding was let stand, by whom, when and until when.
func (s Stet) Words() string {
	until := ""
	if s.Until != "" {
		until = ", until " + s.Until
	}
	return fmt.Sprintf("%s (%s, %s%s)", oneLine(s.Why), s.By, s.When, until)
}
