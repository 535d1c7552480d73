package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"path"
	"path/filepath"
	"slices"

	"fingerproof/corpus"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/passed"
	"fingerproof/pipeline/6_checks/check"

	"github.com/spf13/cobra"
)

func newCheckCommand(env *environment) *cobra.Command {
	var options workOptions
	var reports []string
	var pieces pieceChoice
	var changed string
	cmd := &cobra.Command{
		Use:   "check PATH",
		Short: "Compare with what was passed for press, and prove the cause of every change",
		Long: `check works every piece of PATH out anew and compares with passed/. For each change it
says where, what, and why: every input that differs (policy, decisions, text, manifest)
is put back alone, and the one that gives back what was passed is the cause. Of a policy
the key is named. Where no single input suffices the cause is a combination, and what
putting everything back does not undo is the engine's.

The reports sarif, junit and annotations show changes where code hosts and CI systems show
findings: changes of one measure and hand that have one cause stand together. summary is a
page of Markdown for the job.

With --changed it works out only what may differ from a git revision: pieces that stand on
anything else than what their passed state records (score, witnesses, policy, decisions,
weights, manifest, rules, program; by content, not by name), and those whose passed state is
not the revision's.

With --shard 2/4 the second of four parts of the collection is checked, and what differs is
left in --parts DIR; ` + "`fingerproof join DIR`" + ` writes the reports of all.

With --policy it asks "what if": the effect of another policy on the repertoire against
the present one, by piece and by key, most affected passages first. It writes nothing but
its report. It can be shared out, too.
` + exitStatusHelp,
		Example: `  fingerproof check collection.yaml
  fingerproof check collection.yaml --changed=main --report json=check.json
  fingerproof check collection.yaml --report sarif=check.sarif --report junit=check.xml --report annotations=-
  fingerproof check collection.yaml --policy other.yaml`,
		Args: onePath("check"),
		RunE: func(cmd *cobra.Command, args []string) error {
			formats := checkFormats
			if options.policy != "" {
				formats = whatIfFormats
			}
			requests, err := parseRequests(reports, formats, "json=check.json or text=-")
			if err != nil {
				return err
			}
			if len(requests) == 0 {
				requests = []request{{"text", "-"}}
			}
			other := options.policy
			options.policy = ""
			job, err := options.job(args[0])
			if err != nil {
				return err
			}
			all := idsOf(job.Collection)
			if one := job.Collection.Manifest == "" && len(all) == 1; one || pieces.any() {
				all = nil // of the others nothing is asked
			}
			if err := pieces.keep(job.Collection); err != nil {
				return err
			}
			if cmd.Flags().Changed("changed") {
				left, err := onlyChanged(cmd.Context(), &job, passed.In(job.Collection.Root), changed)
				if err != nil {
					return err
				}
				fmt.Fprintf(env.Stderr, "%s not worked out: as recorded in %s/, and so in %s\n",
					wording.Count(left, "piece"), passed.Folder, changed)
			}
			options.policy = other // parts have it in their command
			if err := options.shareOut(env, cmd, args, job.Collection); err != nil {
				return err
			}
			if other != "" {
				return options.orStrays(env, whatIf(cmd.Context(), env, &options, job, other, requests))
			}
			return options.orStrays(env, checkPassed(cmd.Context(), env, &options, job, all, requests))
		},
	}
	options.addInputs(cmd)
	cmd.Flags().StringArrayVar(&reports, "report", nil,
		"write FORMAT=PATH, FORMAT text, json, sarif, junit, annotations or summary (with --policy text, json or page), "+
			"PATH - for standard output; may be repeated (default text=-)")
	options.addCache(cmd.Flags())
	options.shards.add(cmd.Flags())
	pieces.add(cmd.Flags(), "check")
	options.addPrefix(cmd.Flags())
	cmd.Flags().StringVar(&changed, "changed", "HEAD", "check only pieces that stand on something else than\n"+
		"what their passed state records, or whose state differs from that in the git revision REF")
	cmd.Flags().Lookup("changed").NoOptDefVal = "HEAD"
	return cmd
}

var checkFormats = []string{"text", "json", "sarif", "junit", "annotations", "summary"}

// whatIfFormats are those of check --policy.
var whatIfFormats = []string{"text", "json", "page"}

