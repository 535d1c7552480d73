// Command workbench is for the people who work on fingerproof: it fits the engine's tables, measures them against
// printed digits, and shows where they disagree. Each group of measurements is a package below this one.
package main

import (
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/agreement"
	"fingerproof/cmd/workbench/codemutants"
	"fingerproof/cmd/workbench/edition"
	"fingerproof/cmd/workbench/findings"
	"fingerproof/cmd/workbench/formats"
	"fingerproof/cmd/workbench/hands"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/proofs"
	"fingerproof/cmd/workbench/robustness"
	"fingerproof/cmd/workbench/speed"
	"fingerproof/cmd/workbench/suggestions"
	"fingerproof/cmd/workbench/testruns"
)

// groups are the groups of measurements, in the order of --help.
var groups = []struct {
	name     string // of the package
	title    string
	commands func() []*cobra.Command
}{
	{"agreement", "Agreement with printed digits", agreement.Commands},
	{"suggestions", "What the engine suggests", suggestions.Commands},
	{"hands", "Which hand plays what", hands.Commands},
	{"proofs", "Two scores of one work", proofs.Commands},
	{"findings", "Lint", findings.Commands},
	{"edition", "The edition", edition.Commands},
	{"formats", "MusicXML and MEI", formats.Commands},
	{"robustness", "Changes and accidents", robustness.Commands},
	{"speed", "Speed and scale", speed.Commands},
	{"codemutants", "Tests that bite", codemutants.Commands},
	{"testruns", "Runs of the tests", testruns.Commands},
}

func main() {
	if err := workbench().Execute(); err != nil {
		fmt.Fprintln(os.Stderr, "workbench:", err)
		os.Exit(measurement.ExitStatus(err))
	}
}

// workbench is the command with all of its groups.
func workbench() *cobra.Command {
	root := &cobra.Command{
		Use:           "workbench",
		Short:         "fit and measure the engine",
		SilenceUsage:  true,
		SilenceErrors: true,
	}
	for _, g := range groups {
		root.AddGroup(&cobra.Group{ID: g.name, Title: g.title + " (" + g.name + "):"})
		for _, c := range g.commands() {
			c.GroupID = g.name
			root.AddCommand(c)
		}
	}
	return root
}
