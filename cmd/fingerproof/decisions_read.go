package main

import (
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/strictyaml"
	"fingerproof/pipeline/3_records/decision"
)

// readDecisions reads what the editors decided on a piece. Files are named
// relative to the collection, so that results say the same on every machine.
func readDecisions(c *corpus.Collection, piece string) ([]decision.Decision, error) {
	return readDecisionsAsOf(c, piece, nil)
}

// readDecisionsAsOf reads them with other texts in place of some files, by their names; nil is no file.
func readDecisionsAsOf(c *corpus.Collection, piece string, instead map[string][]byte) ([]decision.Decision, error) {
	out, err := decision.ReadAsOf(filepath.Join(c.Root, decision.Folder), piece, instead)
	for i := range out {
		out[i].File = path.Join(decision.Folder, filepath.Base(out[i].File))
	}
	return out, err
}

// straysIn names what lies among the decisions and is read for no piece, each as an error with its hint: nothing that
// was settled may be left out unseen.
func straysIn(c *corpus.Collection) (out []error, err error) {
	if c.Manifest == "" && len(c.Pieces) == 1 { // one score of a folder: the others' files are no strays
		return nil, nil
	}
	names, err := decision.Strays(filepath.Join(c.Root, decision.Folder), idsOf(c))
	for _, name := range names {
		out = append(out, fmt.Errorf("%s/%s belongs to no piece of the collection; nothing of it is applied\nhint: %s",
			decision.Folder, name, strayHint(c, name)))
	}
	return out, err
}

// secondCopy is how browsers name a download whose name is taken.
var secondCopy = regexp.MustCompile(`^(.+?) ?\(\d+\)$`)

// strayHint says what to do about a file of decisions that is read for no piece.
func strayHint(c *corpus.Collection, name string) string {
	ext := filepath.Ext(name)
	stem := strings.TrimSuffix(name, ext)
	if ext != ".yaml" {
		return fmt.Sprintf("decisions end in .yaml: rename it %s.yaml", stem)
	}
	if info, err := os.Stat(filepath.Join(c.Root, decision.Folder, name)); err == nil && info.IsDir() {
		return "it is a folder; decisions are files that lie beside each other"
	}
	// A browser that finds the name taken counts: PIECE.AB (1).yaml.
	if m := secondCopy.FindStringSubmatch(stem); m != nil && pieceOfFile(c, m[1]+".yaml") != "" {
		return fmt.Sprintf("a browser names a second download so: put it in place of %s.yaml; saved later, on the same page, it holds "+
			"what that one holds", m[1])
	}
	ids := idsOf(c)
	piece, initials, _ := strings.Cut(stem, ".")
	if near := strictyaml.Nearest(stem, ids); near != "" {
		return fmt.Sprintf("the file is named by its piece; did you mean %s.yaml?", near)
	}
	if near := strictyaml.Nearest(piece, ids); near != "" {
		return fmt.Sprintf("the file is named by its piece and up to five letters of initials; did you mean %s.%s.yaml?",
			near, initials)
	}
	return "name it by the id of its piece, as in PIECE.INITIALS.yaml, or move it away"
}

// complainOfStrays says which decisions are read for no piece, and whether there are any.
func (o *workOptions) complainOfStrays(env *environment) bool {
	for _, s := range o.strays {
		env.complain("%v", s)
	}
	return len(o.strays) > 0
}

// orStrays is how a command ends that ended so: where decisions are read for no piece its work is not done.
func (o *workOptions) orStrays(env *environment, err error) error {
	var status exitError
	if !o.complainOfStrays(env) || err != nil && !(errors.As(err, &status) && status.said) {
		return err
	}
	return exitWith(exitFailed)
}
