package main

import (
	"encoding/json"
	"fmt"
	"os"

	"fingerproof/corpus/files"
	"fingerproof/corpus/source"

	"github.com/spf13/cobra"
)

func newTakeBackCommand(env *environment) *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "take-back EDITION EDITS",
		Short: "Give the source's bytes back from a marked score and its recorded edits",
		Long: `take-back undoes what run spliced into a score: from edition/NAME and
edits/NAME.json it gives the source back, byte for byte, and checks it.
` + exitStatusHelp,
		Example: "  fingerproof take-back out/edition/op1.musicxml out/edits/op1.musicxml.json --out op1.musicxml",
		Args:    cobra.ExactArgs(2),
		RunE: func(_ *cobra.Command, args []string) error {
			edition, err := files.ReadNamed(args[0], files.StateLimit)
			if err != nil {
				return fmt.Errorf("reading the edition: %w", err)
			}
			text, err := files.ReadNamed(args[1], files.StateLimit)
			if err != nil {
				return fmt.Errorf("reading the edits: %w", err)
			}
			var record source.Record
			if err := json.Unmarshal(text, &record); err != nil {
				return fmt.Errorf("reading the edits %s: %w", args[1], err)
			}
			data, err := source.TakeBack(edition, &record, source.DefaultLimits())
			if err != nil {
				return err
			}
			if out == "-" {
				_, err = env.Stdout.Write(data)
				return err
			}
			if _, err := os.Lstat(out); err == nil {
				return fmt.Errorf("%s is there already; nothing was written", out)
			}
			return files.Replace(out, nil, data)
		},
	}
	cmd.Flags().StringVar(&out, "out", "-", "file to write, which must not exist yet; - for standard output")
	return cmd
}
