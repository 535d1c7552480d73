// Package text writes findings for people: by piece and measure, one line each.
package text

import (
	"fmt"
	"io"

	"fingerproof/pipeline/3_records/state"
)

// Findings writes the findings of a piece in the order of its measures, each
// with what could be done, and how many were let stand. colour is for terminals
// only.
func Findings(out io.Writer, o *state.Outcome, colour bool) error {
	for i := range o.Findings {
		f := &o.Findings[i]
		place := o.File
		if f.Line > 0 {
			place += fmt.Sprintf(":%d", f.Line)
			if f.Column > 0 {
				place += fmt.Sprintf(":%d", f.Column)
			}
		}
		if _, err := fmt.Fprintf(
			out, "%s: %s: %s [%s]\n", place, paint(f.Severity, colour), f.Advice(), f.Rule,
		); err != nil {
			return err
		}
	}
	if n := len(o.Stets); n > 0 {
		if _, err := fmt.Fprintf(out, "%s: let stand: %d\n", o.File, n); err != nil {
			return err
		}
	}
	return nil
}

// paint colours a severity for a terminal; the word says it all the same.
func paint(severity string, colour bool) string {
	if !colour {
		return severity
	}
	code := map[string]string{"error": "31;1", "warning": "33", "note": "36"}[severity]
	return "\x1b[" + code + "m" + severity + "\x1b[0m"
}
