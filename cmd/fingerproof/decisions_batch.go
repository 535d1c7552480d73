package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"fingerproof/corpus"
	"fingerproof/corpus/files"
	"fingerproof/corpus/source"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/decision"

	"github.com/spf13/cobra"
)

// batchName is the file beside the decisions that knows what was added last, so that it can be taken out again.
const batchName = ".added.json"

// batchesKept is how many batches can be taken out again, the last one first.
const batchesKept = 20

// batch is what one command added to files of decisions.
type batch struct {
	What    string       `json:"what"` // in words
	Entries []batchEntry `json:"files"`
}

// batchEntry is one file with what it was and what it became: nothing is taken out of a file changed since.
type batchEntry struct {
	File   string `json:"file"`
	Bytes  int    `json:"bytes"`  // before
	Before string `json:"before"` // SHA-256, "" where there was no file
	After  string `json:"after"`
	// Was is the text before, where entries were taken out of it: it is no longer the beginning of what stands there.
	Was *string `json:"was,omitempty"`
}

// textBefore is what stood in the file before, of which data stands there now.
func (e *batchEntry) textBefore(data []byte) []byte {
	switch {
	case e.Before == "":
		return nil
	case e.Was != nil:
		return []byte(*e.Was)
	}
	return data[:min(e.Bytes, len(data))]
}

// addition is what is added to the decisions of an editor on one piece.
type addition struct {
	piece     string
	decisions []decision.Decision
	remove    []int           // lines at which entries begin that are taken out
	measures  *decision.Table // of the score, with which a new file begins
	file      string          // name of the file, "" for the editor's own
}

// addDecisions adds decisions to an editor's files of some pieces: to all of them or, where one of them cannot be added
// to, to none. Others who add at the same time wait for each other, and where somebody has written a file by other
// means meanwhile, nothing is added to it.
func addDecisions(ctx context.Context, env *environment, root, by, what string, add []addition) error {
	dir := filepath.Join(root, decision.Folder)
	unlock, err := lockFolder(ctx, env, dir, shortWait)
	if err != nil {
		return err
	}
	defer unlock()
	b := batch{What: what}
	old, fresh := make([][]byte, len(add)), make([][]byte, len(add))
	for i, a := range add {
		name := cmp.Or(a.file, a.piece+"."+by+".yaml")
		file := filepath.Join(dir, name)
		if old[i], err = files.ReadIfThere(file, files.StateLimit); err != nil {
			return fmt.Errorf("reading the editor's file: %w", err)
		}
		kept := old[i]
		if len(a.remove) > 0 {
			if kept, err = decision.Remove(file, old[i], a.remove); err != nil {
				return err
			}
		}
		if fresh[i] = kept; len(a.decisions) > 0 {
			if fresh[i], err = decision.Append(file, kept, a.piece, by, a.measures, a.decisions); err != nil {
				return err
			}
		}
		e := batchEntry{File: name, Bytes: len(old[i]), After: source.Sum(fresh[i])}
		if len(a.remove) > 0 {
			was := string(old[i])
			e.Was = &was
		}
		if old[i] != nil {
			e.Before = source.Sum(old[i])
		}
		b.Entries = append(b.Entries, e)
	}
	// The record comes first: what it says of a file that was not written after all is passed over later.
	if err := changeBatches(dir, func(all []batch) []batch {
		all = append(all, b)
		return all[max(len(all)-batchesKept, 0):]
	}); err != nil {
		return err
	}
	if err := replaceAll(dir, b.names(), old, fresh); err != nil {
		return fmt.Errorf("writing the decisions: %w", err)
	}
	return nil
}

// names lists the files of a batch.
func (b *batch) names() (out []string) {
	for _, e := range b.Entries {
		out = append(out, filepath.Base(e.File))
	}
	return out
}

// replaceAll writes files of a folder that were read before, all of them or none: where one cannot be written, those
// written before it are put back. was and now run parallel to the names; nil is no file. Where one cannot be put back
// either, the error names it.
func replaceAll(dir string, names []string, was, now [][]byte) error {
	for i := range names {
		err := replaceOne(filepath.Join(dir, names[i]), was[i], now[i])
		if err == nil {
			continue
		}
		if back := replaceBack(dir, names[:i], now, was); back != nil {
			return errors.Join(err, back)
		}
		return fmt.Errorf("%w\nno file of decisions is changed", err)
	}
	return nil
}

// replaceBack puts back what was written; the error names the files with which that could not be done.
func replaceBack(dir string, names []string, was, now [][]byte) error {
	var left []string
	var faults []error
	for i := range names {
		file := filepath.Join(dir, names[i])
		if err := replaceOne(file, was[i], now[i]); err != nil {
			left, faults = append(left, asTyped(file)), append(faults, err)
		}
	}
	if left == nil {
		return nil
	}
	return fmt.Errorf("%w\nwritten already and not put back: %s\n"+
		"hint: look at what stands there now, and mend it by hand", errors.Join(faults...), wording.List(left))
}

