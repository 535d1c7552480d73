package codemutants

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
)

// measuring is what is asked for.
type measuring struct {
	options    Options
	tests      []string
	equivalent string // file of changes that nobody can notice
	every, by  bool
}

func mutantsCommand() *cobra.Command {
	m := &measuring{}
	return measurement.Measurement{
		Use:   "mutants [PACKAGE...]",
		Short: "change a package at many places, one at a time, and count the changes that its tests notice",
		Long: `mutants draws places of a package (200, by a seed) and changes each in one way: a condition negated, a
boundary moved, "and" and "or" exchanged, an operator exchanged, a constant changed by one (a large one
doubled or halved), a statement removed, another value returned. All changes are built into one test
binary, each behind a number; the tests that come by the place run once with each number on. A change
is killed when a test fails, panics or does not end; else it survives.

Without PACKAGE it measures the packages named below, each by its own tests and those of others that
are named. Changes that nobody can notice stand in cmd/workbench/codemutants/equivalent.yaml, each with
its reason, and are not counted.

` + strings.TrimRight(listing(), "\n"),
		Args: cobra.ArbitraryArgs,
		Flags: func(f *pflag.FlagSet) {
			f.IntVar(&m.options.Sample, "sample", 200, "how many places of each package to change")
			f.Uint64Var(&m.options.Seed, "seed", 1, "seed of the draw")
			f.IntVar(&m.options.Jobs, "jobs", runtime.NumCPU(), "how many changes are tried at the same time")
			f.DurationVar(&m.options.Grace, "grace", 4*time.Second, "how long a test may take beyond eight times its own time")
			f.StringSliceVar(&m.options.Only, "only", nil, "only the changes with these names, of those drawn")
			f.StringSliceVar(&m.tests, "tests", nil, "the tests that count, as PACKAGE or PACKAGE:REGEXP")
			f.StringVar(&m.equivalent, "equivalent", "", "the file of changes that nobody can notice")
			f.BoolVar(&m.every, "every", false, "list every change, not only those that survive")
			f.BoolVar(&m.by, "by", false, "with --every: say which test failed")
		},
		Run: m.run,
	}.Command()
}

func (m *measuring) run(ctx context.Context, out io.Writer, args []string) (err error) {
	o := &m.options
	if o.Root, err = moduleRoot(); err != nil {
		return err
	}
	if m.equivalent == "" {
		m.equivalent = filepath.Join(o.Root, "cmd", "workbench", "codemutants", "equivalent.yaml")
	}
	if o.Equivalent, err = readEquivalent(m.equivalent); err != nil {
		return err
	}
	subjects := Subjects
	if len(args) > 0 {
		subjects = nil
		for _, a := range args {
			subjects = append(subjects, subjectOf(a))
		}
	}
	var results []*Result
	for _, s := range subjects {
		if len(m.tests) > 0 {
			s.Tests = nil
			for _, t := range m.tests {
				s.Tests = append(s.Tests, parseTests(t))
			}
		}
		o.Progress = func(done, all int) {
			if done%25 == 0 || done == all {
				fmt.Fprintf(os.Stderr, "%s: %d of %d\n", s.Package, done, all)
			}
		}
		r, err := Measure(ctx, s, *o)
		if err != nil {
			return err
		}
		results = append(results, r)
		list(out, r, m.every, m.by)
	}
	table(results).Print(out)
	return nil
}

// listing names the packages that are measured where none is named, and their tests.
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

// list lists the changes of a package that survived, or every one.
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

// table counts the changes of each package.
func table(results []*Result) *figures.Table {
	t := figures.NewTable(
		"package", "places", "drawn", "equivalent", "tried", "killed", "by time", "survived", "not met", "share")
	for _, r := range results {
		n := len(r.Sampled)
		t.Row(r.Subject.Package, r.Found, n+len(r.Equivalent)+len(r.NotCompiled), len(r.Equivalent), n,
			r.Count(Killed)+r.Count(TimedOut), r.Count(TimedOut), r.Count(Survived), r.Count(NotMet),
			fmt.Sprintf("%d.%02d", r.Share()/100, r.Share()%100))
	}
	return t
}
