// Package strictyaml reads hand-written YAML strictly: every fault is named
// with file, line and column, the line itself, and what could be meant; all
// faults of a file are told at once.
package strictyaml

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Reader walks one file and gathers its faults.
type Reader struct {
	File   string
	lines  []string
	faults []fault
	depth  int
}

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

const maxBytes, maxDepth = 4 << 20, 20

// Parse reads the one document of a file. A file without content gives a nil
// node.
func Parse(file string, data []byte) (*Reader, *yaml.Node, error) {
	r := &Reader{File: file}
	if len(data) > maxBytes {
		return nil, nil, fmt.Errorf("%s: the file has %d bytes; no such file is that long", file, len(data))
	}
	if !utf8.Valid(data) {
		return nil, nil, fmt.Errorf("%s: the file is not UTF-8 text\nhint: save it as UTF-8", file)
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	r.lines = strings.Split(strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n"), "\n")
	d := yaml.NewDecoder(bytes.NewReader([]byte(text)))
	var doc, second yaml.Node
	err := d.Decode(&doc)
	if errors.Is(err, io.EOF) {
		return r, nil, nil
	}
	if err != nil {
		line := syntaxLine(err)
		r.faults = append(r.faults, fault{line: line, column: r.firstColumn(line), problem: "this is not well-formed YAML: " + syntaxProblem(err), hint: "tabs cannot indent; a value with : or # in it wants quotation marks"})
		return nil, nil, r.Err()
	}
	if err := d.Decode(&second); err == nil {
		r.Fault(&second, "a second document begins here", "one file holds one document; take the --- out")
		return nil, nil, r.Err()
	}
	if len(doc.Content) == 0 || doc.Content[0].Tag == "!!null" {
		return r, nil, nil
	}
	return r, doc.Content[0], nil
}

func syntaxLine(err error) int {
	_, after, found := strings.Cut(err.Error(), "line ")
	if !found {
		return 1
	}
	n, _ := strconv.Atoi(strings.TrimRight(strings.SplitN(after, ":", 2)[0], " "))
	return max(n, 1)
}

func syntaxProblem(err error) string {
	s := strings.TrimPrefix(err.Error(), "yaml: ")
	if strings.HasPrefix(s, "line ") {
		if _, after, ok := strings.Cut(s, ": "); ok {
			return after
		}
	}
	return s
}

func (r *Reader) firstColumn(line int) int {
	if line < 1 || line > len(r.lines) {
		return 1
	}
	s := r.lines[line-1]
	return len(s) - len(strings.TrimLeft(s, " \t")) + 1
}

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
		if a.line != b.line {
			return a.line - b.line
		}
		return a.column - b.column
	})
	var b strings.Builder
	for i, f := range r.faults {
		if i > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "%s:%d:%d: %s", r.File, f.line, f.column, f.problem)
		if f.line <= len(r.lines) && strings.TrimSpace(r.lines[f.line-1]) != "" {
			line := strings.ReplaceAll(r.lines[f.line-1], "\t", " ")
			fmt.Fprintf(&b, "\n  %s\n  %s^", line, strings.Repeat(" ", min(f.column-1, utf8.RuneCountInString(line))))
		}
		if f.hint != "" {
			b.WriteString("\nhint: " + f.hint)
		}
	}
	return &Errors{b.String()}
}

// Place prints "file:line" of a node.
func (r *Reader) Place(n *yaml.Node) string { return fmt.Sprintf("%s:%d", r.File, n.Line) }

// Mapping calls each for every key of a mapping. Aliases, merge keys and keys
// given twice are faults.
func (r *Reader) Mapping(n *yaml.Node, what string, each func(key string, keyNode, value *yaml.Node)) {
	if n.Kind != yaml.MappingNode {
		r.Fault(n, fmt.Sprintf("%s should be a list of keys with values, and is %s", what, kindName(n)), "write `key: value` lines below it, indented by two spaces")
		return
	}
	if r.depth++; r.depth > maxDepth {
		r.Fault(n, "keys stand too deep in each other", "")
		r.depth--
		return
	}
	defer func() { r.depth-- }()
	seen := map[string]int{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if v.Kind == yaml.AliasNode || k.Kind == yaml.AliasNode || k.Tag == "!!merge" {
			r.Fault(k, "references to other places of the file are not read here", "write the value itself")
			continue
		}
		if line, twice := seen[k.Value]; twice {
			r.Fault(k, fmt.Sprintf("%q stands here a second time; the first is in line %d", k.Value, line), "keep one of them")
			continue
		}
		seen[k.Value] = k.Line
		each(k.Value, k, v)
	}
}

