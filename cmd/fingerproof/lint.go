package main

import (
	"fmt"

	"fingerproof/pipeline"

	"github.com/spf13/cobra"
)

func newLintCommand(env *environment) *cobra.Command {
	var options workOptions
	cmd := &cobra.Command{
		Use:   "lint PATH",
		Short: "Find faults in the fingering of a score, a folder or a collection",
		Long: `lint reads PATH and lists what is wrong with the fingering that stands in it, and
where no fingering fits the hand. It writes nothing but the reports asked for;
without --report, text on standard output. ` + "`fingerproof explain RULE`" + ` tells what a
rule checks and why.
` + exitStatusHelp,
		Example: `  fingerproof lint sonatina.musicxml
  fingerproof lint collection.yaml --report json=findings.json --fail-on warning`,
		Args: onePath("lint"),
		RunE: func(cmd *cobra.Command, args []string) error {
			job, err := options.job(args[0])
			if err != nil {
				return err
			}
			if len(options.reports) == 0 {
				options.reports = []string{"text=-"}
			}
			t := &tally{env: env, options: &options}
			bar := &progress{env: env, total: len(job.Collection.Pieces)}
			err = pipeline.Run(cmd.Context(), job, func(w *pipeline.Way, failed error) error {
				bar.clear()
				err := t.add(w, failed)
				bar.step(w.Piece.ID)
				return err
			})
			if err != nil {
				return err
			}
			if err := t.reports(); err != nil {
				return err
			}
			fmt.Fprintf(env.Stderr, "%d pieces, %d notes: %s; %d failed\n", t.pieces, t.notes, t.counts, len(t.failed))
			return t.exit()
		},
	}
	options.add(cmd)
	return cmd
}
