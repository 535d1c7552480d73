package strictyaml

import (
	"cmp"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"
	"unicode"

	"gopkg.in/yaml.v3"
)

type fault struct {
	line, column  int
	problem, hint string
}

// Errors are all faults of one file, in order of their places.
type Errors struct {
	text string
}

// Error prints each fault as "file:line:col: problem", the line with a caret
// under the place, and a hint where there is one.
func (e *Errors) Error() string { return e.text }

// maxReported is how many faults of one file are reported: nobody mends more at once.
const maxReported = 20

// maxShown is how many characters of a line, or of a wrong value, are shown.
const maxShown = 100

// Fault notes a fault at a node.
func (r *Reader) Fault(n *yaml.Node, problem, hint string) {
	r.faults = append(r.faults, fault{max(n.Line, 1), max(n.Column, 1), problem, hint})
}

// Err gives all faults noted so far as one error, nil if there are none.
func (r *Reader) Err() error {
	if len(r.faults) == 0 {
		return nil
	}
	slices.SortStableFunc(r.faults, func(a, b fault) int {
		return cmp.Or(cmp.Compare(a.line, b.line), cmp.Compare(a.column, b.column))
	})
	var b strings.Builder
	for i, f := range r.faults {
		if i == maxReported {
			fmt.Fprintf(&b, "\nand %d more faults in %s", len(r.faults)-i, r.File)
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "%s:%d:%d: %s", r.File, f.line, f.column, f.problem)
		if f.line <= len(r.lines) && strings.TrimSpace(r.lines[f.line-1]) != "" {
			line, caret := excerpt(r.lines[f.line-1], f.column-1)
			fmt.Fprintf(&b, "\n  %s\n  %s^", line, strings.Repeat(" ", caret))
		}
		if f.hint != "" {
			b.WriteString("\nhint: " + f.hint)
		}
	}
	return &Errors{b.String()}
}

// syntax notes what the YAML library says of a file it cannot read. It names
// a line only.
func (r *Reader) syntax(err error, hint string) error {
	line, problem := 1, strings.TrimPrefix(err.Error(), "yaml: ")
	if after, found := strings.CutPrefix(problem, "line "); found {
		if number, what, ok := strings.Cut(after, ": "); ok {
			if n, err := strconv.Atoi(number); err == nil {
				line, problem = max(n, 1), what
			}
		}
	}
	if strings.Contains(problem, "did not find expected") {
		if at := r.faultyItem(); at > line {
			line, problem = at, problem+", in what begins here"
		}
	}
	// A key without its colon is found out at the line after it: what is missing stands before.
	if line >= 2 && line <= len(r.lines)+1 && strings.Contains(problem, "mapping values are not allowed") {
		before := strings.TrimSpace(r.lines[line-2])
		if before != "" && !strings.HasPrefix(before, "#") && !strings.Contains(before, ":") {
			line, problem = line-1, "a colon is missing"
			hint = "a key and what it says have a colon between them, and a space behind it: title: Nocturne"
		}
	}
	column := 1
	if line <= len(r.lines) {
		s := r.lines[line-1]
		column += len(s) - len(strings.TrimLeft(s, " \t"))
	}
	r.faults = append(r.faults, fault{line, column, "this is not well-formed YAML: " + problem, hint})
	return r.Err()
}

// faultyItem is the line at which the first item of the file's outermost list begins that cannot be read, 0 where that is not
// known: the library names the beginning of the list.
func (r *Reader) faultyItem() int {
	indent, starts := -1, []int{}
	for i, l := range r.lines {
		rest := strings.TrimLeft(l, " ")
		if !strings.HasPrefix(rest, "- ") {
			continue
		}
		if n := len(l) - len(rest); indent < 0 {
			indent = n
		}
		if len(l)-len(rest) == indent {
			starts = append(starts, i)
		}
	}
	reads := func(to int) bool { // what stands before a line
		var doc yaml.Node
		return yaml.Unmarshal([]byte(strings.Join(r.lines[:to], "\n")+"\n"), &doc) == nil
	}
	ends := append(slices.Clone(starts[min(1, len(starts)):]), len(r.lines))
	if len(starts) == 0 || !reads(starts[0]) {
		return 0
	}
	k := sort.Search(len(ends), func(k int) bool { return !reads(ends[k]) })
	if k == len(ends) {
		return 0
	}
	return starts[k] + 1
}

// excerpt shows a line around a place (characters from 0) and where the caret
// stands under it. What would move the cursor of a terminal is replaced.
func excerpt(line string, place int) (shown string, caret int) {
	runes := []rune(strings.ReplaceAll(line, "\t", " "))
	for i, c := range runes {
		if unsafeToPrint(c) {
			runes[i] = unicode.ReplacementChar
		}
	}
	place = min(place, len(runes))
	from, to := 0, len(runes)
	if to > maxShown {
		from = max(0, min(place-maxShown/2, len(runes)-maxShown))
		to = from + maxShown
	}
	shown, caret = string(runes[from:to]), place-from
	if from > 0 {
		shown, caret = "…"+shown, caret+1
	}
	if to < len(runes) {
		shown += "…"
	}
	return strings.TrimRight(shown, " "), caret
}

func unsafeToPrint(c rune) bool {
	return unicode.IsControl(c) || unicode.In(c, unicode.Cf, unicode.Zl, unicode.Zp)
}

// Quote shows a value in quotation marks, a long one by its beginning.
func Quote(s string) string {
	if runes := []rune(s); len(runes) > maxShown {
		s = string(runes[:maxShown]) + "…"
	}
	return strconv.Quote(s)
}

// splitLines splits as YAML counts lines.
func splitLines(text string) []string {
	return strings.Split(lineBreaks.Replace(text), "\n")
}

var lineBreaks = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u0085", "\n", "\u2028", "\n", "\u2029", "\n")
