// Package handbook holds the chapters that `fingerproof handbook` prints. Every
// command in them is run by a test, in the order in which it stands.
package handbook

import (
	"embed"
	"strings"
)

//go:embed *.md
var files embed.FS

// Pictures are the drawings of the chapters, made by the program; a test makes them again.
//
//go:embed pictures
var Pictures embed.FS

// Chapter is one chapter, in Markdown.
type Chapter struct {
	Name  string // as typed: first-hour
	Title string // its heading
	Text  string
}

// Chapters gives all chapters in their order.
func Chapters() []Chapter {
	entries, err := files.ReadDir(".")
	if err != nil {
		panic(err) // the chapters are part of the program
	}
	var all []Chapter
	for _, e := range entries {
		text, err := files.ReadFile(e.Name())
		if err != nil {
			panic(err)
		}
		title, _, _ := strings.Cut(strings.TrimPrefix(string(text), "# "), "\n")
		_, name, _ := strings.Cut(strings.TrimSuffix(e.Name(), ".md"), "-")
		all = append(all, Chapter{Name: name, Title: title, Text: string(text)})
	}
	return all
}

// Step is a command that stands in a chapter behind "$ ", with the status that it says behind "# status" (else 0) and
// the lines below it, each of which has to stand somewhere in what the command prints.
type Step struct {
	Command string
	Status  string
	Says    []string
}

// Steps gives the commands of the chapter's console blocks.
func (c Chapter) Steps() []Step {
	var steps []Step
	inside := false
	for _, line := range strings.Split(c.Text, "\n") {
		switch {
		case strings.HasPrefix(line, "```"):
			inside = line == "```console"
		case !inside:
		case strings.HasPrefix(line, "$ "):
			command, status, found := strings.Cut(strings.TrimPrefix(line, "$ "), "   # status ")
			if !found {
				status = "0"
			}
			steps = append(steps, Step{Command: command, Status: status})
		case len(steps) > 0:
			last := &steps[len(steps)-1]
			last.Says = append(last.Says, line)
		}
	}
	return steps
}
