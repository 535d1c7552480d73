package main

import (
	"os"
	"path"
	"path/filepath"
	"strconv"
	"strings"

	"fingerproof/corpus"

	"gopkg.in/yaml.v3"
)

// draftsFolder is where init looks for the editor's own copies, below the folder of the collection.
const draftsFolder = "drafts"

// draftsIn finds, by score, the drafts with which an edition begins: the editor's copy of the same file name, else the
// digits that stand in the score. by are their initials, "" for no draft.
func draftsIn(c *corpus.Collection, seen *scoresSeen, by string) map[string]corpus.Draft {
	out := map[string]corpus.Draft{}
	if by == "" {
		return out
	}
	for _, p := range c.Pieces {
		if copied := copyOf(seen.dir, path.Base(p.Score)); copied != "" {
			out[p.Score] = corpus.Draft{By: by, Score: copied}
		} else if seen.of(p.Score).count > 0 {
			out[p.Score] = corpus.Draft{By: by}
		}
	}
	return out
}

// copyOf is the editor's copy of a score by its file name: the same name, else the same name with another ending of
// scores; "" for none.
func copyOf(dir, name string) string {
	stem := strings.TrimSuffix(name, path.Ext(name))
	for _, ending := range []string{path.Ext(name), ".musicxml", ".mxl", ".xml", ".mei"} {
		copied := path.Join(draftsFolder, stem+ending)
		if info, err := os.Stat(filepath.Join(dir, filepath.FromSlash(copied))); err == nil && info.Mode().IsRegular() {
			return copied
		}
	}
	return ""
}

// draftLine is a draft as the manifest has it.
func draftLine(d corpus.Draft) string {
	text := "by: " + d.By
	if d.Score != "" {
		name, err := yaml.Marshal(d.Score)
		if err != nil {
			return ""
		}
		text += ", score: " + strings.TrimSpace(string(name))
	}
	return "    draft: {" + text + "}\n"
}

// startsWith says how many pieces begin with a draft.
func startsWith(pieces int) string {
	switch pieces {
	case 0:
		return "No piece begins"
	case 1:
		return "One piece begins"
	}
	return strconv.Itoa(pieces) + " pieces begin"
}
