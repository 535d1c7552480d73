package main

import (
	"fmt"
	"path"
	"path/filepath"

	"fingerproof/corpus"
	"fingerproof/pipeline/4_stages/05_decide"
)

// readDecisions reads what the editors settled of a piece. Files are named
// relative to the collection, so that results say the same on every machine.
func readDecisions(c *corpus.Collection, piece string) ([]decide.Decision, error) {
	out, err := decide.Read(filepath.Join(c.Root, decide.Folder), piece)
	for i := range out {
		out[i].File = path.Join(decide.Folder, filepath.Base(out[i].File))
	}
	return out, err
}

// tellStrays names files of decisions that belong to no piece: nothing that
// was settled may be left out unseen.
func tellStrays(env *environment, c *corpus.Collection) error {
	if c.Manifest == "" && len(c.Pieces) == 1 { // one score of a folder: the others' files are no strays
		return nil
	}
	var ids []string
	for _, p := range c.Pieces {
		ids = append(ids, p.ID)
	}
	strays, err := decide.Strays(filepath.Join(c.Root, decide.Folder), ids)
	for _, s := range strays {
		fmt.Fprintf(env.Stderr, "fingerproof: %s/%s belongs to no piece of the collection; nothing of it is applied\n", decide.Folder, s)
	}
	return err
}
