package main

import (
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
// was settled may be left out unseen.
func warnOfStrays(env *environment, c *corpus.Collection) error {
	if c.Manifest == "" && len(c.Pieces) == 1 { // one score of a folder: the others' files are no strays
		return nil
	}
	strays, err := decision.Strays(filepath.Join(c.Root, decision.Folder), idsOf(c))
	for _, s := range strays {
		env.complain("%s/%s belongs to no piece of the collection; nothing of it is applied", decision.Folder, s)
	}
	return err
}
