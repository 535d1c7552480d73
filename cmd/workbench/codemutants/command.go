// Package codemutants measures whether tests bite: it changes a package at many places, one at a time, and counts the changes that its
// tests notice.
package codemutants

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"github.com/spf13/cobra"
)

// Commands lists the commands of the group.
func Commands() []*cobra.Command { return []*cobra.Command{command()} }

func command() *cobra.Command {
	var o Options
	var tests []string
	var file string
	var every, by bool
	c := &cobra.Command{
		Use:   "mutants [PACKAGE...]",
		Short: "change a package at many places, one at a time, and count the changes that its tests notice",
		Long: `mutants draws places of a package (200, by a seed) and changes each in one way: a condition negated, a boundary moved, "and" and "or"
exchanged, an operator exchanged, a constant changed by one (a large one doubled or halved), a statement removed, another value
returned. All changes are built into one test binary, each behind a number; the tests that come by the place run once with each
number on. A change is killed when a test fails, panics or does not end; else it survives.

Without PACKAGE it measures the packages named below, each by its own tests and those of others that are named. Changes that nobody
can notice stand in cmd/workbench/codemutants/equivalent.yaml, each with its reason, and are not counted.

` + listing() + `
EXIT STATUS
  0  measured
  2  the work could not be done`,
		RunE: func(cmd *cobra.Command, args []string) error {
			var err error
			if o.Root, err = moduleRoot(); err != nil {
				return err
			}
			if file == "" {
				file = filepath.Join(o.Root, "cmd", "workbench", "codemutants", "equivalent.yaml")
			}
			if o.Equivalent, err = readEquivalent(file); err != nil {
				return err
			}
			subjects := Subjects
			if len(args) > 0 {
				subjects = nil
				for _, a := range args {
					subjects = append(subjects, subjectOf(a))
				}
			}
			out := cmd.OutOrStdout()
			var results []*Result
			for _, s := range subjects {
				if len(tests) > 0 {
					s.Tests = nil
					for _, t := range tests {
						s.Tests = append(s.Tests, parseTests(t))
					}
				}
				o.Progress = func(done, all int) {
					if done%25 == 0 || done == all {
						fmt.Fprintf(cmd.ErrOrStderr(), "%s: %d of %d\n", s.Package, done, all)
					}
				}
				r, err := Measure(cmd.Context(), s, o)
				if err != nil {
					return err
				}
				results = append(results, r)
				list(out, r, every, by)
			}
			table(out, results)
			return nil
		},
	}
	c.Flags().IntVar(&o.Sample, "sample", 200, "how many places of each package to change")
	c.Flags().Uint64Var(&o.Seed, "seed", 1, "seed of the draw")
	c.Flags().IntVar(&o.Jobs, "jobs", runtime.NumCPU(), "how many changes are tried at the same time")
	c.Flags().DurationVar(&o.Grace, "grace", 4*time.Second, "how long a test may take beyond eight times its own time")
	c.Flags().StringSliceVar(&o.Only, "only", nil, "only the changes with these names, of those drawn")
	c.Flags().StringSliceVar(&tests, "tests", nil, "the tests that count, as PACKAGE or PACKAGE:REGEXP")
	c.Flags().StringVar(&file, "equivalent", "", "the file of changes that nobody can notice")
	c.Flags().BoolVar(&every, "every", false, "list every change, not only those that survive")
	c.Flags().BoolVar(&by, "by", false, "with --every: say which test failed")
	return c
}

func listing() string {
	var b strings.Builder
	for _, s := range Subjects {
		var names []string
		for _, t := range s.Tests {
			name := t.Package
			if t.Run != "" {
				name += ":" + t.Run
			}
			names = append(names, name)
		}
		fmt.Fprintf(&b, "  %-36s by the tests of %s\n", s.Package, strings.Join(names, ", "))
	}
	return b.String()
}

// moduleRoot finds the folder with go.mod, from the current one upwards.
func moduleRoot() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for ; ; dir = filepath.Dir(dir) {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir, nil
		}
		if dir == filepath.Dir(dir) {
			return "", fmt.Errorf("there is no go.mod here or above\nhint: run the command inside the project")
		}
	}
}

var outcomeWords = [...]string{Survived: "survived", NotMet: "not met", Killed: "killed", TimedOut: "killed by time"}

func list(out io.Writer, r *Result, every, by bool) {
	for i, m := range r.Sampled {
		if o := r.Outcomes[i]; every || o == Survived || o == NotMet {
			who := ""
			if by && r.KilledBy[i] != "" {
				who = "  (" + r.KilledBy[i] + ")"
			}
			fmt.Fprintf(out, "%-9s %s/%s%s\n", outcomeWords[o], r.Subject.Package, m, who)
		}
	}
	for _, m := range r.NotCompiled {
		fmt.Fprintf(out, "left out (does not build) %s/%s\n", r.Subject.Package, m)
	}
}

func table(out io.Writer, results []*Result) {
	fmt.Fprintf(out, "%-36s %7s %6s %11s %6s %7s %8s %9s %7s %6s\n", "package", "places", "drawn", "equivalent", "tried", "killed", "by time", "survived", "not met", "share")
	for _, r := range results {
		n := len(r.Sampled)
		fmt.Fprintf(out, "%-36s %7d %6d %11d %6d %7d %8d %9d %7d   %d.%02d\n", r.Subject.Package, r.Found, n+len(r.Equivalent)+len(r.NotCompiled), len(r.Equivalent), n,
			r.Count(Killed)+r.Count(TimedOut), r.Count(TimedOut), r.Count(Survived), r.Count(NotMet), r.Share()/100, r.Share()%100)
	}
}
