package speed

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"

	"github.com/google/pprof/profile"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
)

// guide makes the profile by which the program is built.
type guide struct {
	floor
	times int
	to    string
}

func profileCommand() *cobra.Command {
	m := &guide{}
	return measurement.Measurement{
		Use:   "profile [PATH...]",
		Short: "make the profile by which the program is built anew",
		Long: `profile takes the scores of PATH (default: the fingered and the repertoire scores) through the program
(run --excerpts 0, one at a time, nothing kept from before) and writes where its time went to the file
that the go command looks for beside a program: what is hot is built for speed. Only names of functions
and counts stand in it, no file of this machine. Build the program that it is taken from without one:
go build -pgo=off -o bin/fingerproof ./cmd/fingerproof.`,
		Args: cobra.ArbitraryArgs,
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.StringVar(&m.program, "program", "bin/fingerproof", "the program to measure")
			f.IntVar(&m.every, "every", 18, "take every n-th score")
			f.IntVar(&m.times, "times", 3, "how often to take them through the program")
			f.StringVar(&m.to, "to", "cmd/fingerproof/default.pgo", "the file to write")
		},
		Run: m.run,
	}.Command()
}

func (m *guide) run(ctx context.Context, out io.Writer, args []string) error {
	program, err := filepath.Abs(m.program)
	if err != nil {
		return err
	}
	scores, err := m.scores(args)
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "profile-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	folder := filepath.Join(dir, "scores")
	if err := copies(scores, folder); err != nil {
		return err
	}
	var all []*profile.Profile
	for k := range m.times {
		run := filepath.Join(dir, strconv.Itoa(k))
		file := run + ".prof"
		_, err := m.time(ctx, dir, program, []string{
			"run", folder, "--out", run, "--cache", run + "-cache", "--excerpts", "0", "--workers", "1", "--cpuprofile", file,
		})
		if err != nil {
			return err
		}
		data, err := os.ReadFile(file)
		if err != nil {
			return fmt.Errorf("reading the profile of a run: %w", err)
		}
		p, err := profile.ParseData(data)
		if err != nil {
			return fmt.Errorf("reading the profile of a run: %w", err)
		}
		all = append(all, p)
	}
	sum, err := profile.Merge(all)
	if err != nil {
		return fmt.Errorf("adding up profiles: %w", err)
	}
	nameless(sum)
	to, err := os.Create(m.to)
	if err != nil {
		return err
	}
	err = sum.Write(to)
	fmt.Fprintf(out, "%d scores %d times, %d samples: %s\n", len(scores), m.times, len(sum.Sample), m.to)
	return errors.Join(err, to.Close())
}

// nameless leaves in a profile the functions that the go command looks for, and nothing of the machine or the time.
func nameless(p *profile.Profile) {
	p.TimeNanos, p.Comments, p.DropFrames, p.KeepFrames, p.DocURL = 0, nil, "", "", ""
	for _, m := range p.Mapping {
		m.File, m.BuildID = "", ""
	}
	for _, f := range p.Function {
		f.Filename = filepath.Base(f.Filename)
	}
}
