package robustness

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/programruns"
)

// hostility runs the program on scores and settings that nobody should have made.
type hostility struct {
	program, collection, keep string
	only                      string // kinds whose names begin so
	cases                     int
	seed                      uint64
	limit                     time.Duration
	list                      bool
}

func hostileCommand() *cobra.Command {
	m := &hostility{}
	return measurement.Measurement{
		Use:   "hostile",
		Short: "run the program on hostile scores and settings: crashes, hangs, torn files, worst time and memory",
		Long: `hostile makes collections of one piece in which one thing is hostile: a score (absurd numbers, crowds,
broken markup, broken bytes, bombs; in MEI wrong ids, circles of copies and more), or a policy, manifest, file of decisions, passed state, results or
fitted weights. It runs the program on each, scores through run with notation, and counts ends that are
no end: panics, faults of the program, statuses that mean nothing, and what takes too long.`,
		Fails: "a crash, a hang, or a torn file",
		Flags: func(f *pflag.FlagSet) {
			f.StringVar(&m.program, "program", "bin/fingerproof", "the program")
			f.StringVar(&m.collection, "collection", "corpus/demo", "the collection that is spoilt; a copy of it is worked on")
			f.IntVar(&m.cases, "cases", 300, "how many cases, scores and settings in turn")
			f.Uint64Var(&m.seed, "seed", 1, "seed of the cases")
			f.DurationVar(&m.limit, "limit", 60*time.Second, "what takes longer hangs")
			f.StringVar(&m.keep, "keep", "", "folder for the cases that fail, and the slowest")
			f.StringVar(&m.only, "only", "", "only the kinds of cases whose names begin so, as MEI")
			f.BoolVar(&m.list, "list", false, "list every case with its time, memory and status")
		},
		Run: m.run,
	}.Command()
}

// ending is how the program ended on a case.
type ending struct {
	kind   string
	status int
	took   time.Duration
	peak   int64 // bytes of memory, 0 where the system does not say
	fault  string
	said   string // on the standard error output
}

// placed is the place that an error of a score in MEI has to name.
var placed = regexp.MustCompile(`study\.mei:\d+:\d+`)

// kindOfCase makes one sort of case in a fresh copy of the collection, and says what to run on it.
type kindOfCase struct {
	name string
	make func(rng *rand.Rand, dir string) ([]string, error)
}