// replaceOne writes a file that was read before, or takes it away where now is nil; nothing where both are the same.
func replaceOne(file string, was, now []byte) error {
	switch {
	case (was == nil) == (now == nil) && bytes.Equal(was, now):
		return nil
	case now != nil:
		return files.Replace(file, was, now)
	}
	there, err := files.ReadIfThere(file, files.StateLimit)
	if err != nil {
		return err
	}
	if !bytes.Equal(there, was) {
		return files.Changed{Path: file}
	}
	return os.Remove(file)
}

// changeBatches reads, changes and writes the record of what was added.
func changeBatches(dir string, change func([]batch) []batch) error {
	file := filepath.Join(dir, batchName)
	old, err := files.ReadIfThere(file, files.StateLimit)
	if err != nil {
		return fmt.Errorf("reading what was added last: %w", err)
	}
	all, err := readBatches(file, old)
	if err != nil {
		return err
	}
	data, err := json.MarshalIndent(change(all), "", " ")
	if err != nil {
		return fmt.Errorf("writing what was added: %w", err)
	}
	if err := files.Replace(file, old, append(data, '\n')); err != nil {
		return fmt.Errorf("writing what was added: %w", err)
	}
	return nil
}

func readBatches(file string, data []byte) ([]batch, error) {
	if len(data) == 0 {
		return nil, nil
	}
	var all []batch
	if err := json.Unmarshal(data, &all); err != nil {
		return nil, fmt.Errorf("%s is damaged: %w\nhint: take it away; nothing but `decisions undo` needs it", file, err)
	}
	return all, nil
}

func newDecisionsUndo(env *environment) *cobra.Command {
	var in string
	cmd := &cobra.Command{
		Use:   "undo",
		Short: "Take back what enter, take or remove did last",
		Long: `undo takes out of the files of decisions what the last ` + "`decisions enter` or `decisions take`" + `
added, of all pieces, and puts back what the last ` + "`decisions remove`" + ` took out; once more, what was
done before it. Where one of the files was changed since, nothing is changed in any. What a page
saved it does not know: a line 12 r 3 open reopens a digit, ` + "`decisions remove`" + ` takes an entry out.
` + exitStatusHelp,
		Example: "  fingerproof decisions undo",
		Args:    cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			c, err := corpus.Open(in)
			if err != nil {
				return err
			}
			return undo(cmd.Context(), env, filepath.Join(c.Root, decision.Folder))
		},
	}
	cmd.Flags().StringVar(&in, "in", ".", "the collection, folder or score")
	return cmd
}

// undo takes the last batch out of the files of a folder.
func undo(ctx context.Context, env *environment, dir string) error {
	if _, err := os.Stat(dir); err != nil {
		return fmt.Errorf("nothing was added yet: there is no folder %s", asTyped(dir))
	}
	unlock, err := lockFolder(ctx, env, dir, shortWait)
	if err != nil {
		return err
	}
	defer unlock()
	record := filepath.Join(dir, batchName)
	data, err := files.ReadIfThere(record, files.StateLimit)
	if err != nil {
		return fmt.Errorf("reading what was added last: %w", err)
	}
	all, err := readBatches(record, data)
	if err != nil {
		return err
	}
	if len(all) == 0 {
		return fmt.Errorf("nothing is left to take out in %s\nhint: take entries out of its files by hand", asTyped(dir))
	}
	last := all[len(all)-1]
	was, now := make([][]byte, len(last.Entries)), make([][]byte, len(last.Entries))
	for i, e := range last.Entries {
		file := filepath.Join(dir, filepath.Base(e.File))
		if now[i], err = files.ReadIfThere(file, files.StateLimit); err != nil {
			return fmt.Errorf("reading the editor's file: %w", err)
		}
		if e.Before == "" && now[i] == nil || now[i] != nil && source.Sum(now[i]) == e.Before {
			now[i] = nil // it was not written
			continue
		}
		if now[i] == nil || source.Sum(now[i]) != e.After || e.Was == nil && e.Bytes > len(now[i]) {
			return fmt.Errorf("%s was changed since; nothing was taken out of any file\n"+
				"hint: take the entries out by hand", asTyped(file))
		}
		was[i] = e.textBefore(now[i])
	}
	count := 0
	for i := range last.Entries {
		if now[i] != nil {
			count++
		}
	}
	if err := replaceAll(dir, last.names(), now, was); err != nil {
		return fmt.Errorf("taking decisions out: %w", err)
	}
	if err := changeBatches(dir, func(all []batch) []batch { return all[:len(all)-1] }); err != nil {
		return err
	}
	if count == 0 {
		fmt.Fprintf(env.Stdout, "does not stand in any file any more: %s\n", last.What)
		return nil
	}
	fmt.Fprintf(env.Stdout, "undone in %s: %s\n", wording.Count(count, "file"), last.What)
	return nil
}
