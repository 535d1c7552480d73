// Package rulepage writes what rules of lint check, each with an example that is reported and the same put right.
package rulepage

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"

	"fingerproof/rules/lint"
)

//go:embed page.html
var pageSource string

var pageTemplate = template.Must(template.New("page").Parse(pageSource))

// Rule is a rule with its example; Example is nil where there is none.
type Rule struct {
	*lint.Rule
	Example *Example
}

// Example is music that is reported, what is said of it, and the same put right.
type Example struct {
	Wrong, Right Music
	Says         []string // the findings, each with its place
	Beside       []Beside
}

// Beside is what stands beside the score and makes the fault: a house style, decisions, a witness. Text is its lines, or
// its music told.
type Beside struct {
	Title   string
	Witness bool
	SVG     template.HTML
	Text    []string
}

// Witnesses are those of what stands beside the score.
func (e *Example) Witnesses() (out []Beside) {
	for _, b := range e.Beside {
		if b.Witness {
			out = append(out, b)
		}
	}
	return out
}

// Music is some measures, drawn (SVG) or told, a hand a line.
type Music struct {
	SVG  template.HTML
	Text []string
	File []string // what stands in the file here and not in the other example
}

// Page writes rules as a page that refers to nothing outside. css goes with the drawings; notation says why there are
// none, "" where there are.
func Page(rules []Rule, css, notation string) ([]byte, error) {
	var b bytes.Buffer
	if err := pageTemplate.Execute(&b, struct {
		Rules    []Rule
		CSS      template.CSS
		Notation string
	}{rules, template.CSS(css), notation}); err != nil {
		return nil, fmt.Errorf("writing the page of the rules: %w", err)
	}
	return b.Bytes(), nil
}
