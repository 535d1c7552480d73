package main

import (
	"io"
	"path/filepath"
	"strings"

	"fingerproof/pipeline"
	"fingerproof/reports/commentary"
)

// writeCommentary writes the editorial commentary in the form that the path's
// ending asks for: a page for .html, else Markdown.
func writeCommentary(out io.Writer, c *commentary.Commentary, path string) error {
	data := c.Markdown()
	if ext := strings.ToLower(filepath.Ext(path)); ext == ".html" || ext == ".htm" {
		var err error
		if data, err = c.HTML(); err != nil {
			return err
		}
	}
	_, err := out.Write(data)
	return err
}

// beatsOf counts beats as the score has them; nil where the score was not read.
func beatsOf(w *pipeline.PieceRun) commentary.Beats {
	if w.Score == nil {
		return nil
	}
	return commentary.BeatsIn(w.Policy.Words(), w.Score)
}