// checkPassed compares the pieces of a job. all are the ids of the whole
// collection: what was passed and is not among them is named; nil leaves that out.
func checkPassed(
	ctx context.Context, env *environment, o *workOptions, job pipeline.Job, all []string, requests []request,
) error {
	store := passed.In(job.Collection.Root)
	if !store.There() {
		return fmt.Errorf("nothing was passed yet: there is no folder %s in %s\n"+
			"hint: run, review, then `fingerproof pass`", passed.Folder, job.Collection.Root)
	}
	o.shards.pressOf = func(piece string) bool {
		was, err := store.Read(piece)
		return err == nil && was != nil && was.Press
	}
	known, err := o.openCache(env, job, "check")
	if err != nil {
		return err
	}
	defer known.trim()
	job.Kept = known.forStages()
	pieces, err := eachPiece(ctx, job, func(p *corpus.Piece) check.Piece { return checkPiece(job, store, known, p) })
	if err != nil {
		return err
	}
	if o.shards.shard.any() {
		return leaveChecked(known, o.shards.parts, pieces)
	}
	if all != nil {
		gone, err := goneSince(store, all)
		if err != nil {
			return err
		}
		pieces = append(pieces, gone...)
	}
	pieces = check.WithCollection(pieces)
	err = writeReports(env, requests, func(out io.Writer, format string) error {
		if format == "json" {
			return writeJSON(out, map[string]any{"version": 1, "pieces": pieces})
		}
		switch format {
		case "text":
			return check.WriteText(out, pieces)
		case "summary":
			return check.WriteSummary(out, pieces)
		}
		f := findings{
			rules: check.Rules(), task: "check", prefix: o.prefix, outcomes: checkOutcomes(job, pieces), fails: everyFinding,
		}
		return f.write(out, format, false)
	})
	if err != nil {
		return err
	}
	for i := range pieces { // the text has said it, piece by piece
		if pieces[i].Problem != "" && !saidOnScreen(requests) {
			env.complain("%s: %s", pieces[i].ID, pieces[i].Problem)
		}
	}
	standing := check.StandingOf(pieces)
	fmt.Fprintln(env.Stderr, standing)
	return exitWith(comparedStatus(standing.Failed > 0, standing.Differs()))
}

// saidOnScreen says that the text of what check found goes to the terminal.
func saidOnScreen(requests []request) bool {
	return slices.ContainsFunc(requests, func(r request) bool { return r.format == "text" && r.path == "-" })
}

// everyFinding says that whatever check reports keeps the status from 0.
func everyFinding(*state.Outcome, *state.Finding) bool { return true }

// checkOutcomes gives what check found in the form in which reports take findings.
func checkOutcomes(job pipeline.Job, pieces []check.Piece) (out []state.Outcome) {
	scores := map[string]string{}
	for i := range job.Collection.Pieces {
		p := &job.Collection.Pieces[i]
		scores[p.ID] = scoreName(job.Collection, p)
	}
	for i := range pieces {
		file := scores[pieces[i].ID]
		if pieces[i].Whole {
			file = named(job.Collection, filepath.Base(job.Collection.Manifest))
		} else if file == "" { // it is no longer in the collection
			file = named(job.Collection, path.Join(passed.Folder, pieces[i].ID+".json"))
		}
		out = append(out, pieces[i].Outcome(file))
	}
	return out
}

// goneSince lists pieces that were passed and that the collection does not have.
func goneSince(store passed.Store, all []string) (out []check.Piece, err error) {
	was, err := store.Pieces()
	for _, id := range was {
		if !slices.Contains(all, id) {
			out = append(out, check.Piece{ID: id, Gone: true})
		}
	}
	return out, err
}

// checkPiece compares one piece. Whatever keeps it from being compared is its
// problem, reported with it.
func checkPiece(job pipeline.Job, store passed.Store, known *knownPieces, piece *corpus.Piece) check.Piece {
	was, err := store.Read(piece.ID)
	if err != nil {
		return check.Piece{ID: piece.ID, Problem: plain(err)}
	}
	job.Press = was != nil && was.Press
	w, done := known.workedOut(job, piece)
	if done != nil {
		return *done
	}
	out := comparePassed(store, w, was)
	if known != nil && out.Problem == "" {
		known.keepChecked(w, &out)
	}
	return out
}

// comparePassed compares a piece that was worked out with what was passed of it, nil for nothing.
func comparePassed(store passed.Store, w *pipeline.PieceRun, was *passed.State) check.Piece {
	if was == nil {
		return check.Piece{ID: w.Piece.ID, Never: true, Notes: w.Result.Summary.Notes}
	}
	text, err := store.Text(was)
	if err != nil {
		return check.Piece{ID: w.Piece.ID, Problem: plain(err)}
	}
	return check.Compare(w, was, text)
}

func writeJSON(out io.Writer, v any) error {
	e := json.NewEncoder(out)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	return e.Encode(v)
}
