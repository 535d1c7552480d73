package check

import (
	"fmt"
	"io"
	"strings"

	"fingerproof/corpus/wording"
)

// mostListed is how many causes with their changes a summary lists; its counts are whole.
const mostListed = 50

// Standing counts pieces by what became of them.
type Standing struct {
	Pieces, Passed, Changed, Never, Gone, Failed int

	Whole int // changes of the collection, which are of no piece
}

// StandingOf counts pieces.
func StandingOf(pieces []Piece) (s Standing) {
	s.Pieces = len(pieces)
	for i := range pieces {
		switch p := &pieces[i]; {
		case p.Whole:
			s.Pieces--
			s.Whole += len(p.Changes)
		case p.Problem != "":
			s.Failed++
		case p.Gone:
			s.Gone++
		case p.Never:
			s.Never++
		case len(p.Changes) > 0:
			s.Changed++
		default:
			s.Passed++
		}
	}
	return s
}

// Differs says that something is not as it was passed.
func (s Standing) Differs() bool { return s.Changed+s.Never+s.Gone+s.Whole > 0 }

// String says it in one Line: "14 pieces, 1 changed, 2 never passed, 0 failed".
func (s Standing) String() string {
	out := fmt.Sprintf("%s, %d changed", wording.Count(s.Pieces, "piece"), s.Changed)
	if s.Whole > 0 {
		out += ", " + wording.Count(s.Whole, "change") + " of the collection"
	}
	if s.Never > 0 {
		out += fmt.Sprintf(", %d never passed", s.Never)
	}
	if s.Gone > 0 {
		out += fmt.Sprintf(", %d no longer in the collection", s.Gone)
	}
	return out + fmt.Sprintf(", %d failed", s.Failed)
}

// WriteSummary writes what a CI job shows when it is done, in Markdown.
func WriteSummary(out io.Writer, pieces []Piece) error {
	var b strings.Builder
	fmt.Fprintf(&b, "## Since it was passed for press: %s\n\n| Piece | State | Causes |\n|---|---|---|\n", StandingOf(pieces))
	for i := range pieces {
		p := &pieces[i]
		causes, counts := Causes(p.Changes)
		var of []string
		for _, c := range causes {
			of = append(of, fmt.Sprintf("%s: %d", c, counts[c]))
		}
		fmt.Fprintf(&b, "| %s | %s | %s |\n", cell(p.ID), cell(p.words()), cell(strings.Join(append(of, p.Notices...), "; ")))
	}
	listed, left := 0, 0
	for i := range pieces {
		o := pieces[i].Outcome("")
		for k := range o.Findings {
			if listed == mostListed {
				left++
				continue
			}
			if listed == 0 {
				b.WriteString("\n")
			}
			listed++
			fmt.Fprintf(&b, "- %s, %s\n", cell(o.Piece), cell(o.Findings[k].Sentence()))
		}
	}
	if left > 0 {
		fmt.Fprintf(&b, "\n%d more are not listed here.\n", left)
	}
	_, err := io.WriteString(out, b.String())
	return err
}

// words says what became of a piece.
func (p *Piece) words() string {
	switch {
	case p.Problem != "":
		return "could not be compared: " + strings.ReplaceAll(p.Problem, "\nhint:", "; hint:")
	case p.Gone:
		return "passed, and no longer in the collection"
	case p.Never:
		return "never passed"
	case len(p.Changes) > 0:
		return wording.Count(len(p.Changes), "change")
	case len(p.Inputs) > 0:
		return "as passed, though other inputs: " + wording.List(p.Inputs)
	}
	return "as passed"
}

// cell keeps Markdown and HTML from reading signs of theirs into a text.
func cell(s string) string {
	return strings.NewReplacer("\\", "\\\\", "|", "\\|", "*", "\\*", "_", "\\_", "`", "\\`", "<", "&lt;", "[", "\\[",
		"]", "\\]", "\n", " ").Replace(s)
}