// Unknown notes a key that does not exist, with the nearest that do.
func (r *Reader) Unknown(key *yaml.Node, known []string) {
	hint := "known here: " + strings.Join(known, ", ")
	if near := Nearest(key.Value, known); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	} else if len(known) > 14 {
		hint = "`fingerproof policy schema` lists every key"
	}
	r.Fault(key, fmt.Sprintf("unknown key %q", key.Value), hint)
}

// Text reads a scalar as text.
func (r *Reader) Text(n *yaml.Node, what string) (string, bool) {
	if n.Kind != yaml.ScalarNode || n.Tag == "!!null" {
		r.Fault(n, fmt.Sprintf("%s should be text, and is %s", what, kindName(n)), "")
		return "", false
	}
	return n.Value, true
}

// OneOf reads one of a closed list of words.
func (r *Reader) OneOf(n *yaml.Node, what string, allowed []string) (string, bool) {
	s, ok := r.Text(n, what)
	if !ok {
		return "", false
	}
	if !slices.Contains(allowed, s) {
		hint := "one of: " + strings.Join(allowed, ", ")
		if near := Nearest(s, allowed); near != "" {
			hint = fmt.Sprintf("did you mean %q? (%s)", near, hint)
		}
		r.Fault(n, fmt.Sprintf("%s cannot be %q", what, s), hint)
		return "", false
	}
	return s, true
}

// Bool reads true or false.
func (r *Reader) Bool(n *yaml.Node, what string) (bool, bool) {
	if n.Kind == yaml.ScalarNode && n.Tag == "!!bool" {
		return n.Value == "true" || n.Value == "True" || n.Value == "TRUE", true
	}
	r.Fault(n, fmt.Sprintf("%s should be true or false, and is %s", what, kindName(n)), "")
	return false, false
}

// Int reads a whole number within limits.
func (r *Reader) Int(n *yaml.Node, what string, low, high int) (int, bool) {
	v, err := strconv.Atoi(n.Value)
	if n.Kind != yaml.ScalarNode || n.Tag != "!!int" || err != nil {
		r.Fault(n, fmt.Sprintf("%s should be a whole number, and is %s", what, kindName(n)), fmt.Sprintf("from %d to %d", low, high))
		return 0, false
	}
	if v < low || v > high {
		r.Fault(n, fmt.Sprintf("%s cannot be %d", what, v), fmt.Sprintf("from %d to %d", low, high))
		return 0, false
	}
	return v, true
}

func kindName(n *yaml.Node) string {
	switch {
	case n.Kind == yaml.MappingNode:
		return "a list of keys"
	case n.Kind == yaml.SequenceNode:
		return "a list"
	case n.Kind == yaml.AliasNode:
		return "a reference"
	case n.Tag == "!!null":
		return "empty"
	}
	return fmt.Sprintf("%q", n.Value)
}

// Nearest gives the word of the list that differs least, "" where none is near.
func Nearest(word string, list []string) string {
	best, least := "", max(2, utf8.RuneCountInString(word)/3)+1
	for _, w := range list {
		if d := distance(word, w); d < least {
			best, least = w, d
		}
	}
	return best
}

// distance counts the letters to insert, drop or replace (Levenshtein).
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	if len(s) > 100 || len(t) > 100 {
		return 100
	}
	row := make([]int, len(t)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(s); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(t); j++ {
			cost := 1
			if s[i-1] == t[j-1] {
				cost = 0
			}
			diagonal, row[j] = row[j], min(row[j]+1, row[j-1]+1, diagonal+cost)
		}
	}
	return row[len(t)]
}
