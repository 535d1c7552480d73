package main

import (
	"fmt"
	"io"
	"runtime"
	"runtime/debug"
	"strings"

	"fingerproof/pipeline"
	"fingerproof/reports/engrave"
	"fingerproof/rules/hands"

	"github.com/spf13/cobra"
)

func newVersionCommand(env *environment) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Say what this program was built from, and with which weights it works",
		Long: `version says from which commit and for which system this program was built, and
what its results depend on: the version of the engine, the sums of the tables of
weights that come with it, and the engraver it asks for.
` + exitStatusHelp,
		Args: cobra.NoArgs,
		RunE: func(_ *cobra.Command, _ []string) error {
			writeVersion(env.Stdout)
			return nil
		},
	}
}

// versionTold is the function of templates that says the version: it is asked where it is printed, since the tables that it
// names would be read at every start.
const versionTold = "versionTold"

func init() {
	cobra.AddTemplateFunc(versionTold, func() string {
		var b strings.Builder
		writeVersion(&b)
		return b.String()
	})
}

func writeVersion(w io.Writer) {
	fmt.Fprintf(w, "fingerproof %s\n", builtFrom())
	fmt.Fprintf(w, "built for     %s/%s by %s\n", runtime.GOOS, runtime.GOARCH, runtime.Version())
	fmt.Fprintf(w, "engine        %s\n", pipeline.EngineVersion)
	weights := pipeline.ShippedWeights()
	fmt.Fprintf(w, "weights       %s, %s\n", weights.Table().Name, weights.Sum)
	fmt.Fprintf(w, "hands         %s\n", hands.ShippedSum())
	fmt.Fprintf(w, "rules         %s\n", pipeline.RulesSum())
	fmt.Fprintf(w, "engraver      Verovio %s, a package of its own that is not in this program\n", engrave.Version())
}

// builtFrom names the commit as the Go command recorded it: "commit 0123456789ab of 2026-01-02, changed since".
func builtFrom() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "of an unknown build"
	}
	said := map[string]string{}
	for _, s := range info.Settings {
		said[s.Key] = s.Value
	}
	if said["vcs.revision"] == "" {
		if v := info.Main.Version; v != "" && v != "(devel)" {
			return v
		}
		return "of a build that recorded no commit"
	}
	text := "commit " + said["vcs.revision"][:min(12, len(said["vcs.revision"]))]
	if day, _, dated := strings.Cut(said["vcs.time"], "T"); dated {
		text += " of " + day
	}
	if said["vcs.modified"] == "true" {
		text += ", changed since"
	}
	return text
}
