package robustness

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/passed"
)

// killCommand kills `run` and `pass` at random points and looks at every file
// that is then there.
func killCommand() *cobra.Command {
	var program, collection string
	var rounds int
	var seed uint64
	c := &cobra.Command{
		Use:   "kill",
		Short: "kill run and pass at random points: is any file torn or lost?",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return killAll(cmd, program, collection, rounds, seed)
		},
	}
	c.Flags().StringVar(&program, "program", "bin/fingerproof", "the program")
	c.Flags().StringVar(&collection, "collection", "corpus/demo", "the collection; a copy of it is worked on")
	c.Flags().IntVar(&rounds, "rounds", 200, "how many times each round kills one of the two")
	c.Flags().Uint64Var(&seed, "seed", 1, "seed of the moments")
	return c
}

func killAll(cmd *cobra.Command, program, collection string, rounds int, seed uint64) error {
	program, err := filepath.Abs(program)
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "kill-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if err := os.CopyFS(dir, os.DirFS(collection)); err != nil {
		return fmt.Errorf("copying the collection: %w", err)
	}
	took := map[string]time.Duration{}
	for _, what := range []string{"run", "pass"} { // whole once: what is whole may not become less
		began := time.Now()
		out, err := exec.Command(program, what, dir).CombinedOutput()
		if e := (*exec.ExitError)(nil); err != nil && (!errors.As(err, &e) || e.ExitCode() != 1) {
			return fmt.Errorf("%s does not work: %w\n%s", what, err, out)
		}
		took[what] = time.Since(began)
	}
	before, err := wholeFiles(dir)
	if err != nil {
		return err
	}
	rng := rand.New(rand.NewPCG(seed, 0))
	killed, torn, lost := 0, 0, 0
	for i := range rounds {
		what := []string{"run", "pass"}[i%2]
		policy := []byte(fmt.Sprintf("extends: %s\n", []string{"study", "performance"}[(i/2)%2]))
		if err := os.WriteFile(filepath.Join(dir, "policy.yaml"), policy, 0o644); err != nil {
			return err
		}
		if what == "pass" { // so that there is something to write
			_ = exec.Command(program, "run", dir).Run() // findings give a status
		}
		ctx, cancel := context.WithTimeout(context.Background(), time.Duration(rng.Int64N(int64(took[what]))))
		p := exec.CommandContext(ctx, program, what, dir)
		p.Cancel = func() error { return p.Process.Signal(syscall.SIGKILL) }
		if err := p.Run(); err != nil && ctx.Err() != nil {
			killed++
		}
		cancel()
		now, err := wholeFiles(dir)
		if err != nil {
			torn++
			fmt.Fprintf(cmd.OutOrStdout(), "round %d, %s: %v\n", i+1, what, err)
		}
		for name := range before {
			if !now[name] && err == nil {
				lost++
				fmt.Fprintf(cmd.OutOrStdout(), "round %d, %s: %s is lost\n", i+1, what, name)
			}
		}
	}
	fmt.Fprintf(cmd.OutOrStdout(), "%d rounds, %d of them killed at work; %d with a torn file, %d files lost\n", rounds, killed, torn, lost)
	if torn+lost > 0 {
		return fmt.Errorf("not every file was whole")
	}
	return nil
}

// wholeFiles lists results, editions, pages and passed states, and reads each:
// the first that is not whole is the error. A passed state must have its text.
func wholeFiles(dir string) (map[string]bool, error) {
	out := map[string]bool{}
	store := passed.In(dir)
	for _, room := range []string{"out", "passed"} {
		err := filepath.WalkDir(filepath.Join(dir, room), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			name, _ := filepath.Rel(dir, path)
			if strings.HasPrefix(d.Name(), ".") { // files half written have such names, and are nobody's
				return nil
			}
			data, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			slashed := filepath.ToSlash(name)
			switch {
			case strings.HasPrefix(slashed, "out/results/"):
				_, err = state.Decode(data)
			case strings.HasPrefix(slashed, "out/review/"):
				if !bytes.Contains(data, []byte("</html>")) {
					err = errors.New("the page does not end")
				}
			case strings.HasPrefix(slashed, "out/edition/"):
				_, err = opendata.ParseScore(name, data)
			case strings.HasPrefix(slashed, "passed/text/"):
				return nil // named by its content, so another one each time; looked at with its state
			case strings.HasPrefix(slashed, "passed/"):
				var st *passed.State
				if st, err = passed.Decode(name, data); err == nil && store.Text(st) == nil {
					err = errors.New("its score is not beside it")
				}
			}
			if err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
			out[slashed] = true
			return nil
		})
		if err != nil {
			return out, err
		}
	}
	return out, nil
}
