// Package corrections writes the sheet that a proof reader sends to the
// engraver.
package corrections

import (
	"fmt"
	"io"
	"strings"

	"fingerproof/pipeline/4_services/compare"
)

// order in which a sheet lists its parts, worst first.
var order = []struct {
	state compare.State
	title string
}{
	{compare.Unread, "Could not be compared"},
	{compare.Broken, "New in this proof"},
	{compare.Missed, "Still to be done"},
	{compare.ToDo, "Corrections"},
	{compare.Done, "Done"},
}

// Write writes the sheet of a typeset proof against the approved copy.
func Write(out io.Writer, approved, typeset string, sheet []compare.Correction) error {
	var b strings.Builder
	fmt.Fprintf(&b, "Corrections to %s\nafter the approved copy %s\n", typeset, approved)
	for _, part := range order {
		piece, n := "", 0
		for _, c := range sheet {
			if c.State != part.state {
				continue
			}
			if n++; n == 1 {
				fmt.Fprintf(&b, "\n%s\n", part.title)
			}
			if c.Piece != piece {
				piece = c.Piece
				fmt.Fprintf(&b, "  %s\n", piece)
			}
			box := "[ ]"
			if c.State == compare.Done {
				box = "[x]"
			}
			if c.At == nil {
				fmt.Fprintf(&b, "    %s\n", c.Ask)
				continue
			}
			fmt.Fprintf(&b, "    %s %s: %s\n", box, c.At.Words(false), c.Ask)
		}
	}
	if len(sheet) == 0 {
		b.WriteString("\nNothing to correct.\n")
	}
	_, err := io.WriteString(out, b.String())
	return err
}
