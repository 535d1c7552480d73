package main

import (
	"fmt"
	"path"
	"path/filepath"

	"fingerproof/corpus"
	"fingerproof/pipeline/3_records/decision"
)

// readDecisions reads what the editors decided on a piece. Files are named
// relative to the collection, so that results say the same on every machine.
func readDecisions(c *corpus.Collection, piece string) ([]decision.Decision, error) {
	out, err := decision.Read(filepath.Join(c.Root, decision.Folder), piece)
	for i := range out {
		out[i].File = path.Join(decision.Folder, filepath.Base(out[i].File))
	}
	return out, err
}

// warnOfStrays names files of decisions that belong to no piece: nothing that
// was decided may be left out unseen.
func warnOfStrays(env *environment, c *corpus.Collection) error {
	if c.Manifest == "" && len(c.Pieces) == 1 { // one score of a folder: the others' files are no strays
		return nil
	}
	var ids []string
	for _, p := range c.Pieces {
		ids = append(ids, p.ID)
	}
	strays, err := decision.Strays(filepath.Join(c.Root, decision.Folder), ids)
	for _, s := range strays {
		fmt.Fprintf(env.Stderr, "fingerproof: %s/%s belongs to no piece of the collection; nothing of it is applied\n", decision.Folder, s)
	}
	return err
}