func (m *hostility) run(ctx context.Context, out io.Writer, _ []string) error {
	program, err := filepath.Abs(m.program)
	if err != nil {
		return err
	}
	base, err := os.MkdirTemp("", "hostile-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(base)
	if err := spoilable(program, m.collection, base); err != nil {
		return err
	}
	kinds := slices.Concat(hostileScores(), hostileMEI(), hostileSettings())
	kinds = slices.DeleteFunc(kinds, func(k kindOfCase) bool { return !strings.HasPrefix(k.name, m.only) })
	var all []ending
	for i := range m.cases {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		kind := kinds[i%len(kinds)]
		dir := filepath.Join(base, "case")
		if err := errors.Join(os.RemoveAll(dir), os.CopyFS(dir, os.DirFS(filepath.Join(base, "whole")))); err != nil {
			return err
		}
		rng := rand.New(rand.NewPCG(m.seed, uint64(i)))
		args, err := kind.make(rng, dir)
		if err != nil {
			return fmt.Errorf("making case %d (%s): %w", i, kind.name, err)
		}
		e := m.one(ctx, program, dir, args)
		e.kind = kind.name
		if e.fault == "" && e.status == 2 && strings.HasPrefix(kind.name, "MEI") && !placed.MatchString(e.said) {
			first, _, _ := strings.Cut(e.said, "\n")
			e.fault = "names no place: " + first
		}
		if m.list || e.fault != "" {
			fmt.Fprintf(out, "case %d, %s: status %d, %.2f s, %d MiB %s\n", i, kind.name, e.status, e.took.Seconds(), e.peak>>20, e.fault)
		}
		if m.keep != "" && (e.fault != "" || e.took > 5*time.Second) {
			if err := os.CopyFS(filepath.Join(m.keep, fmt.Sprintf("case%d", i)), os.DirFS(dir)); err != nil {
				return err
			}
		}
		all = append(all, e)
	}
	return printEndings(out, kinds, all)
}

// one runs the program on a case.
func (m *hostility) one(ctx context.Context, program, dir string, args []string) ending {
	ctx, cancel := context.WithTimeout(ctx, m.limit)
	defer cancel()
	cmd := exec.CommandContext(ctx, program, args...)
	cmd.Dir = dir
	var said bytes.Buffer
	cmd.Stderr = &said
	cmd.Stdout = io.Discard
	began := time.Now()
	err := cmd.Run()
	e := ending{took: time.Since(began)}
	if cmd.ProcessState != nil {
		e.status, e.peak = cmd.ProcessState.ExitCode(), programruns.PeakMemory(cmd.ProcessState)
	}
	text := said.String()
	e.said = text
	switch {
	case ctx.Err() != nil:
		e.fault = "hangs"
	case strings.Contains(text, "panic:") || strings.Contains(text, "fatal error:") || strings.Contains(text, "goroutine "):
		e.fault = "crashes"
	case strings.Contains(text, "a fault of this program"):
		e.fault = "crashes (and goes on)"
	case e.status < 0 || e.status > 3:
		e.fault = fmt.Sprintf("ends with no status of its own: %v", err)
	case e.status == 2 && strings.TrimSpace(text) == "":
		e.fault = "fails without a word"
	}
	if _, err := wholeFiles(dir); err != nil && e.fault == "" && !spoiltItself(err) {
		e.fault = "leaves a torn file: " + err.Error()
	}
	return e
}

// spoiltItself says that a file that is not whole is one that the case has spoilt.
func spoiltItself(err error) bool {
	for _, room := range []string{"passed/", "out/results/", "out/edition/"} {
		if strings.HasPrefix(err.Error(), room) {
			return true
		}
	}
	return false
}

// printEndings prints the table and says whether all is as it should be.
func printEndings(out io.Writer, kinds []kindOfCase, all []ending) error {
	table := figures.NewTable("", "cases", "refused", "crashes", "hangs", "other", "worst s", "worst MiB")
	total := 0
	row := func(name string, list []ending) {
		counts, worst, peak := [4]int{}, time.Duration(0), int64(0)
		for _, e := range list {
			if e.status == 2 {
				counts[0]++
			}
			switch {
			case strings.HasPrefix(e.fault, "crashes"):
				counts[1]++
			case e.fault == "hangs":
				counts[2]++
			case e.fault != "":
				counts[3]++
			}
			worst, peak = max(worst, e.took), max(peak, e.peak)
		}
		table.Row(name, len(list), counts[0], counts[1], counts[2], counts[3], fmt.Sprintf("%.1f", worst.Seconds()), peak>>20)
		total = counts[1] + counts[2] + counts[3]
	}
	for _, k := range kinds {
		var mine []ending
		for _, e := range all {
			if e.kind == k.name {
				mine = append(mine, e)
			}
		}
		row(k.name, mine)
	}
	row("all", all)
	table.Print(out)
	if total > 0 {
		return measurement.Failed("%d of %d cases did not end as they should", total, len(all))
	}
	return nil
}

// spoilable makes, in base/whole, a collection of the demo's waltz, which has a witness and decisions, run and passed.
func spoilable(program, from, base string) error {
	whole := filepath.Join(base, "whole")
	if err := os.CopyFS(whole, os.DirFS(from)); err != nil {
		return fmt.Errorf("copying the collection: %w", err)
	}
	for _, unread := range []string{"compose", "pieces"} {
		if err := os.RemoveAll(filepath.Join(whole, unread)); err != nil {
			return err
		}
	}
	for _, pattern := range []string{"scores/*", "witnesses/*", "decisions/*"} {
		all, _ := filepath.Glob(filepath.Join(whole, pattern))
		for _, path := range all {
			if strings.HasPrefix(filepath.Base(path), "op12-2-waltz.") {
				continue
			}
			if err := os.Remove(path); err != nil {
				return err
			}
		}
	}
	manifest := "title: Spoilt\nhouse_hand: house-hand.json\npieces:\n  - id: op12-2-waltz\n    score: scores/op12-2-waltz.musicxml\n" +
		"    witnesses:\n      - {siglum: K, score: witnesses/op12-2-waltz.K.musicxml, numbering: modern, responsibility: earlier}\n"
	if err := os.WriteFile(filepath.Join(whole, "collection.yaml"), []byte(manifest), 0o644); err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(whole, "house-hand.json"), fittedNothing(), 0o644); err != nil {
		return err
	}
	for _, args := range [][]string{{"run", "--excerpts", "0", "--fail-on", "never"}, {"pass", "--by", "AB", "--anyway", "whole"}} {
		said, err := exec.Command(program, append(args, whole)...).CombinedOutput()
		if err != nil {
			return fmt.Errorf("%s does not work: %w\n%s", args[0], err, said)
		}
	}
	return nil
}
