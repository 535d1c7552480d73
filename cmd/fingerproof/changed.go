package main

import (
	"bytes"
	"context"
	"fmt"
	"os/exec"
	"path"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/passed"
)

// onlyChanged keeps the pieces whose files differ between the folder as it is
// and a git revision: score, witnesses, decisions, passed state. Where the
// manifest or any policy differs, every piece may, and all are kept.
func onlyChanged(ctx context.Context, c *corpus.Collection, ref string) error {
	if strings.HasPrefix(ref, "-") {
		return fmt.Errorf("%q is no git revision", ref)
	}
	names, err := gitLines(ctx, c.Root, "diff", "--name-only", "--relative", "-z", ref, "--", ".")
	if err != nil {
		return err
	}
	fresh, err := gitLines(ctx, c.Root, "ls-files", "--others", "--exclude-standard", "-z")
	if err != nil {
		return err
	}
	outside, err := gitLines(ctx, c.Root, "diff", "--name-only", "-z", ref) // a policy of the house may lie above
	if err != nil {
		return err
	}
	names = append(names, fresh...)
	for _, n := range append(outside, names...) {
		// A folder of policies that a style extends may be named anything; YAML outside the decisions counts as one.
		if ext := path.Ext(n); (ext == ".yaml" || ext == ".yml") && !strings.Contains("/"+n, "/"+decision.Folder+"/") {
			return nil
		}
	}
	c.Pieces = slices.DeleteFunc(c.Pieces, func(p corpus.Piece) bool {
		return !slices.ContainsFunc(names, func(n string) bool { return touches(&p, n) })
	})
	return nil
}

// touches reports whether a file of the collection bears on a piece.
func touches(p *corpus.Piece, name string) bool {
	if name == p.Score || slices.ContainsFunc(p.Witnesses, func(w corpus.Witness) bool { return w.Score == name }) {
		return true
	}
	for _, folder := range []string{decision.Folder, passed.Folder, passed.Folder + "/text"} {
		if rest, ok := strings.CutPrefix(name, folder+"/"); ok && strings.HasPrefix(rest, p.ID+".") {
			return true
		}
	}
	return false
}

func gitLines(ctx context.Context, dir string, args ...string) ([]string, error) {
	cmd := exec.CommandContext(ctx, "git", args...)
	cmd.Dir = dir
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("asking git what changed: %s\nhint: --changed needs a git repository and a revision it knows",
			strings.TrimSpace(complaint.String()))
	}
	return strings.FieldsFunc(string(out), func(c rune) bool { return c == 0 }), nil
}
