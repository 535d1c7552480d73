package main

import (
	"context"
	"fmt"
	"io"
	"slices"

	"fingerproof/pipeline/4_services/compare"
	"fingerproof/reports/corrections"
	"fingerproof/reports/diffjson"
	"fingerproof/reports/diffpage"
	"fingerproof/reports/difftext"

	"github.com/spf13/cobra"
)

var diffFormats = []string{"text", "json", "page", "corrections"}

func newDiffCommand(env *environment) *cobra.Command {
	var reports []string
	var before string
	var only []string
	cmd := &cobra.Command{
		Use:   "diff OLD NEW",
		Short: "Tell what differs between two scores, folders, collections, runs or git revisions",
		Long: `diff aligns OLD and NEW by their music and lists what differs, note by note:
fingering (with hands), text and layout apart; layout only where --only asks for
it. What is not compared every report names. Either is a score, a folder, a collection, the
output folder of a run, or one of these in a git revision (REVISION:PATH).
Renumbered measures, other voices, divisions and ids are no differences.

The report "corrections" is the sheet a proof reader sends to the engraver: OLD is
the approved copy, NEW the typeset proof. With --before the last proof, it ticks
off what was done, names what was missed and what is newly broken.

EXIT STATUS
  0    nothing differs
  2    something could not be compared
  3    something differs
  130  interrupted`,
		Example: `  fingerproof diff before.musicxml after.musicxml
  fingerproof diff HEAD~1:edition edition --report json=changes.json
  fingerproof diff approved.musicxml proof2.musicxml --before proof1.musicxml --report corrections=sheet.txt`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 2 {
				return fmt.Errorf("diff compares two things, and %d are given\nhint: fingerproof diff OLD NEW", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
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
			classes, err := classesOf(only)
			if err != nil {
				return err
			}
			return diff(cmd.Context(), env, diffed{old: args[0], new: args[1], before: before, classes: classes}, requests)
		},
	}
	cmd.Flags().StringArrayVar(&reports, "report", nil, "write FORMAT=PATH, FORMAT text, json, page or corrections, "+
		"PATH - for standard output; may be repeated (default text=-)")
	cmd.Flags().StringVar(&before, "before", "", "the proof before NEW, for the report corrections")
	cmd.Flags().StringSliceVar(&only, "only", nil, "compare only this: fingering, text or layout; several with commas "+
		"(default fingering,text)")
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
	old, new string
	before   string // the proof before the new one, "" for none
	classes  []compare.Class
}

func diff(ctx context.Context, env *environment, of diffed, requests []request) error {
	d, err := compareSides(ctx, of.old, of.new, of.classes)
	if err != nil {
		return err
	}
	var previous *compare.Diff
	if of.before != "" {
		if previous, err = compareSides(ctx, of.old, of.before, of.classes); err != nil {
			return err
		}
	}
	if len(requests) == 0 {
		requests = []request{{"text", "-"}}
	}
	for _, r := range requests {
		if err := r.write(env, func(out io.Writer) error { return drawDiff(out, r, of, d, previous) }); err != nil {
			return err
		}
	}
	failed := printProblems(env, d)
	if previous != nil && printProblems(env, previous) {
		failed = true
	}
	return exitWith(comparedStatus(failed, d.Differs()))
}

// drawDiff draws one report of a diff.
func drawDiff(out io.Writer, r request, of diffed, d, previous *compare.Diff) error {
	switch r.format {
	case "json":
		return diffjson.Write(out, d)
	case "page":
		return diffpage.Write(out, d)
	case "corrections":
		form, err := corrections.FormOf(r.path)
		if err != nil {
			return err
		}
		sheet := &corrections.Sheet{Approved: of.old, Typeset: of.new, Corrections: compare.Sheet(d, previous)}
		return corrections.Write(out, sheet, form)
	}
	return difftext.Write(out, d)
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

// compareSides compares piece by piece, in the order of the old side, pieces
// that only the new one has last. Two single scores are compared whatever
// their names.
func compareSides(ctx context.Context, old, new string, classes []compare.Class) (*compare.Diff, error) {
	a, cleanA, err := openSides(ctx, old)
	defer cleanA()
	if err != nil {
		return nil, err
	}
	b, cleanB, err := openSides(ctx, new)
	defer cleanB()
	if err != nil {
		return nil, err
	}
	d := &compare.Diff{Old: a.name, New: b.name, Compared: classes}
	if a.single && b.single {
		b.pieces[0].id = a.pieces[0].id
	}
	for _, p := range a.pieces {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		k := slices.IndexFunc(b.pieces, func(q sidePiece) bool { return q.id == p.id })
		if k < 0 {
			d.Pieces = append(d.Pieces, compare.Lone(p.id, compare.PieceMissing))
			continue
		}
		d.Pieces = append(d.Pieces, comparePiece(p, b.pieces[k], classes))
	}
	for _, q := range b.pieces {
		if !slices.ContainsFunc(a.pieces, func(p sidePiece) bool { return p.id == q.id }) {
			d.Pieces = append(d.Pieces, compare.Lone(q.id, compare.PieceAdded))
		}
	}
	return d, nil
}

func comparePiece(p, q sidePiece, classes []compare.Class) compare.Piece {
	a, err := p.load()
	if err != nil {
		return compare.Piece{ID: p.id, Problem: err.Error()}
	}
	b, err := q.load()
	if err != nil {
		return compare.Piece{ID: p.id, Problem: err.Error()}
	}
	return compare.Scores(p.id, a, b, classes...)
}
