package proofs

import (
	"fmt"
	"io"

	"fingerproof/pipeline/4_services/compare"
)

// countsOf writes how many differences of each kind there are, in the order of the kinds.
func countsOf(counts map[compare.Kind]int) (out string) {
	for _, k := range compare.Kinds() {
		if counts[k] > 0 {
			out += fmt.Sprintf(" %s %d", k, counts[k])
		}
	}
	return out
}

// listChanges lists the differences of a piece with their lines in both files.
func listChanges(out io.Writer, p *compare.Piece) {
	for k := range p.Changes {
		c := &p.Changes[k]
		fmt.Fprintf(out, "    %-14s %s: %q → %q", c.Kind, c.At().Words(true), c.Old, c.New)
		if c.A != nil {
			fmt.Fprintf(out, " line %d", c.A.Line)
		}
		if c.B != nil {
			fmt.Fprintf(out, " new line %d", c.B.Line)
		}
		fmt.Fprintln(out)
	}
}
