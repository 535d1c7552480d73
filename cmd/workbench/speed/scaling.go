package speed

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strconv"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
)

// scaling measures how time and memory grow with what is worked on, and what a change of policy costs.
type scaling struct {
	floor
	pieces, times int
	longest       string // the score whose measures are written again and again; "" for the middle one
}

func scalingCommand() *cobra.Command {
	m := &scaling{}
	return measurement.Measurement{
		Use:   "scaling",
		Short: "measure how time and memory grow with pieces and measures, what workers give, what a change of policy costs",
		Long: `scaling takes scores of the fingered and the repertoire material, evenly, through the program in programs of
their own (run --excerpts 0, with an empty cache but where it is said), and prints a table:

  so many pieces, and so many times as many: each score so many times, under other names;
  one score, and the same with its measures so many times one after the other;
  one worker, and two, beside what two give where the scores are only parsed and written (see floor);
  the run again: unchanged, with other marks, with another weight of one aim.

Times are those of processors, but for those of workers: these are by the clock and say little where others
work on the machine. The floor is taken before and after each run of workers, and the better one counts.`,
		Fails: "time or memory grows more than is allowed: time 1.05 times in proportion (measures 1.1), memory 1.3 times in all",
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.StringVar(&m.program, "program", "bin/fingerproof", "the program to measure")
			f.IntVar(&m.pieces, "pieces", 100, "scores to take")
			f.IntVar(&m.times, "times", 10, "how many times as much there is of pieces, and of measures")
			f.StringVar(&m.longest, "score", "", "the score whose measures are repeated (default: one of middle length)")
		},
		Run: m.run,
	}.Command()
}

// row is a line of the table: what was done, what it took, and what that is beside something.
type row struct {
	name, ratio string
	took
}

func (m *scaling) run(ctx context.Context, out io.Writer, _ []string) error {
	program, err := filepath.Abs(m.program)
	if err != nil {
		return err
	}
	scores, err := m.sample()
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "scaling-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	p := &programs{floor: &m.floor, ctx: ctx, dir: dir, program: program}
	var rows []row
	var faults []string
	for _, part := range []func(*programs, []string) ([]row, []string, error){m.growing, m.longer, m.sharing, m.policies} {
		more, beyond, err := part(p, scores)
		if err != nil {
			return err
		}
		rows, faults = append(rows, more...), append(faults, beyond...)
	}
	fmt.Fprintf(out, "%d scores, %s, %d processors\n", len(scores), runtime.Version(), runtime.NumCPU())
	fmt.Fprintf(out, "%-46s %9s %12s %9s\n", "", "passed", "processors", "memory")
	for _, r := range rows {
		fmt.Fprintf(out, "%-46s %7.1f s %10.1f s %5d MiB  %s\n", r.name, r.passed.Seconds(), r.processors.Seconds(),
			r.peak>>20, r.ratio)
	}
	if len(faults) > 0 {
		return measurement.Failed("%s", faults[0])
	}
	return nil
}

// sample takes scores evenly from both collections.
func (m *scaling) sample() (scores []string, err error) {
	var all []string
	for _, name := range []string{"fingered", "repertoire"} {
		c, err := opendata.EveryNth(opendata.Place(m.shared, name), 1)
		if err != nil {
			return nil, err
		}
		for i := range c.Pieces {
			all = append(all, c.Path(c.Pieces[i].Score))
		}
	}
	n := min(m.pieces, len(all))
	for k := range n {
		scores = append(scores, all[k*len(all)/n])
	}
	if len(scores) == 0 {
		return nil, errors.New("there are no scores")
	}
	return scores, nil
}

// programs runs the program, each time into a folder of its own.
type programs struct {
	*floor
	ctx          context.Context
	dir, program string
	count        int
}

// work runs the program on a folder; cached says that what earlier runs kept may be used.
func (p *programs) work(folder string, cached bool, more ...string) (took, error) {
	to := filepath.Join(p.dir, "out-"+strconv.Itoa(p.count))
	p.count++
	args := append([]string{"run", folder, "--out", to, "--excerpts", "0"}, more...)
	if !cached {
		args = append(args, "--no-cache")
	}
	t, err := p.time(p.ctx, p.dir, p.program, args)
	return t, errors.Join(err, os.RemoveAll(to))
}

