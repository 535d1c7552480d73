package main

import (
	"fmt"
	"os"
	"path/filepath"

	"fingerproof/reports/engrave"

	"github.com/spf13/cobra"
)

// engraverCommand is how this program calls itself to draw: a process of its own can be stopped wherever it is.
const engraverCommand = "engraver"

func newEngraverCommand(env *environment) *cobra.Command {
	return &cobra.Command{
		Use:    engraverCommand + " CACHE",
		Short:  "Draw what a run orders on standard input; runs start this by themselves",
		Long:   "engraver draws for a run, which starts it by itself. CACHE is where the prepared engraver lies.\n" + exitStatusHelp,
		Hidden: true,
		Args:   cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return engrave.Serve(cmd.Context(), engrave.Options{CacheDir: args[0]}, env.Stdin, env.Stdout)
		},
	}
}

// engraverCache is where the prepared engraver is kept.
func engraverCache() (string, error) {
	cache, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("looking for a folder to keep the engraver in: %w", err)
	}
	return filepath.Join(cache, "fingerproof"), nil
}
