// Package difftext draws differences as text, piece by piece, one line each.
package difftext

import (
	"fmt"
	"io"
	"strings"

	"fingerproof/pipeline/4_services/compare"
)

// Write draws a diff.
func Write(out io.Writer, d *compare.Diff) error {
	var b strings.Builder
	same := 0
	for i := range d.Pieces {
		p := &d.Pieces[i]
		switch {
		case p.Problem != "":
			fmt.Fprintf(&b, "%s: could not be compared: %s\n", p.ID, p.Problem)
			continue
		case len(p.Changes) == 0:
			same++
			if len(p.NotSaid) > 0 {
				fmt.Fprintf(&b, "%s: the same\n", p.ID)
				notSaid(&b, p)
			}
			continue
		}
		fmt.Fprintf(&b, "%s: %s\n", p.ID, tally(p))
		notSaid(&b, p)
		for k := range p.Changes {
			c := &p.Changes[k]
			fmt.Fprintf(&b, "  %s: %s%s\n", c.At().Words(true), c.Kind.Words(), values(c))
		}
	}
	fmt.Fprintf(&b, "%d of %d pieces are the same\nnot compared: %s\n", same, len(d.Pieces), strings.Join(d.NotCompared(), "; "))
	_, err := io.WriteString(out, b.String())
	return err
}

// notSaid names what a piece's files leave open.
func notSaid(b *strings.Builder, p *compare.Piece) {
	if len(p.NotSaid) > 0 {
		fmt.Fprintf(b, "  not compared: %s\n", strings.Join(p.NotSaid, "; "))
	}
}

// tally counts the changes of a piece by class.
func tally(p *compare.Piece) string {
	count := map[compare.Class]int{}
	for i := range p.Changes {
		count[p.Changes[i].Kind.Class()]++
	}
	var parts []string
	for _, class := range compare.Classes() {
		if n := count[class]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d in %s", n, class))
		}
	}
	return strings.Join(parts, ", ")
}

func values(c *compare.Change) string {
	switch {
	case c.Old == "" && c.New == "":
		return ""
	case c.Old == "":
		return ": " + c.New
	case c.New == "":
		return ": " + c.Old
	}
	return ": " + c.Old + " → " + c.New
}
