package speed

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
)

// floor measures a run beside the floor: the same scores unpacked, parsed and written again, and nothing else.
type floor struct {
	shared, program string
	every, chunk    int
	workers         int
	most            float64
	byPart          bool
	bare            string // a folder: take the scores named to the floor alone, and write them there
}

func floorCommand() *cobra.Command {
	m := &floor{}
	return measurement.Measurement{
		Use:   "floor [PATH...]",
		Short: "measure a run without notation beside unpacking, parsing and writing the same scores",
		Long: `floor takes the scores of PATH (default: the fingered and the repertoire scores) in small groups. Each
group is taken to the floor (unpacked, parsed with etree, written with etree) and through the program
(run --excerpts 0), in programs of their own, with as many workers, in turn, so that what else the machine
does meanwhile burdens both. It prints for both the time that passed and the time of processors, and how
many times the floor a run takes. The times of processors are the ones to compare where others work on
the machine. The second run of each group finds everything unchanged. With --by-part each group goes
through the program once more, for what the parts of a run take, in floors; see what is largest before
you make anything faster.`,
		Args:  cobra.ArbitraryArgs,
		Fails: "a run takes more processor time than --most times the floor",
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.StringVar(&m.program, "program", "bin/fingerproof", "the program to measure")
			f.IntVar(&m.every, "every", 1, "take every n-th score")
			f.IntVar(&m.chunk, "group", 30, "scores in a group")
			f.IntVar(&m.workers, "workers", runtime.GOMAXPROCS(0), "scores worked on at once")
			f.Float64Var(&m.most, "most", 0, "fail where a run takes more than so many times the floor; 0: never")
			f.BoolVar(&m.byPart, "by-part", false, "print what each part of a run takes, in floors")
			f.StringVar(&m.bare, "bare", "", "")
			_ = f.MarkHidden("bare") // what the command asks of itself
		},
		Run: m.run,
	}.Command()
}

// took is what programs took, summed.
type took struct {
	passed, processors time.Duration
	peak               int64 // the most memory, in bytes
}

func (t *took) add(o took) {
	t.passed, t.processors, t.peak = t.passed+o.passed, t.processors+o.processors, max(t.peak, o.peak)
}

func (m *floor) run(ctx context.Context, out io.Writer, args []string) error {
	if m.bare != "" {
		return toTheFloor(args, m.bare, m.workers)
	}
	program, err := filepath.Abs(m.program)
	if err != nil {
		return err
	}
	self, err := os.Executable()
	if err != nil {
		return err
	}
	scores, err := m.scores(args)
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "floor-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	workers := strconv.Itoa(m.workers)
	var least, first, again took
	byPart := map[string]int64{}
	for g := 0; g*m.chunk < len(scores); g++ {
		group := scores[g*m.chunk : min((g+1)*m.chunk, len(scores))]
		folder := filepath.Join(dir, strconv.Itoa(g))
		if err := copies(group, folder); err != nil {
			return err
		}
		steps := []struct {
			sum  *took
			name string
			args []string
		}{
			{&least, self, []string{"floor", "--workers", workers, "--bare", folder + "-floor", folder}},
			{&first, program, []string{"run", folder, "--out", folder + "-run", "--excerpts", "0", "--workers", workers}},
			{&again, program, []string{"run", folder, "--out", folder + "-run", "--excerpts", "0", "--workers", workers}},
		}
		for _, s := range steps {
			one, err := m.time(ctx, dir, s.name, s.args)
			if err != nil {
				return err
			}
			s.sum.add(one)
		}
		if m.byPart {
			run := func(args []string) error {
				_, err := m.time(ctx, dir, program, args)
				return err
			}
			if err := m.profiled(run, dir, folder, workers, byPart); err != nil {
				return err
			}
		}
		if err := os.RemoveAll(folder + "-run"); err != nil {
			return err
		}
	}
	fmt.Fprintf(out, "%d scores in groups of %d, %d workers, %s\n", len(scores), m.chunk, m.workers, runtime.Version())
	fmt.Fprintf(out, "%-28s %10s %12s\n", "", "passed", "processors")
	for _, row := range []struct {
		name string
		took took
	}{
		{"floor: parse and write", least}, {"run", first}, {"run again, nothing changed", again},
	} {
		fmt.Fprintf(out, "%-28s %8.1f s %10.1f s\n", row.name, row.took.passed.Seconds(), row.took.processors.Seconds())
	}
	ratio := first.processors.Seconds() / least.processors.Seconds()
	fmt.Fprintf(out, "run: %.2f times the floor by processors, %.2f by the clock; again: %.3f of the first run\n",
		ratio, first.passed.Seconds()/least.passed.Seconds(), again.processors.Seconds()/first.processors.Seconds())
	writeParts(out, byPart, ratio)
	if m.most > 0 && ratio > m.most {
		return measurement.Failed("a run takes %.2f times the floor, more than %.2f", ratio, m.most)
	}
	return nil
}

// scores lists every n-th score of folders.
func (m *floor) scores(paths []string) (scores []string, err error) {
	if len(paths) == 0 {
		paths = []string{opendata.Place(m.shared, "fingered"), opendata.Place(m.shared, "repertoire")}
	}
	for _, path := range paths {
		c, err := opendata.EveryNth(path, m.every)
		if err != nil {
			return nil, err
		}
		for i := range c.Pieces {
			scores = append(scores, c.Path(c.Pieces[i].Score))
		}
	}
	if len(scores) == 0 {
		return nil, errors.New("there are no scores")
	}
	return scores, nil
}

// time runs a program to its end, with a cache of its own below dir.
func (m *floor) time(ctx context.Context, dir, name string, args []string) (took, error) {
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Env = append(os.Environ(), "XDG_CACHE_HOME="+filepath.Join(dir, "cache"))
	begun := time.Now()
	said, err := cmd.CombinedOutput()
	passed := time.Since(begun)
	if e := (*exec.ExitError)(nil); err != nil && (!errors.As(err, &e) || e.ExitCode() == 130 || e.ExitCode() < 0) {
		return took{}, fmt.Errorf("%s %v: %w\n%s", name, args, err, said)
	}
	s := cmd.ProcessState
	return took{passed, s.UserTime() + s.SystemTime(), programruns.PeakMemory(s)}, nil
}

// copies puts copies of files into a new folder.
func copies(files []string, folder string) error {
	if err := os.Mkdir(folder, 0o755); err != nil {
		return err
	}
	for _, f := range files {
		if err := copyTo(f, filepath.Join(folder, filepath.Base(f))); err != nil {
			return err
		}
	}
	return nil
}

func copyTo(from, to string) error {
	data, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	return os.WriteFile(to, data, 0o644)
}
