// Package text writes findings for people: by piece and measure, one line each.
package text

import (
	"fmt"
	"io"
	"strings"

	"fingerproof/pipeline/state"
)

// Findings writes the findings of a piece. file is how the score is named;
// colour is for terminals only.
func Findings(out io.Writer, r *state.Result, file string, colour bool) error {
	for _, f := range r.Findings {
		place := file
		if f.Line > 0 {
			place += fmt.Sprintf(":%d", f.Line)
			if f.Column > 0 {
				place += fmt.Sprintf(":%d", f.Column)
			}
		}
		if _, err := fmt.Fprintf(out, "%s: %s: %s [%s]\n", place, paint(f.Severity, colour), Sentence(f), f.Rule); err != nil {
			return err
		}
	}
	return nil
}

// Sentence is a finding in one line that stands alone and names the place as
// a musician would: "m. 42, right hand: …".
func Sentence(f state.Finding) string {
	place := "m. " + f.Measure
	switch f.Hand.String() {
	case "R":
		place += ", right hand"
	case "L":
		place += ", left hand"
	}
	return place + ": " + strings.Join(strings.Fields(f.Message), " ")
}

// paint colours a severity for a terminal; the word says it all the same.
func paint(severity string, colour bool) string {
	if !colour {
		return severity
	}
	code := map[string]string{"error": "31;1", "warning": "33", "note": "36"}[severity]
	return "\x1b[" + code + "m" + severity + "\x1b[0m"
}

// Counts says how many findings there are: "2 errors, 1 warning, 14 notes".
func Counts(c state.Counts) string {
	var parts []string
	for _, p := range []struct {
		n    int
		name string
	}{{c.Error, "error"}, {c.Warning, "warning"}, {c.Note, "note"}} {
		switch p.n {
		case 0:
		case 1:
			parts = append(parts, "1 "+p.name)
		default:
			parts = append(parts, fmt.Sprintf("%d %ss", p.n, p.name))
		}
	}
	if len(parts) == 0 {
		return "no findings"
	}
	return strings.Join(parts, ", ")
}
