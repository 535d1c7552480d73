package robustness

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
)

// killing kills `run` and `pass` at random points and looks at every file that is then there.
type killing struct {
	program, collection string
	rounds              int
	seed                uint64
}

func killCommand() *cobra.Command {
	m := &killing{}
	return measurement.Measurement{
		Use:   "kill",
		Short: "kill run and pass at random points: is any file torn or lost?",
		Long: `kill runs and passes a copy of a collection, whole once, and then kills one of the two at a moment
drawn at random, over and over, under changing policies. After each it reads every result, edition, page
and passed state.`,
		Fails: "a file is torn or lost",
		Flags: func(f *pflag.FlagSet) {
			f.StringVar(&m.program, "program", "bin/fingerproof", "the program")
			f.StringVar(&m.collection, "collection", "corpus/demo", "the collection; a copy of it is worked on")
			f.IntVar(&m.rounds, "rounds", 200, "how many times one of the two is killed, in turn")
			f.Uint64Var(&m.seed, "seed", 1, "seed of the moments")
		},
		Run: m.run,
	}.Command()
}

// killable are the commands that are killed, in turn, with what they need to write something.
var (
	killable = []string{"run", "pass"}
	options  = map[string][]string{"pass": {"--by", "AB", "--anyway", "trial"}}
)

func (m *killing) run(_ context.Context, out io.Writer, _ []string) error {
	program, err := filepath.Abs(m.program)
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "kill-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if err := os.CopyFS(dir, os.DirFS(m.collection)); err != nil {
		return fmt.Errorf("copying the collection: %w", err)
	}
	took := map[string]time.Duration{}
	for _, what := range killable { // whole once: what is whole may not become less
		began := time.Now()
		said, err := exec.Command(program, append([]string{what, dir}, options[what]...)...).CombinedOutput()
		if e := (*exec.ExitError)(nil); err != nil && (!errors.As(err, &e) || e.ExitCode() != 1) {
			return fmt.Errorf("%s does not work: %w\n%s", what, err, said)
		}
		took[what] = time.Since(began)
	}
	before, err := wholeFiles(dir)
	if err != nil {
		return err
	}
	rng := rand.New(rand.NewPCG(m.seed, 0))
	killed, torn, lost := 0, 0, 0
	for i := range m.rounds {
		what := killable[i%2]
		policy := fmt.Appendf(nil, "extends: %s\n", []string{"study", "performance"}[(i/2)%2])
		if err := os.WriteFile(filepath.Join(dir, "policy.yaml"), policy, 0o644); err != nil {
			return err
		}
		if what == "pass" { // so that there is something to write
			_ = exec.Command(program, "run", dir).Run() // findings give a status
		}
		if killAfter(time.Duration(rng.Int64N(int64(took[what]))), program, append([]string{what, dir}, options[what]...)...) {
			killed++
		}
		now, err := wholeFiles(dir)
		if err != nil {
			torn++
			fmt.Fprintf(out, "round %d, %s: %v\n", i+1, what, err)
			continue
		}
		for name := range before {
			if !now[name] {
				lost++
				fmt.Fprintf(out, "round %d, %s: %s is lost\n", i+1, what, name)
			}
		}
	}
	fmt.Fprintf(out, "%d rounds, %d of them killed at work; %d with a torn file, %d files lost\n",
		m.rounds, killed, torn, lost)
	if torn+lost > 0 {
		return measurement.Failed("not every file was whole")
	}
	return nil
}

// killAfter runs a program and kills it after some time; false where it had ended by itself.
func killAfter(d time.Duration, program string, args ...string) bool {
	ctx, cancel := context.WithTimeout(context.Background(), d)
	defer cancel()
	p := exec.CommandContext(ctx, program, args...)
	p.Cancel = func() error { return p.Process.Signal(syscall.SIGKILL) }
	return p.Run() != nil && ctx.Err() != nil
}
