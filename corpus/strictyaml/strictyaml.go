// Package strictyaml reads hand-written YAML strictly: every fault is named
// with file, line and column, the line itself, and what could be meant; all
// faults of a file are reported at once.
package strictyaml

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
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

const maxBytes, maxDepth = 4 << 20, 20

// ReadFile reads a file that Parse may read: an ordinary one (a pipe would be
// waited for without end) of no more bytes than such files have.
func ReadFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		if to, link := os.Readlink(path); link == nil && errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("%s is a link to %s, which is not there\nhint: mend the link, or take it away", path, to)
		}
		return nil, err
	}
	if info.IsDir() {
		return nil, fmt.Errorf("%s is a folder, not a file", path)
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no ordinary file", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, maxBytes+1))
}

// Parse reads the one document of a file. A file without content gives a nil
// node.
func Parse(file string, data []byte) (*Reader, *yaml.Node, error) {
	r := &Reader{File: file}
	if len(data) > maxBytes {
		return nil, nil, fmt.Errorf("%s: the file has more than %d bytes; no such file is that long", file, maxBytes)
	}
	if !utf8.Valid(data) {
		return nil, nil, fmt.Errorf("%s: the file is not UTF-8 text\nhint: save it as UTF-8", file)
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	r.lines = splitLines(text)
	d := yaml.NewDecoder(strings.NewReader(text))
	var doc, second yaml.Node
	err := d.Decode(&doc)
	if errors.Is(err, io.EOF) {
		return r, nil, nil
	}
	if err != nil {
		return nil, nil, r.syntax(err, "tabs cannot indent; a value with : or # in it wants quotation marks")
	}
	switch err := d.Decode(&second); {
	case err == nil:
		r.Fault(&second, "a second document begins here", "one file holds one document; take the --- out")
		return nil, nil, r.Err()
	case !errors.Is(err, io.EOF): // what follows the document is not even one
		return nil, nil, r.syntax(err, "what follows --- or ... would be a second document, and one file holds one")
	}
	if len(doc.Content) == 0 || doc.Content[0].Tag == "!!null" && doc.Content[0].Value == "" {
		return r, nil, nil
	}
	return r, doc.Content[0], nil
}

// Mapping calls each for every key of a mapping. References, merge keys, tags,
// keys that are no words and keys given twice are faults.
func (r *Reader) Mapping(n *yaml.Node, what string, each func(key string, keyNode, value *yaml.Node)) {
	if !r.plain(n) {
		return
	}
	if n.Kind != yaml.MappingNode {
		r.Fault(
			n, fmt.Sprintf("%s should be a list of keys with values, and is %s", what, kindName(n)),
			"write `key: value` lines below it, indented by two spaces",
		)
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
		if k.Tag == "!!merge" {
			r.reference(k)
			continue
		}
		if !r.plain(k) {
			continue
		}
		if k.Kind != yaml.ScalarNode || k.Tag == "!!null" {
			r.Fault(k, "a key should be a word, and is "+kindName(k), "")
			continue
		}
		if line, twice := seen[k.Value]; twice {
			r.Fault(
				k, fmt.Sprintf("%s stands here a second time; the first is in line %d", Quote(k.Value), line),
				"keep one of them",
			)
			continue
		}
		seen[k.Value] = k.Line
		if v.Kind == yaml.AliasNode {
			r.reference(k)
			continue
		}
		if r.plain(v) {
			each(k.Value, k, v)
		}
	}
}

// List calls each for every entry of a list.
func (r *Reader) List(n *yaml.Node, what string, each func(*yaml.Node)) {
	if !r.plain(n) {
		return
	}
	if n.Kind != yaml.SequenceNode {
		r.Fault(
			n, fmt.Sprintf("%s should be a list, and is %s", what, kindName(n)),
			"one entry a line, each beginning with a dash",
		)
		return
	}
	for _, e := range n.Content {
		if r.plain(e) {
			each(e)
		}
	}
}

// plain notes what no file read here may hold: references, which make a short
// file long and hide where a value comes from, and tags, which change what
// stands there.
func (r *Reader) plain(n *yaml.Node) bool {
	switch {
	case n.Kind == yaml.AliasNode:
		r.reference(n)
	case n.Style&yaml.TaggedStyle != 0:
		r.Fault(n, "tags such as "+Quote(n.Tag)+" are not read here", "write the value alone")
	default:
		return true
	}
	return false
}

func (r *Reader) reference(n *yaml.Node) {
	r.Fault(n, "references to other places of the file are not read here", "write the value itself")
}

// Unknown notes a key that does not exist, with the nearest that do.
func (r *Reader) Unknown(key *yaml.Node, known []string) {
	const newer = "; a newer version of the program may know more (`fingerproof version`)"
	hint := "known here: " + strings.Join(known, ", ") + newer
	if near := Nearest(key.Value, known); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	} else if len(known) > 30 {
		hint = "`fingerproof policy schema` lists every key" + newer
	}
	r.Fault(key, "unknown key "+Quote(key.Value), hint)
}

// Text reads a scalar as text.
func (r *Reader) Text(n *yaml.Node, what string) (string, bool) {
	if !r.plain(n) {
		return "", false
	}
	if n.Kind != yaml.ScalarNode || n.Tag == "!!null" {
		r.Fault(n, fmt.Sprintf("%s should be text, and is %s", what, kindName(n)), "")
		return "", false
	}
	return n.Value, true
}

// OneOf reads one of a closed list of words.
func (r *Reader) OneOf(n *yaml.Node, what string, allowed []string) (string, bool) {
	if !r.plain(n) {
		return "", false
	}
	hint := "one of: " + strings.Join(allowed, ", ")
	if n.Kind != yaml.ScalarNode || n.Tag == "!!null" {
		r.Fault(n, fmt.Sprintf("%s should be a word, and is %s", what, kindName(n)), hint)
		return "", false
	}
	s := n.Value
	if !slices.Contains(allowed, s) {
		if near := Nearest(s, allowed); near != "" {
			hint = fmt.Sprintf("did you mean %q? (%s)", near, hint)
		}
		r.Fault(n, fmt.Sprintf("%s cannot be %s", what, Quote(s)), hint)
		return "", false
	}
	return s, true
}

// Bool reads true or false.
func (r *Reader) Bool(n *yaml.Node, what string) (bool, bool) {
	if !r.plain(n) {
		return false, false
	}
	if n.Kind == yaml.ScalarNode && n.Tag == "!!bool" {
		return n.Value == "true" || n.Value == "True" || n.Value == "TRUE", true
	}
	r.Fault(
		n, fmt.Sprintf("%s should be true or false, and is %s", what, kindName(n)),
		"without quotation marks; yes, no, on and off are plain words here",
	)
	return false, false
}

// Int reads a whole number within limits.
func (r *Reader) Int(n *yaml.Node, what string, low, high int) (int, bool) {
	if !r.plain(n) {
		return 0, false
	}
	v, err := strconv.Atoi(n.Value)
	if n.Kind != yaml.ScalarNode || n.Tag != "!!int" || err != nil {
		r.Fault(
			n, fmt.Sprintf("%s should be a whole number, and is %s", what, kindName(n)),
			fmt.Sprintf("from %d to %d", low, high),
		)
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
	case n.Tag == "!!null":
		return "empty"
	}
	return Quote(n.Value)
}
