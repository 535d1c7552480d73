package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/reports/folder"
	"fingerproof/reports/page"

	"github.com/spf13/cobra"
)

func newRunCommand(env *environment) *cobra.Command {
	var options workOptions
	var out string
	var excerpts int
	var press bool
	var pieces pieceChoice
	cmd := &cobra.Command{
		Use:   "run PATH",
		Short: "Finger a score, a folder or a collection and write marked scores, results and pages",
		Long: `run works out a fingering for every note of PATH: a score, a folder of scores, or
a collection (its folder or its collection.yaml).

Below DIR it writes edition/ (the marked scores, nothing of the text changed), edits/ (what
was spliced into each, so that it can be taken back), results/ (everything, for
machines) and review/ (pages to read; begin with index.html), and the findings as
findings.sarif, junit.xml and summary.md.

What the editors decided (decisions/, see ` + "`fingerproof decisions`" + `) binds. With
--press only digits that stand in the text or were decided are printed. What is open
is listed, and the status is 1 while anything is.

With --piece only these pieces are worked on. What earlier runs left of the others in
DIR stays, and the index and the findings mark it so, piece by piece.

With --shard 2/4 the second of four parts of the collection is worked on, and left in
--parts DIR; ` + "`fingerproof join DIR`" + ` makes of all parts what one run would have made.

A piece that cannot be worked on is named and the others go on; what an earlier run made of it
stays in before/, its page marked as of before.
` + exitStatusHelp,
		Example: `  fingerproof run sonatina.musicxml --out out
  fingerproof run scores/ --policy performance
  fingerproof run collection.yaml --piece 'op7-*'
  fingerproof run collection.yaml --report json=findings.json --fail-on warning`,
		Args: onePath("run"),
		RunE: options.profile.around(func(cmd *cobra.Command, args []string) error {
			job, err := options.job(args[0])
			if err != nil {
				return err
			}
			job.Edition, job.Press = true, press
			if out == "" {
				out = filepath.Join(job.Collection.Root, "out")
			}
			all := job.Collection.Pieces
			if err := pieces.keep(job.Collection); err != nil {
				return err
			}
			if err := options.shareOut(env, cmd, args, job.Collection); err != nil {
				return err
			}
			return run(cmd.Context(), env, job, runOptions{&options, out, excerpts, all})
		}),
	}
	options.add(cmd)
	options.addCache(cmd.Flags())
	options.shards.add(cmd.Flags())
	pieces.add(cmd.Flags(), "work on")
	cmd.Flags().BoolVar(&press, "press", false, "print no digit that is open, and list what is open")
	cmd.Flags().StringVar(&out, "out", "", "output folder (default: out beside the collection or score)")
	cmd.Flags().IntVar(&excerpts, "excerpts", defaultExcerpts,
		"passages drawn in notation on the page of a piece, those that most want judging; 0 draws none")
	return cmd
}

// defaultExcerpts leaves a run over a collection reasonable; what is not drawn
// can be judged by its digits all the same.
const defaultExcerpts = 12

// runOptions are the options of run, its folder found.
type runOptions struct {
	*workOptions
	out      string
	excerpts int
	all      []corpus.Piece // of the collection, those that are not worked on too
}

