package policies

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"fingerproof/corpus/strictyaml"

	"golang.org/x/text/unicode/norm"
	"gopkg.in/yaml.v3"
)

var (
	sizeForm   = regexp.MustCompile(`^(none|xx-small|x-small|small|medium|large|x-large|xx-large|[1-9]\d?(\.\d+)?)$`)
	colourForm = regexp.MustCompile(`^(none|#[0-9A-Fa-f]{6})$`)
)

const firstYear, lastYear = 1500, 2100

// read takes a value in its one written form.
func (k Key) read(r *strictyaml.Reader, n *yaml.Node) (string, bool) {
	switch k.kind {
	case word:
		return r.OneOf(n, k.Path, k.Values)
	case yesNo:
		v, ok := r.Bool(n, k.Path)
		return strconv.FormatBool(v), ok
	case number:
		if k.orZero && n.Kind == yaml.ScalarNode && n.Value == "0" {
			return "0", true
		}
		low := k.Low
		if k.orZero && low == 1 {
			low = 0
		}
		v, ok := r.Int(n, k.Path, low, k.High)
		return strconv.Itoa(v), ok
	case span:
		return k.readSpan(r, n)
	case size:
		s, ok := pattern(r, n, k.Path, sizeForm, "points as in 7.5, or small, medium, large, none")
		if strings.Contains(s, ".") { // 7.50 looks like 7.5, and 7.0 like 7
			s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
		}
		return s, ok
	case colour:
		s, ok := pattern(r, n, k.Path, colourForm, `in quotation marks, as in "#1a3c8b", or none`)
		if s != "none" {
			s = strings.ToUpper(s) // MusicXML knows capitals only
		}
		return s, ok
	}
	s, ok := r.Text(n, k.Path)
	if ok && n.Tag != "!!str" { // true, 1840 or 12:30 mean something else to YAML
		r.Fault(n, k.Path+" should be text, and is "+strictyaml.Quote(s), "put it in quotation marks")
		return "", false
	}
	return s, ok
}

func pattern(r *strictyaml.Reader, n *yaml.Node, what string, form *regexp.Regexp, hint string) (string, bool) {
	s, ok := r.Text(n, what)
	if ok && !form.MatchString(s) {
		r.Fault(n, what+" cannot be "+strictyaml.Quote(s), hint)
		return "", false
	}
	return s, ok
}

func (k Key) readSpan(r *strictyaml.Reader, n *yaml.Node) (string, bool) {
	if n.Kind != yaml.SequenceNode || len(n.Content) != 2 {
		r.Fault(n, k.Path+" should be a range of two numbers", "write it as [60, 72]")
		return "", false
	}
	low, ok := r.Int(n.Content[0], k.Path, k.Low, k.High)
	high, ok2 := r.Int(n.Content[1], k.Path, k.Low, k.High)
	if ok && ok2 && low > high {
		r.Fault(n, fmt.Sprintf("%s runs from %d down to %d", k.Path, low, high), "the slower number first")
		return "", false
	}
	return fmt.Sprintf("[%d, %d]", low, high), ok && ok2
}

// fits notes where a name that the user gives is none that could ever be
// looked for.
func (k Key) fits(r *strictyaml.Reader, n *yaml.Node, name string) bool {
	switch k.named {
	case tempoWord:
		if plain := plainWords(name); plain != norm.NFC.String(name) {
			hint := "write it without marks of punctuation"
			if plain != "" {
				hint = fmt.Sprintf("write %q: small letters, single spaces, no marks of punctuation", plain)
			}
			r.Fault(n, "no tempo word is ever looked for as "+strictyaml.Quote(name), hint)
			return false
		}
	case year:
		if y, err := strconv.Atoi(name); err != nil || y < firstYear || y > lastYear || strconv.Itoa(y) != name {
			r.Fault(n, strictyaml.Quote(name)+" is not a year", fmt.Sprintf(
				"a period is named by the year it ends in, from %d to %d", firstYear, lastYear,
			))
			return false
		}
	}
	return true
}

// plainWords is a text as tempo words are looked for in it: small letters in
// composed form, one space between words, no marks of punctuation.
func plainWords(s string) string {
	words := strings.FieldsFunc(strings.ToLower(norm.NFC.String(s)), func(c rune) bool {
		return strings.ContainsRune(" \t\r\n\u00a0\u202f,.;:()[]!-–", c)
	})
	return strings.Join(words, " ")
}
