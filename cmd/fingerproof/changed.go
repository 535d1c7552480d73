package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os/exec"
	"path"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/files"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/passed"
	"fingerproof/pipeline/6_checks/check"
)

// onlyChanged keeps the pieces that may come out otherwise than in a git revision: those that stand on anything
// else than what their passed state records (score, witnesses, policy, decisions, weights, what the manifest says,
// program), those that have no state, and those whose state is not the revision's. What cannot be read is kept: it
// is reported where it is worked on. It gives how many pieces are left out.
func onlyChanged(ctx context.Context, job *pipeline.Job, store passed.Store, ref string) (left int, err error) {
	if strings.HasPrefix(ref, "-") || strings.ContainsAny(ref, ":\n") {
		return 0, fmt.Errorf("%q is no git revision", ref)
	}
	root := job.Collection.Root
	if _, err := git(ctx, root, "rev-parse", "--verify", ref+"^{commit}"); err != nil {
		return 0, fmt.Errorf("asking git what changed: %w\n"+
			"hint: --changed needs a git repository and a revision it knows", err)
	}
	var kept []corpus.Piece
	for i := range job.Collection.Pieces {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		if piece := &job.Collection.Pieces[i]; changed(ctx, job, store, piece, ref) {
			kept = append(kept, *piece)
		}
	}
	left = len(job.Collection.Pieces) - len(kept)
	job.Collection.Pieces = kept
	return left, nil
}

// changed reports whether a piece may come out otherwise than in the revision.
func changed(ctx context.Context, job *pipeline.Job, store passed.Store, piece *corpus.Piece, ref string) bool {
	was, err := store.Read(piece.ID)
	if err != nil || was == nil {
		return true
	}
	if _, err := store.Text(was); err != nil {
		return true
	}
	now, err := job.Open(piece)
	if err != nil || !check.SameInputs(now, was) {
		return true
	}
	name := path.Join(passed.Folder, piece.ID+".json")
	then, err := git(ctx, job.Collection.Root, "cat-file", "blob", ref+":./"+name)
	if err != nil {
		return true // the revision has no such file
	}
	is, err := files.Read(job.Collection.Path(name), files.StateLimit)
	return err != nil || !bytes.Equal(is, then)
}

// git asks git in a folder.
func git(ctx context.Context, dir string, args ...string) ([]byte, error) {
	cmd := exec.CommandContext(ctx, "git", args...)
	cmd.Dir = dir
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	if errors.Is(err, exec.ErrNotFound) {
		return nil, errors.New("the program git is not installed, or not on the PATH")
	}
	if text := strings.TrimSpace(complaint.String()); err != nil && text != "" {
		return nil, fmt.Errorf("%s", text)
	}
	return out, err
}