func run(ctx context.Context, env *environment, job pipeline.Job, o runOptions) (err error) {
	for _, line := range o.lost {
		fmt.Fprintf(env.Stderr, "fingerproof: %s\n", line)
	}
	review := newReviewer(ctx, env, o.excerpts, job, o.cache.keptDrawings())
	defer review.close(ctx)
	review.changes = sincePassed(job.Collection.Root)
	if review.known, err = o.openCache(env, job, review.standsOn()); err != nil {
		return err
	}
	defer review.known.trim()
	o.earlier = review.known.saidOf
	job.Known, job.After, job.Kept = review.known.find, review.piece, review.known.forStages()
	if o.shards.shard.any() {
		return o.shardWork(ctx, env, job, review.known, func(piece string) { review.take(piece) })
	}
	dir, err := folder.Open(o.out, holderName())
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, dir.Close()) }()
	review.earlier = func(file string) []byte { return dir.Earlier("review/" + file) }
	o.askedFirst = askFirst(env, job, func(piece string) bool { return dir.Has("results/" + piece + ".json") })
	index := page.NewIndex(job.Collection)
	rest := &restOfRun{dir: dir, index: index, job: job, all: o.all}
	var coming, asText state.Counts
	saidBefore := map[string]bool{} // that nothing says whose the digits of a piece are
	o.saidBefore = func(piece string) bool { return saidBefore[piece] }
	t, err := o.workThrough(ctx, env, job, func(w *pipeline.PieceRun, failed error) error {
		rest.upTo(w.Piece.ID)
		if failed != nil {
			before, err := keepBefore(dir, w.Piece, failed.Error())
			if err != nil {
				return err
			}
			return writeEntry(dir, index, w.Piece.ID, page.FailedEntry(w.Piece, failed.Error(), before))
		}
		saidBefore[w.Piece.ID] = unattributed(dir, w.Piece.ID)
		out := review.take(w.Piece.ID)
		coming.Add(out.Index.Coming())
		asText.Add(out.Index.AsText())
		return writePiece(dir, index, w.Piece.ID, out)
	})
	if err != nil {
		return err
	}
	t.coming, t.asText = coming, asText
	rest.upTo("")
	whole, err := rest.with(t)
	if err != nil {
		return err
	}
	pages, err := index.Render()
	if err != nil {
		return err
	}
	for _, p := range pages {
		if err := dir.Write("review/"+p.Name, p.Data); err != nil {
			return err
		}
	}
	for _, r := range []request{{"sarif", "findings.sarif"}, {"junit", "junit.xml"}, {"summary", "summary.md"}} {
		var b bytes.Buffer
		if err := whole.write(&b, r.format, false); err != nil {
			return err
		}
		if err := dir.Write(r.path, b.Bytes()); err != nil {
			return err
		}
	}
	if err := dir.Finish(); err != nil {
		return err
	}
	review.complain(env, job.Collection.Pieces)
	rest.complain(env)
	return t.close(". Open " + filepath.Join(o.out, "review", "index.html"))
}

// unattributed says that an earlier run into the same folder found nothing that says whose the digits of a piece are, and
// asked.
func unattributed(dir *folder.Folder, piece string) bool {
	head, err := headOfResults(dir, piece)
	return err == nil && head.Summary.Unattributed
}

// headOfResults reads the results of a piece that an earlier run left, but for its notes.
func headOfResults(dir *folder.Folder, piece string) (*state.Result, error) {
	in, err := dir.Reader("results/" + piece + ".json")
	if err != nil {
		return nil, err
	}
	defer in.Close()
	return state.DecodeHead(in)
}

// keepBefore keeps what an earlier run made of a piece that could not be worked on, marked as of before, and gives where
// its page lies, seen from the index; "" where there is nothing.
func keepBefore(dir *folder.Folder, p *corpus.Piece, problem string) (string, error) {
	edition, reviewed := pipeline.EditionName(p), "review/"+page.FileName(p.ID)
	for _, name := range []string{"edition/" + edition, "edits/" + edition + ".json", "results/" + p.ID + ".json"} {
		if _, err := dir.KeepBefore(name, nil); err != nil {
			return "", err
		}
	}
	kept, err := dir.KeepBefore(reviewed, func(html []byte) []byte { return page.AsOfBefore(html, problem) })
	if !kept || err != nil {
		return "", err
	}
	before := "../" + folder.Before + "/" + reviewed
	// Who has the page open, and loads it again, hears what has become of it.
	return before, dir.Write(reviewed, page.Moved(problem, before))
}

// writePiece writes what a piece leaves behind. Its results come last: where
// they lie, the rest is whole.
func writePiece(dir *folder.Folder, index *page.Index, piece string, out *pieceOutcome) error {
	entry, err := entryFile(piece, out.Index)
	if err != nil {
		return err
	}
	index.Add(out.Index)
	err = dir.WriteAll(
		folder.File{Name: "edition/" + out.File, Content: out.Edition},
		folder.File{Name: "edits/" + out.File + ".json", Content: out.Edits},
		folder.File{Name: "review/" + page.FileName(piece), Content: out.Page},
		folder.File{Name: "review/" + page.PersonalFile(piece), Content: out.Personal},
		entry,
	)
	if err != nil {
		return err
	}
	return dir.WriteAll(folder.File{Name: "results/" + piece + ".json", Content: out.Results})
}

// onePath refuses anything but one path, and says what is missing.
func onePath(command string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		switch len(args) {
		case 1:
			return nil
		case 0:
			return fmt.Errorf("%s needs a score, a folder or a collection\nhint: fingerproof %s scores/", command, command)
		}
		return fmt.Errorf("%s takes one path, and %d are given\n"+
			"hint: put the scores into one folder, or list them in a collection.yaml", command, len(args))
	}
}
