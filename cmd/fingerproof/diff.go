package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/register"
	"fingerproof/pipeline/4_services/compare"
	"fingerproof/reports/corrections"

	"github.com/spf13/cobra"
)

var diffFormats = []string{"text", "json", "page", "corrections"}

func newDiffCommand(env *environment) *cobra.Command {
	of := diffed{}
	forGit := false
	var reports, only []string
	cmd := &cobra.Command{
		Use:   "diff OLD NEW",
		Short: "Tell what differs between two scores, folders, collections, runs, witnesses or git revisions",
		Long: `diff aligns OLD and NEW by their music and lists what differs, note by note:
fingering (with hands), text and layout apart; layout only where --only asks for
it. What is not compared every report names. Either is a score, a folder, a collection, the
output folder of a run, or one of these in a git revision (REVISION:PATH).
Renumbered measures, other voices, divisions and ids are no differences.

With --revision A..B one PATH is compared with itself in two git revisions (A..
is A against the files as they are), with --witnesses A..B two witnesses of the
pieces of a collection ("text" is the score itself).

OLD is the approved copy, NEW the typeset proof: the report "corrections" is the
sheet for the engraver, as text, Markdown, HTML or CSV by the file's ending; the
report "page" shows both readings, to be marked and saved. With --before the last
proof, both tick off what was done, name what was missed and what is newly wrong.
--register keeps all corrections of a volume with their state from proof to proof
in a file; --marks takes what readers marked and saved on the page into it. A proof
is known by its name and its texts: a new one has a name of its own, or another text.

With --git it is the command by which git shows changes of scores: the chapter
continuous-integration of the handbook says how. It ends with 0 then, as git asks.

EXIT STATUS
  0    nothing differs
  2    something could not be compared
  3    something differs
  130  interrupted`,
		Example: `  fingerproof diff before.musicxml after.musicxml
  fingerproof diff HEAD~1:edition edition --report json=changes.json
  fingerproof diff --revision v1..v2 scores --report page=changes.html
  fingerproof diff --witnesses A..text collection.yaml
  fingerproof diff approved proof2 --before proof1 --report corrections=sheet.md
  fingerproof diff approved proof2 --register volume.yaml --marks proof1.marks.AB.yaml --report page=proof2.html`,
		Args: func(_ *cobra.Command, args []string) error {
			if forGit {
				return of.takeGit(args)
			}
			return of.take(args)
		},
		RunE: func(cmd *cobra.Command, _ []string) error {
			requests, err := parseRequests(reports, diffFormats, "json=changes.json or text=-")
			if err != nil {
				return err
			}
			for _, r := range requests {
				if r.format == "corrections" {
					if _, err := corrections.FormOf(r.path); err != nil {
						return err
					}
				}
			}
			if of.classes, err = classesOf(only); err != nil {
				return err
			}
			if forGit {
				return diffForGit(cmd.Context(), env, of)
			}
			return diff(cmd.Context(), env, of, requests)
		},
	}
	f := cmd.Flags()
	f.StringArrayVar(&reports, "report", nil, "write FORMAT=PATH, FORMAT text, json, page or corrections, "+
		"PATH - for standard output; may be repeated (default text=-)")
	f.StringVar(&of.before, "before", "", "the proof before NEW, for the reports corrections and page")
	f.StringSliceVar(&only, "only", nil, "compare only this: fingering, text or layout; several with commas "+
		"(default fingering,text)")
	f.StringVar(&of.revision, "revision", "",
		"compare PATH in two git revisions, A..B, or A.. against the files as they are")
	f.StringVar(&of.witnesses, "witnesses", "", "compare two witnesses of a collection, A..B by their sigla, or text")
	f.StringVar(&of.register, "register", "", "keep the corrections with their state in this file, from proof to proof")
	f.StringArrayVar(&of.marks, "marks", nil, "take marks that were saved on a page into the register; may be repeated")
	f.BoolVar(&forGit, "git", false, "compare as git asks it of a command that shows changes (its seven arguments)")
	f.IntVar(&of.excerpts, "excerpts", 200, "how many places the page shows in notation at most")
	return cmd
}

// classesOf reads what --only asks for, in the order of reports; the usual classes where it asks for nothing.
func classesOf(only []string) ([]compare.Class, error) {
	if len(only) == 0 {
		return compare.Usual(), nil
	}
	var out []compare.Class
	for _, c := range compare.Classes() {
		if slices.Contains(only, string(c)) {
			out = append(out, c)
		}
	}
	for _, o := range only {
		if !slices.Contains(compare.Classes(), compare.Class(o)) {
			return nil, fmt.Errorf("--only knows no %q\nhint: it takes fingering, text and layout", o)
		}
	}
	return out, nil
}