// growing is so many scores, and each of them so many times under another name.
func (m *scaling) growing(p *programs, scores []string) (rows []row, beyond []string, err error) {
	once, often := filepath.Join(p.dir, "once"), filepath.Join(p.dir, "often")
	if err := copies(scores, once); err != nil {
		return nil, nil, err
	}
	if err := os.Mkdir(often, 0o755); err != nil {
		return nil, nil, err
	}
	for k := range m.times {
		for _, s := range scores {
			if err := copyTo(s, filepath.Join(often, fmt.Sprintf("%d-%s", k, filepath.Base(s)))); err != nil {
				return nil, nil, err
			}
		}
	}
	few, err := p.work(once, false)
	if err != nil {
		return nil, nil, err
	}
	many, err := p.work(often, false)
	if err != nil {
		return nil, nil, err
	}
	time, memory := many.processors.Seconds()/few.processors.Seconds(), float64(many.peak)/float64(max(few.peak, 1))
	if time > 1.05*float64(m.times) {
		beyond = append(beyond, fmt.Sprintf("%d times the pieces take %.1f times the time", m.times, time))
	}
	if memory > 1.3 {
		beyond = append(beyond, fmt.Sprintf("%d times the pieces take %.2f times the memory", m.times, memory))
	}
	return []row{
		{fmt.Sprintf("%d pieces", len(scores)), "", few},
		{fmt.Sprintf("%d pieces", m.times*len(scores)), fmt.Sprintf("%.2f times the time, %.2f times the memory", time, memory), many},
	}, beyond, nil
}

// longer is one score, and one of so many times its measures.
func (m *scaling) longer(p *programs, scores []string) (rows []row, beyond []string, err error) {
	score := m.longest
	if score == "" {
		score = scores[len(scores)/2]
	}
	var both [2]took
	for i, times := range []int{1, m.times} {
		folder := filepath.Join(p.dir, fmt.Sprintf("measures-%d", times))
		if err := os.Mkdir(folder, 0o755); err != nil {
			return nil, nil, err
		}
		if err := writeRepeated(score, filepath.Join(folder, "long.musicxml"), times); err != nil {
			return nil, nil, err
		}
		if both[i], err = p.work(folder, false); err != nil {
			return nil, nil, err
		}
	}
	nothing, err := p.time(p.ctx, p.dir, p.program, []string{"version"}) // what the program takes to begin
	if err != nil {
		return nil, nil, err
	}
	ratio := (both[1].processors - nothing.processors).Seconds() / max((both[0].processors-nothing.processors).Seconds(), 0.001)
	if ratio > 1.1*float64(m.times) {
		beyond = append(beyond, fmt.Sprintf("%d times the measures take %.1f times the time", m.times, ratio))
	}
	return []row{
		{"one score: " + filepath.Base(score), "", both[0]},
		{fmt.Sprintf("the same, its measures %d times", m.times), fmt.Sprintf("%.2f times the time", ratio), both[1]},
	}, beyond, nil
}

// sharing is one worker and two, for a run and for the floor.
func (m *scaling) sharing(p *programs, scores []string) (rows []row, beyond []string, err error) {
	self, err := os.Executable()
	if err != nil {
		return nil, nil, err
	}
	folder := filepath.Join(p.dir, "once")
	var runs, floors [2]took
	for i := range 2 {
		workers := strconv.Itoa(i + 1)
		least := func() error {
			t, err := p.time(p.ctx, p.dir, self, []string{"floor", "--workers", workers, "--bare", folder + "-floor", folder})
			if floors[i].passed == 0 || t.passed < floors[i].passed {
				floors[i] = t
			}
			return err
		}
		if err := least(); err != nil {
			return nil, nil, err
		}
		if runs[i], err = p.work(folder, false, "--workers", workers); err != nil {
			return nil, nil, err
		}
		if err := least(); err != nil {
			return nil, nil, err
		}
	}
	gives := func(t [2]took) string {
		return fmt.Sprintf("%.2f times as fast by the clock", t[0].passed.Seconds()/t[1].passed.Seconds())
	}
	return []row{
		{"floor, one worker", "", floors[0]}, {"floor, two workers", gives(floors), floors[1]},
		{"run, one worker", "", runs[0]}, {"run, two workers", gives(runs), runs[1]},
	}, nil, nil
}

// policies is a run that keeps what it comes to, and the run again with nothing changed and with a policy that differs
// in one key.
func (m *scaling) policies(p *programs, _ []string) (rows []row, beyond []string, err error) {
	folder := filepath.Join(p.dir, "once")
	var first took
	for i, change := range []struct{ name, policy string }{
		{"run that keeps what it comes to", "title: one\n"},
		{"again, nothing changed", "title: one\n"},
		{"again, other marks (courtesy digits after rests)", "title: one\ncourtesy:\n  rest: 4\n"},
		{"again, one aim weighs otherwise", "title: one\naims:\n  line: 120\n"},
	} {
		policy := filepath.Join(p.dir, fmt.Sprintf("policy-%d.yaml", i))
		if err := os.WriteFile(policy, []byte(change.policy), 0o644); err != nil {
			return nil, nil, err
		}
		t, err := p.work(folder, true, "--policy", policy)
		if err != nil {
			return nil, nil, err
		}
		r := row{name: change.name, took: t}
		if i == 0 {
			first = t
		} else {
			r.ratio = fmt.Sprintf("%.3f of the first", t.processors.Seconds()/first.processors.Seconds())
		}
		rows = append(rows, r)
	}
	return rows, nil, nil
}
