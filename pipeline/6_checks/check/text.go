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
		for _, n := range p.Notices {
			fmt.Fprintf(&b, "%s: %s\n", p.ID, n)
		}
		switch {
		case p.Whole:
			writePiece(&b, p)
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
	fmt.Fprintf(b, "%s: %s\n", p.ID, p.words())
	for _, cause := range causes {
		fmt.Fprintf(b, "  cause %s: %s\n", cause, wording.Count(counts[cause], "change"))
		var of []Change
		for i := range p.Changes {
			switch c := &p.Changes[i]; {
			case c.Cause != cause:
			case c.Kind == Whose:
				of = append(of, *c)
			default:
				fmt.Fprintf(b, "    %s\n", c.Sentence())
			}
		}
		for _, s := range SumsOfWhose(of) {
			fmt.Fprintf(b, "    %s\n", s.Sentence())
		}
	}
}

// WhoseSum is how many digits went from one responsibility to another.
type WhoseSum struct {
	Old, New string // "editor:AB"; "" for open
	Count    int
	From, To string // measures, as printed
	Index    int    // of the first
}

// SumsOfWhose sums changes of responsibility up, in order of their first.
func SumsOfWhose(changes []Change) []WhoseSum {
	var out []WhoseSum
	for i := range changes {
		c := &changes[i]
		if c.Kind != Whose {
			continue
		}
		k := slices.IndexFunc(out, func(s WhoseSum) bool { return s.Old == c.Old && s.New == c.New })
		if k < 0 {
			k = len(out)
			out = append(out, WhoseSum{Old: c.Old, New: c.New, From: c.Measure, Index: c.Index})
		}
		out[k].Count++
		out[k].To = c.Measure
	}
	return out
}

// Place names the measures of a sum.
func (s *WhoseSum) Place() string {
	if s.From == s.To {
		return "m. " + s.From
	}
	return "mm. " + s.From + "–" + s.To
}

// Words names a responsibility as people do.
func (s *WhoseSum) Words() (was, is string) { return whoseWords(s.Old), whoseWords(s.New) }

// Sentence says the sum in one line.
func (s *WhoseSum) Sentence() string {
	was, is := s.Words()
	return fmt.Sprintf("%s: at %s the digit was %s, is %s", s.Place(), wording.Count(s.Count, "note"), was, is)
}

func whoseWords(whose string) string {
	who, by, named := strings.Cut(whose, ":")
	switch {
	case whose == "", who == "open":
		return "open"
	case who == carriedHere:
		return "carried from a return, and not decided"
	case named:
		return fmt.Sprintf("the %s's (%s)", who, by)
	case who == "earlier":
		return "an earlier hand's"
	case who == "editor":
		return "the editor's (no initials)"
	}
	return "the " + who + "'s"
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
