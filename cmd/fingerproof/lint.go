package main

import (
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
			if len(options.requests) == 0 {
				options.requests = []request{{"text", "-"}}
			}
			t, err := workThrough(cmd.Context(), env, &options, job, nil)
			if err != nil {
				return err
			}
			return t.close("")
		},
	}
	options.add(cmd)
	return cmd
}
