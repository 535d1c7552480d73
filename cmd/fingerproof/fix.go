package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"

	"fingerproof/corpus"
	"fingerproof/corpus/files"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/fix"
	"fingerproof/reports/folder"

	"github.com/spf13/cobra"
)

// fixesFolder is where the edits of fixes made in place are kept.
const fixesFolder = "fixes"

// repairOptions say whether and where safe fixes are made.
type repairOptions struct {
	fix     bool
	inPlace bool
	out     string
}

func (o *repairOptions) add(cmd *cobra.Command) {
	f := cmd.Flags()
	f.BoolVar(&o.fix, "fix", false, "put right what is safe: side, order and looks of digits; with --out or --in-place")
	f.StringVar(&o.out, "out", "", "with --fix: folder for the fixed scores and the edits that take them back")
	f.BoolVar(&o.inPlace, "in-place", false, "with --fix: change the scores themselves, and keep the edits in fixes/")
}

// fixer makes safe fixes, piece by piece. nil makes none.
type fixer struct {
	env        *environment
	collection *corpus.Collection
	dir        *folder.Folder // nil: in place
	unlock     func()         // gives the folder of fixes free; nil where copies are written
	fixes      int
	scores     int
	left       int // findings that stand after it
	unmade     int // of these, those that have a safe fix which was not made
}

// open checks the options, before any work is done.
func (o *repairOptions) open(ctx context.Context, env *environment, c *corpus.Collection) (*fixer, error) {
	if !o.fix {
		if o.inPlace || o.out != "" {
			return nil, fmt.Errorf("--out and --in-place say where --fix writes\nhint: add --fix, or leave them out")
		}
		return nil, nil
	}
	if o.inPlace == (o.out != "") {
		return nil, fmt.Errorf("--fix wants to know where to write\nhint: either --out DIR for copies, or --in-place")
	}
	f := &fixer{env: env, collection: c}
	var err error
	if o.inPlace {
		f.unlock, err = lockFolder(ctx, env, filepath.Join(c.Root, fixesFolder), 0)
		return f, err
	}
	f.dir, err = folder.Open(o.out, holderName())
	return f, err
}

// pieceDone gives what is done with a piece, nil for nothing.
func (f *fixer) pieceDone() pieceDone {
	if f == nil {
		return nil
	}
	return func(w *pipeline.PieceRun, failed error) error {
		if failed != nil {
			return nil
		}
		return f.fix(w)
	}
}

// fix fixes a score and works it out again, so that reports say what is left.
func (f *fixer) fix(w *pipeline.PieceRun) error {
	fixed, err := fix.Make(w.FixInput())
	if err != nil {
		return err
	}
	if fixed == nil {
		f.count(w)
		return nil
	}
	record, err := json.MarshalIndent(fixed.Record, "", " ")
	if err != nil {
		return fmt.Errorf("writing the edits of %s: %w", w.Piece.ID, err)
	}
	if err := f.put(w, fixed.Data, append(record, '\n')); err != nil {
		return err
	}
	f.fixes += len(fixed.Done)
	f.scores++
	again := &pipeline.PieceRun{
		Piece: w.Piece, Data: fixed.Data, Policy: w.Policy, Weights: w.Weights,
		Decisions: w.Decisions, Today: w.Today, Press: w.Press, Setting: w.Setting,
	}
	if err := pipeline.RunPiece(again); err != nil {
		return fmt.Errorf("reading what was fixed: %w", err)
	}
	*w = *again
	f.count(w)
	return nil
}

// count counts what is left of the findings of a piece.
func (f *fixer) count(w *pipeline.PieceRun) {
	for _, x := range w.FixInput().Findings {
		f.left++
		if len(x.Edit) > 0 {
			f.unmade++
		}
	}
}

// why says why findings are left, "" where none is.
func (f *fixer) why() string {
	var out string
	if rest := f.left - f.unmade; rest > 0 {
		out = fmt.Sprintf("; %s for you to judge: only the side, the order and the looks of digits are put right here",
			areLeft(rest))
	}
	if f.unmade > 0 {
		out += fmt.Sprintf("; %s left alone, since the fixes ask for different things of one digit, or the file does not let them be written",
			areLeft(f.unmade))
	}
	return out
}

// put writes a fixed score and its record, the record first: a score that has
// changed can always be taken back.
func (f *fixer) put(w *pipeline.PieceRun, data, record []byte) error {
	name := path.Base(w.Piece.Score)
	if f.dir != nil {
		if err := f.dir.Write("edits/"+name+".json", record); err != nil {
			return err
		}
		return f.dir.Write("edition/"+name, data)
	}
	if err := f.replace(w, name, data, record); err != nil {
		return notFixed{err}
	}
	return nil
}

// notFixed is why a score could not be changed in place: an error of its piece,
// not of the others.
type notFixed struct{ error }

func (e notFixed) Unwrap() error { return e.error }

// replace changes a score in place. A file that is marked read-only is left
// alone, though a new one could be put into its place.
func (f *fixer) replace(w *pipeline.PieceRun, name string, data, record []byte) error {
	full := f.collection.Path(w.Piece.Score)
	info, err := os.Stat(full)
	if err != nil {
		return fmt.Errorf("fixing the score: %w", err)
	}
	if info.Mode().Perm()&0o222 == 0 {
		return fmt.Errorf("%s is read-only and was not fixed\n"+
			"hint: make it writable, or give --out DIR for a fixed copy", w.Piece.Score)
	}
	at, err := freeName(filepath.Join(f.collection.Root, fixesFolder), name)
	if err != nil {
		return err
	}
	if err := files.Replace(at, nil, record); err != nil {
		return fmt.Errorf("writing the edits of %s: %w", w.Piece.ID, err)
	}
	if err := files.Replace(full, w.Data, data); err != nil {
		_ = os.Remove(at) // of a score that did not change there is nothing to take back
		return fmt.Errorf("writing the fixed score: %w", err)
	}
	fmt.Fprintf(f.env.Stderr, "fixed %s; its edits are in %s\n", w.Piece.Score, at)
	return nil
}

// freeName is the first of NAME.json, NAME.2.json, … that is not there yet:
// fixes made one after the other are taken back from the last to the first.
func freeName(dir, name string) (string, error) {
	for i := 1; ; i++ {
		at := filepath.Join(dir, name+".json")
		if i > 1 {
			at = filepath.Join(dir, fmt.Sprintf("%s.%d.json", name, i))
		}
		if _, err := os.Lstat(at); errors.Is(err, fs.ErrNotExist) {
			return at, nil
		} else if err != nil {
			return "", fmt.Errorf("looking for earlier fixes: %w", err)
		}
	}
}

// free lets others write where this fixer writes.
func (f *fixer) free() {
	switch {
	case f == nil:
	case f.dir != nil:
		if err := f.dir.Close(); err != nil {
			f.env.complain("%v", err)
		}
	default:
		f.unlock()
	}
}

// areLeft is "1 finding is", "2 findings are".
func areLeft(n int) string {
	if n == 1 {
		return wording.Count(n, "finding") + " is"
	}
	return wording.Count(n, "finding") + " are"
}

// close ends the work and says what was fixed.
func (f *fixer) close() (string, error) {
	if f == nil {
		return "", nil
	}
	if f.dir != nil {
		if err := f.dir.Finish(); err != nil {
			return "", err
		}
	}
	return fmt.Sprintf("; fixed %s in %s", wording.Count(f.fixes, "finding"), wording.Count(f.scores, "score")) + f.why(), nil
}
