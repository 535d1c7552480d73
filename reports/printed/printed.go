// Package printed makes pages for print of Markdown: the front and back matter of an edition, as HTML and as PDF.
package printed

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/text"
)

// Text is a document to be printed.
type Text struct {
	Title    string
	Language string // as the web names it: en, de, fr, it
	Markdown []byte // CommonMark with tables; markup of other kinds in it is left out
}

var reader = goldmark.New(goldmark.WithExtensions(extension.Table))

func parse(markdown []byte) ast.Node { return reader.Parser().Parse(text.NewReader(markdown)) }

//go:embed page.html
var page string

var pageTemplate = template.Must(template.New("page").Parse(page))

// HTML is a page that needs no other file and is set for print.
func HTML(t Text) ([]byte, error) {
	var body, out bytes.Buffer
	if err := reader.Renderer().Render(&body, t.Markdown, withoutImages(parse(t.Markdown))); err != nil {
		return nil, fmt.Errorf("setting %s as a page: %w", t.Title, err)
	}
	err := pageTemplate.Execute(&out, struct {
		Text
		Body template.HTML // by the renderer, which escapes all text and leaves out raw markup
	}{t, template.HTML(body.String())})
	if err != nil {
		return nil, fmt.Errorf("setting %s as a page: %w", t.Title, err)
	}
	return out.Bytes(), nil
}

// withoutImages puts the words of pictures in their place: a page needs no other file.
func withoutImages(doc ast.Node) ast.Node {
	var images []ast.Node
	// The function never fails.
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering && n.Kind() == ast.KindImage {
			images = append(images, n)
		}
		return ast.WalkContinue, nil
	})
	for _, n := range images {
		parent := n.Parent()
		for c := n.FirstChild(); c != nil; c = n.FirstChild() {
			parent.InsertBefore(parent, n, c)
		}
		parent.RemoveChild(parent, n)
	}
	return doc
}
