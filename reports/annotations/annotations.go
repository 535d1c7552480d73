// Package annotations writes findings as workflow commands, lines on standard
// output by which the CI of code hosts marks a place in a file.
package annotations

import (
	"fmt"
	"io"
	"strings"

	"fingerproof/pipeline/3_records/state"
)

// Write writes a line for each finding and notice, one for each piece that failed, and
// one for each piece in which findings were let stand.
func Write(out io.Writer, outcomes []state.Outcome) error {
	var b strings.Builder
	for i := range outcomes {
		o := &outcomes[i]
		if o.Problem != "" {
			line(&b, "error", o.File, 0, 0, "could not be worked on", o.ProblemLine())
		}
		for k := range o.Findings {
			f := &o.Findings[k]
			line(&b, commands[f.Severity], o.File, f.Line, f.Column, f.Rule, f.Advice())
		}
		for _, said := range o.Notices {
			line(&b, "notice", o.File, 0, 0, "beside the findings", o.Piece+": "+said)
		}
		if n := len(o.Stets); n > 0 {
			line(&b, "notice", o.File, 0, 0, "stet", fmt.Sprintf("%s: let stand: %d", o.Piece, n))
		}
	}
	_, err := io.WriteString(out, b.String())
	return err
}

var commands = map[string]string{"error": "error", "warning": "warning", "note": "notice"}

func line(b *strings.Builder, command, file string, at, column int, title, message string) {
	fmt.Fprintf(b, "::%s file=%s", command, property.Replace(file))
	if at > 0 {
		fmt.Fprintf(b, ",line=%d", at)
		if column > 0 {
			fmt.Fprintf(b, ",col=%d", column)
		}
	}
	fmt.Fprintf(b, ",title=%s::%s\n", property.Replace(title), data.Replace(message))
}

// What a message and a property may not hold as it is.
var (
	data     = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A")
	property = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A", ":", "%3A", ",", "%2C")
)
