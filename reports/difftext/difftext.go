// Package difftext draws differences as text, piece by piece, one line each.
package difftext

import (
	"fmt"
	"io"
	"strings"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline/4_services/compare"
)

// Write draws a diff.
func Write(out io.Writer, d *compare.Diff) error {
	var b strings.Builder
	same, in := 0, inWhat(d)
	for i := range d.Pieces {
		p := &d.Pieces[i]
		switch {
		case p.Problem != "":
			fmt.Fprintf(&b, "%s: could not be compared: %s\n", p.ID, p.Problem)
			continue
		case len(p.Changes) == 0:
			same++
			if len(p.NotSaid) > 0 {
				fmt.Fprintf(&b, "%s: the same%s\n", p.ID, in)
				notSaid(&b, p)
			}
			continue
		}
		fmt.Fprintf(&b, "%s: %s\n", p.ID, tally(p))
		notSaid(&b, p)
		lines(&b, p)
	}
	fmt.Fprintf(&b, "%d of %d pieces are the same%s\nnot compared: %s\n", same, len(d.Pieces), in, strings.Join(d.NotCompared(), "; "))
	_, err := io.WriteString(out, b.String())
	return err
}

// inWhat says in what pieces were compared, as " in fingering and text": nobody looked whether they are the same in more.
func inWhat(d *compare.Diff) string {
	compared := d.Compared
	if len(compared) == 0 {
		compared = compare.Usual()
	}
	var classes []string
	for _, c := range compared {
		classes = append(classes, string(c))
	}
	return " in " + wording.List(classes)
}

// WriteBrief draws a diff of one piece without its name, and without what is not compared: for git, which names the file.
func WriteBrief(out io.Writer, d *compare.Diff) error {
	var b strings.Builder
	for i := range d.Pieces {
		p := &d.Pieces[i]
		switch {
		case p.Problem != "":
			fmt.Fprintf(&b, "  could not be compared: %s\n", strings.ReplaceAll(p.Problem, "\n", "\n  "))
		case len(p.Changes) == 0:
			b.WriteString("  the same in what is compared; `fingerproof diff` names what is not\n")
		default:
			notSaid(&b, p)
			lines(&b, p)
		}
	}
	_, err := io.WriteString(out, b.String())
	return err
}

// lines draws what differs in a piece.
func lines(b *strings.Builder, p *compare.Piece) {
	for _, line := range p.Lines() {
		fmt.Fprintf(b, "  %s: %s%s\n", line.Place(), what(line), values(line))
		if also := p.Examples(line, 2); len(also) > 0 {
			var places []string
			for _, at := range also {
				places = append(places, at.Words(true))
			}
			if left := len(line.Cause.Changes) - 1 - len(also); left > 0 {
				places = append(places, wording.Count(left, "more place"))
			}
			fmt.Fprintf(b, "    also %s\n", strings.Join(places, "; "))
		}
	}
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
	for _, line := range p.Lines() {
		count[line.Kind().Class()]++
	}
	var parts []string
	for _, class := range compare.Classes() {
		if n := count[class]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d in %s", n, class))
		}
	}
	return strings.Join(parts, ", ")
}

// what names the kind, and whether it is missing or added where its name does not say so.
func what(l compare.Line) string {
	if l.Cause != nil {
		return l.Cause.What()
	}
	words := l.Kind().Words()
	old, new := l.Values()
	lost, added := new == "" && old != "", old == "" && new != ""
	switch {
	case strings.HasSuffix(words, " missing") || strings.HasSuffix(words, " added"):
	case added:
		words += " added"
	case lost:
		words += " missing"
	}
	return words
}

func values(l compare.Line) string {
	old, new := l.Values()
	switch {
	case old == "" && new == "":
		return ""
	case old == "":
		return ": " + new
	case new == "":
		return ": " + old
	}
	return ": " + old + " → " + new
}
