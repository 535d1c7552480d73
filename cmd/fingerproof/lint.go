package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"fingerproof/corpus"
	"fingerproof/pipeline/3_records/state"

	"github.com/spf13/cobra"
)

func newLintCommand(env *environment) *cobra.Command {
	var options workOptions
	var repair repairOptions
	var earlier string
	var pieces pieceChoice
	cmd := &cobra.Command{
		Use:   "lint PATH",
		Short: "Find faults in the fingering of a score, a folder or a collection",
		Long: `lint reads PATH and lists what is wrong with the fingering that stands in it, and
where no fingering fits the hand. It writes nothing but the reports asked for;
without --report, text on standard output. ` + "`fingerproof explain RULE`" + ` says what a
rule checks and why. Severities and thresholds are the policy's (lint, lint_options,
fail_on), and a piece may have a policy of its own in the manifest.

Findings that an editor let stand (decisions/, stet) are counted apart and do not
decide the status. They come back when their day is over or nothing matches them.

Reports, several at once: text; json, for programs; sarif (SARIF 2.1.0), for code
hosts and editors; junit, for the test view of a CI; annotations, lines by which a CI
marks the place in the score; summary, a page of Markdown for the job.
With --baseline, an earlier report, each finding is new, unchanged or updated, what is
gone is absent (sarif), and unchanged findings do not decide the status.

With --shard 2/4 the second of four parts of the collection is read, and what was found is
left in --parts DIR; ` + "`fingerproof join DIR`" + ` writes the reports of all.

With --results, the folder results/ of a run, findings are taken from there, which
is quicker than reading the scores. Pieces whose score, policy, decisions or setting
has changed since are worked out anew, and named.

With --fix, what is safe is put right: the side, the order and the looks of digits
that stand. Notes and digits are never changed; all else is only proposed, in words.
Say where to: --out DIR writes DIR/edition/ and, to take it back (take-back), DIR/edits/;
--in-place changes the scores, and keeps the edits in fixes/ beside the collection.
` + exitStatusHelp,
		Example: `  fingerproof lint sonatina.musicxml
  fingerproof lint collection.yaml --report json=findings.json --fail-on warning
  fingerproof lint scores/ --report annotations=- --report sarif=findings.sarif --report junit=junit.xml
  fingerproof lint collection.yaml --results out/results --baseline last.sarif
  fingerproof lint scores/ --fix --out fixed`,
		Args: onePath("lint"),
		RunE: options.profile.around(func(cmd *cobra.Command, args []string) error {
			job, err := options.job(args[0])
			if err == nil {
				err = pieces.keep(job.Collection)
			}
			if err != nil {
				return err
			}
			job.Unedited = job.Collection.Manifest == ""
			if earlier != "" {
				if repair.fix {
					return fmt.Errorf("--fix has to read the scores and cannot go by --results\nhint: leave one of them out")
				}
				if k := slices.IndexFunc(options.requests, request.isMatter); k >= 0 {
					return fmt.Errorf("the %s looks at every note and cannot go by --results, which gives findings alone\n"+
						"hint: leave --results out, or ask for it in a run", options.requests[k].format)
				}
				if _, err := os.ReadDir(earlier); err != nil {
					return fmt.Errorf("reading earlier results: %w\nhint: --results wants the folder results/ that a run wrote", err)
				}
				job.Results = func(p *corpus.Piece) (*state.Result, error) { return readResults(earlier, p.ID) }
			}
			if len(options.requests) == 0 {
				options.requests = []request{{"text", "-"}}
			}
			if err := options.shareOut(env, cmd, args, job.Collection); err != nil {
				return err
			}
			if shared := options.shards.shard.any() || len(options.shards.from) > 0; shared && (repair.fix || earlier != "") {
				return fmt.Errorf("--fix and --results cannot be shared out\nhint: leave --shard out")
			}
			fixer, err := repair.open(cmd.Context(), env, job.Collection)
			if err != nil {
				return err
			}
			defer fixer.free()
			if !repair.fix && earlier == "" {
				known, err := options.openCache(env, job, "lint")
				if err != nil {
					return err
				}
				defer known.trim()
				options.earlier, job.Known, job.After = known.saidOf, known.find, known.keepFindings(job.Collection)
				job.Kept = known.forStages()
				if options.shards.shard.any() {
					return options.shardWork(cmd.Context(), env, job, known, func(string) {})
				}
			}
			t, err := options.workThrough(cmd.Context(), env, job, fixer.pieceDone())
			if err != nil {
				return err
			}
			more, err := fixer.close()
			if err != nil {
				return err
			}
			return t.close(more)
		}),
	}
	options.add(cmd)
	options.addCache(cmd.Flags())
	options.shards.add(cmd.Flags())
	pieces.add(cmd.Flags(), "read")
	repair.add(cmd)
	cmd.Flags().StringVar(&earlier, "results", "",
		"folder results/ of a run, to take findings from where nothing has changed")
	return cmd
}

// readResults reads the head of a piece's earlier results; nil where there are
// none, or of another form.
func readResults(dir, piece string) (*state.Result, error) {
	f, err := os.Open(filepath.Join(dir, piece+".json"))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("reading earlier results: %w", err)
	}
	defer f.Close()
	r, err := state.DecodeHead(f)
	if err != nil {
		return nil, nil // of another version, or broken: worked out anew
	}
	return r, nil
}
