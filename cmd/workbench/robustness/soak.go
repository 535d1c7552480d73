package robustness

import (
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
)

// soaking works on one collection for a long time in every unfriendly way at once, and looks after each step whether
// anything is torn, lost or falsely green.
type soaking struct {
	program, collection string
	duration            time.Duration
	seed                uint64

	out     io.Writer
	dir     string // the collection
	disk    string // a small file system to fill; "" where none can be had
	rng     *rand.Rand
	kept    map[string][]byte // people's files as they were last written, by their path in the collection
	decided int               // decisions that were acknowledged
	counts  map[string]*stepCount
}

type stepCount struct{ done, killed, torn, lost, green int }

func soakCommand() *cobra.Command {
	m := &soaking{}
	return measurement.Measurement{
		Use:   "soak",
		Short: "kills, full disks, two programs at once and edits under way, for a time: torn, lost, falsely green?",
		Long: `soak works on a copy of a collection. Each step, drawn at random, kills a command at work, starts two or
sixteen at once, fills the disk under one (a small file system, where root may mount one), or edits a score
while one reads it. After each it reads every result, edition, page and passed state, holds people's
scores, manifest, policy and decisions against what they wrote, and now and then changes a note of a
passed piece: check --changed must then name the piece.`,
		Fails: "a file is torn or lost, or check is green where something changed",
		Flags: func(f *pflag.FlagSet) {
			f.StringVar(&m.program, "program", "bin/fingerproof", "the program")
			f.StringVar(&m.collection, "collection", "corpus/demo", "the collection; a copy of it is worked on")
			f.DurationVar(&m.duration, "for", time.Hour, "how long")
			f.Uint64Var(&m.seed, "seed", 1, "seed of the steps and moments")
		},
		Run: m.run,
	}.Command()
}

func (m *soaking) run(ctx context.Context, out io.Writer, _ []string) (err error) {
	if m.program, err = filepath.Abs(m.program); err != nil {
		return err
	}
	base, err := os.MkdirTemp("", "soak-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(base)
	m.out, m.dir, m.rng = out, filepath.Join(base, "edition"), rand.New(rand.NewPCG(m.seed, 0))
	m.counts = map[string]*stepCount{}
	if err := m.prepare(base); err != nil {
		return err
	}
	disk, unmount, why := smallDisk(base)
	if m.disk = disk; disk == "" {
		fmt.Fprintf(out, "no disk is filled: %s\n", why)
	} else {
		defer unmount()
	}
	steps := m.steps()
	names := slices.Sorted(maps.Keys(steps))
	for end := time.Now().Add(m.duration); time.Now().Before(end) && ctx.Err() == nil; {
		name := names[m.rng.IntN(len(names))]
		if m.counts[name] == nil {
			m.counts[name] = &stepCount{}
		}
		c := m.counts[name]
		c.done++
		if err := steps[name](c); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		if _, err := wholeFiles(m.dir); err != nil {
			c.torn++
			fmt.Fprintf(out, "%s: %v\n", name, err)
		}
		m.lookForLosses(name, c)
	}
	return m.print(names)
}

func (m *soaking) print(names []string) error {
	table := figures.NewTable("", "steps", "killed", "torn", "lost", "falsely green")
	var all stepCount
	for _, n := range names {
		c := m.counts[n]
		if c == nil {
			c = &stepCount{}
		}
		table.Row(n, c.done, c.killed, c.torn, c.lost, c.green)
		all = stepCount{all.done + c.done, all.killed + c.killed, all.torn + c.torn, all.lost + c.lost, all.green + c.green}
	}
	table.Row("all", all.done, all.killed, all.torn, all.lost, all.green)
	table.Print(m.out)
	if all.done == 0 {
		return errors.New("the time was too short for a single step")
	}
	if all.torn+all.lost+all.green > 0 {
		return measurement.Failed("something was torn, lost or falsely green")
	}
	return nil
}

// prepare lays out the collection, runs and passes it whole, and keeps what people wrote.
func (m *soaking) prepare(base string) error {
	if err := spoilable(m.program, m.collection, base); err != nil {
		return err
	}
	if err := os.Rename(filepath.Join(base, "whole"), m.dir); err != nil {
		return err
	}
	if said, err := exec.Command("git", "-C", m.dir, "init", "-q").CombinedOutput(); err != nil {
		return fmt.Errorf("git init: %w\n%s", err, said)
	}
	m.kept = map[string][]byte{}
	for _, name := range []string{
		"scores/op12-2-waltz.musicxml", "witnesses/op12-2-waltz.K.musicxml", "collection.yaml", "policy.yaml",
		"decisions/op12-2-waltz.WK.yaml", "decisions/op12-2-waltz.PB.yaml",
	} {
		data, err := os.ReadFile(filepath.Join(m.dir, filepath.FromSlash(name)))
		if err != nil {
			return err
		}
		m.kept[name] = data
	}
	return nil
}
