package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/wording"
	"fingerproof/reports/difftext"
)

// takeGit reads the arguments that git gives to a command that shows changes: path, and of either side the file, the hash
// and the mode; of a file that was renamed two more.
func (of *diffed) takeGit(args []string) error {
	const plain, renamed = 7, 9
	if len(args) != plain && len(args) != renamed {
		return fmt.Errorf("--git is for git, which gives seven arguments or nine, and not %d\n"+
			"hint: git config diff.score.command 'fingerproof diff --git'", len(args))
	}
	of.path, of.old, of.new = args[0], args[1], args[4]
	if len(args) == renamed {
		of.path += " → " + args[7]
	}
	return nil
}

// diffForGit says what changed in the music of a file. What cannot be compared is said too, since git would stop at any
// status but 0.
func diffForGit(ctx context.Context, env *environment, of diffed) error {
	fmt.Fprintf(env.Stdout, "score %s\n", of.path)
	for _, side := range []struct{ file, said string }{{of.old, "new"}, {of.new, "taken out"}} {
		if side.file == os.DevNull {
			other := of.old
			if other == os.DevNull {
				other = of.new
			}
			fmt.Fprintf(env.Stdout, "  %s: %s\n", side.said, sizeOf(other))
			return nil
		}
	}
	c, err := openCompared(ctx, env, of)
	defer c.close()
	if err == nil {
		c.diff, err = c.compare(ctx)
	}
	if err != nil {
		fmt.Fprintf(env.Stdout, "  could not be compared: %s\n", strings.ReplaceAll(plain(err), "\n", "\n  "))
		return linesForGit(ctx, env, of)
	}
	if err := difftext.WriteBrief(env.Stdout, c.diff); err != nil || !c.diff.Failed() {
		return err
	}
	return linesForGit(ctx, env, of)
}

// linesForGit shows the lines of what is no score, or cannot be read as one: a change must not go unseen.
func linesForGit(ctx context.Context, env *environment, of diffed) error {
	show := exec.CommandContext(ctx, "git", "diff", "--no-index", "--no-ext-diff", "--no-color", "--", of.old, of.new)
	lines, err := show.Output()
	if differ := new(exec.ExitError); err != nil && (!errors.As(err, &differ) || differ.ExitCode() != 1) {
		fmt.Fprintf(env.Stdout, "  its lines cannot be shown: %s\n", plain(err))
		return nil
	}
	_, err = env.Stdout.Write(lines)
	return err
}

// sizeOf says how much music a file holds.
func sizeOf(file string) string {
	c, err := corpus.Open(file)
	if err != nil {
		return plain(err)
	}
	l, err := loadScore(c.Path(c.Pieces[0].Score))
	if err != nil {
		return plain(err)
	}
	return wording.Count(len(l.Score.Measures), "measure") + ", " + wording.Count(len(l.Score.Notes), "note")
}
