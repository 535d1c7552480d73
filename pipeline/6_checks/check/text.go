package check

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"fingerproof/corpus/wording"
)

// WriteText tells what became of the pieces: for each the causes with how
// many changes they have, and below each cause its changes.
func WriteText(out io.Writer, pieces []Piece) error {
	var b strings.Builder
	for i := range pieces {
		p := &pieces[i]
		switch {
		case p.Problem != "":
			fmt.Fprintf(&b, "%s: could not be compared: %s\n", p.ID, p.Problem)
		case p.Gone:
			fmt.Fprintf(&b, "%s: was passed, and the collection has no such piece any more\n", p.ID)
		case p.Never:
			fmt.Fprintf(&b, "%s: never passed\n", p.ID)
		case len(p.Changes) == 0 && len(p.Inputs) > 0:
			fmt.Fprintf(&b, "%s: as passed, though other inputs: %s\n", p.ID, wording.List(p.Inputs))
		case len(p.Changes) == 0:
			fmt.Fprintf(&b, "%s: as passed\n", p.ID)
		default:
			writePiece(&b, p)
		}
	}
	_, err := io.WriteString(out, b.String())
	return err
}

func writePiece(b *strings.Builder, p *Piece) {
	causes, counts := Causes(p.Changes)
	fmt.Fprintf(b, "%s: %d changes\n", p.ID, len(p.Changes))
	for _, cause := range causes {
		fmt.Fprintf(b, "  cause %s: %d\n", cause, counts[cause])
		for i := range p.Changes {
			if c := &p.Changes[i]; c.Cause == cause {
				fmt.Fprintf(b, "    %s\n", c.Sentence())
			}
		}
	}
}

// Causes lists the causes of changes, the most frequent first, equal ones by name.
func Causes(changes []Change) ([]string, map[string]int) {
	counts := map[string]int{}
	var out []string
	for i := range changes {
		if counts[changes[i].Cause] == 0 {
			out = append(out, changes[i].Cause)
		}
		counts[changes[i].Cause]++
	}
	slices.SortFunc(out, func(a, b string) int {
		if counts[a] != counts[b] {
			return counts[b] - counts[a]
		}
		return strings.Compare(a, b)
	})
	return out, counts
}
