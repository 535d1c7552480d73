package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/files"
	"fingerproof/pipeline"
	"fingerproof/reports/commentary"
	"fingerproof/reports/printed"
)

// isMatter says that front or back matter of the edition is asked for.
func (r request) isMatter() bool { return r.format == "commentary" || r.format == "preface" }

// writeMatter writes the editorial commentary, or the preface, in the form that
// the path's ending asks for: a page for .html, sheets for .pdf, else Markdown.
func writeMatter(out io.Writer, c *commentary.Commentary, r request) (err error) {
	text := printed.Text{Title: c.Heading(), Language: c.Lang()}
	if r.format == "preface" {
		text.Title, text.Markdown = c.Say("preface"), c.Preface()
	} else {
		text.Markdown = c.Markdown()
	}
	data := text.Markdown
	switch ext := strings.ToLower(filepath.Ext(r.path)); {
	case ext == ".pdf":
		data, err = printed.PDF(text)
	case ext != ".html" && ext != ".htm":
	case r.format == "preface" || len(c.BackMatter) > 0:
		data, err = printed.HTML(text)
	default:
		data, err = c.HTML()
	}
	if err != nil {
		return err
	}
	_, err = out.Write(data)
	return err
}

// withOwnTexts gives a commentary the texts that the manifest names.
func withOwnTexts(c *commentary.Commentary, from *corpus.Collection) error {
	for _, list := range []struct {
		names []string
		into  *[]string
	}{{from.FrontMatter, &c.FrontMatter}, {from.BackMatter, &c.BackMatter}} {
		for _, name := range list.names {
			data, err := files.ReadNamed(from.Path(name), files.TextLimit)
			if err != nil {
				return fmt.Errorf("reading a text that the manifest names: %w", err)
			}
			*list.into = append(*list.into, string(data))
		}
	}
	return nil
}

// beatsOf counts beats as the score has them; nil where the score was not read.
func beatsOf(w *pipeline.PieceRun) commentary.Beats {
	if w.Score == nil {
		return nil
	}
	return commentary.BeatsIn(w.Policy.Words(), w.Score)
}