// diffed names what is compared.
type diffed struct {
	classes             []compare.Class
	old, new            string
	before              string // the proof before the new one, "" for none
	revision, witnesses string // A..B
	register            string
	marks               []string
	excerpts            int
	path                string // under which git knows the file
}

// take reads the arguments.
func (of *diffed) take(args []string) error {
	wanted, example := 2, "fingerproof diff OLD NEW"
	switch {
	case of.revision != "" && of.witnesses != "":
		return fmt.Errorf("--revision and --witnesses cannot be had together\nhint: compare one of them at a time")
	case of.revision != "":
		wanted, example = 1, "fingerproof diff --revision A..B PATH"
	case of.witnesses != "":
		wanted, example = 1, "fingerproof diff --witnesses A..B collection.yaml"
	}
	if len(args) != wanted {
		what := "two things"
		if wanted == 1 {
			what = "one path with itself"
		}
		return fmt.Errorf("diff compares %s, with %s given\nhint: %s", what, wording.Count(len(args), "path"), example)
	}
	of.old, of.new = args[0], args[wanted-1]
	switch {
	case of.before != "" && of.register != "":
		return fmt.Errorf("--before and --register cannot be had together\nhint: the register knows the proofs before")
	case len(of.marks) > 0 && of.register == "":
		return fmt.Errorf("--marks needs a register to take the marks into\nhint: --register volume.yaml")
	case wanted == 1 && of.before != "":
		return fmt.Errorf("--before goes with OLD and NEW, not with --revision or --witnesses")
	}
	return nil
}

func diff(ctx context.Context, env *environment, of diffed, requests []request) error {
	c, err := openCompared(ctx, env, of)
	defer c.close()
	if err != nil {
		return err
	}
	if c.diff, err = c.compare(ctx); err != nil {
		return err
	}
	failed := printProblems(env, c.diff)
	switch {
	case of.register != "":
		if err := c.keepRegister(ctx, env, of); err != nil {
			return err
		}
	case of.before != "":
		previous, err := compareSides(ctx, env, of.old, of.before, of.classes)
		if err != nil {
			return err
		}
		failed = printProblems(env, previous) || failed
		c.sheet = compare.Sheet(c.diff, previous)
	default:
		c.sheet = compare.Sheet(c.diff, nil)
	}
	if len(requests) == 0 {
		requests = []request{{"text", "-"}}
	}
	if err := c.write(ctx, env, requests, of.excerpts); err != nil {
		return err
	}
	return exitWith(comparedStatus(failed, c.diff.Differs()))
}

// printProblems says which pieces could not be compared, and whether there are any.
func printProblems(env *environment, d *compare.Diff) bool {
	for i := range d.Pieces {
		if p := &d.Pieces[i]; p.Problem != "" {
			env.complain("%s: %s", p.ID, p.Problem)
		}
	}
	return d.Failed()
}

// keepRegister brings the register up to the proof, readers' marks first.
func (c *compared) keepRegister(ctx context.Context, env *environment, of diffed) error {
	unlock, err := lockFolder(ctx, env, filepath.Dir(of.register), shortWait)
	if err != nil {
		return err
	}
	defer unlock()
	r, was, err := readRegister(of.register)
	if err != nil {
		return err
	}
	if others := r.Approve(c.approved); len(others) > 0 {
		return fmt.Errorf("%s keeps the corrections of another approved text of %s than that in %s; nothing was written\n"+
			"hint: keep a new register for the new approved copy", of.register, wording.List(others), c.diff.Old)
	}
	for _, file := range of.marks {
		marks, err := readMarks(file)
		if err != nil {
			return err
		}
		unknown, contradicted, outdated := r.Merge(marks)
		for _, e := range outdated {
			env.complain("%s: the mark on %s, %s, is one on another reading (%q) than that in %s; it is left out",
				file, e.Piece, e.At, e.Reads, of.register)
		}
		for _, e := range unknown {
			env.complain("%s: correction %s of %s, %s, is not in %s; its mark is left out",
				file, e.ID, e.Piece, e.At, of.register)
		}
		for _, e := range contradicted {
			env.complain("%s: readers differ on %s, %s: it stays a correction", file, e.Piece, e.At)
		}
	}
	proof := register.Proof{Name: fromRegister(of.register, c.diff.New), Pieces: c.sums}
	if later := r.Later(proof); len(later) > 0 {
		return fmt.Errorf("%s was read before, and a later proof of %s since; nothing was written to %s\n"+
			"hint: what was sent once more as a new proof needs a name of its own; to look at an old proof again, leave out --register",
			c.diff.New, wording.List(later), of.register)
	}
	if same := r.Untouched(proof); len(same) > 0 {
		env.complain("%s: the text of %s is that of the proof before: nothing that was asked for was done there", c.diff.New, wording.List(same))
	}
	c.sheet = compare.Keep(r, c.diff, proof)
	return writeRegister(of.register, was, r)
}
