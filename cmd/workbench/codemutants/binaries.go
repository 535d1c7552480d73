package codemutants

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// binary is the instrumented test binary of one package.
type binary struct {
	path, dir string
	rapid     bool // its tests draw at random: they get a seed
	tests     []*test
}

// test is one test function of a binary.
type test struct {
	in   *binary
	name string
	took time.Duration
	met  map[int]bool // mutants whose place it comes by
}

// overlay writes the instrumented sources into a folder and gives the file that go build reads.
func overlay(folder string, replaced map[string][]byte) (string, error) {
	files := map[string]string{}
	for at, text := range replaced {
		name := filepath.Join(folder, strconv.Itoa(len(files))+".go")
		if err := os.WriteFile(name, text, 0o644); err != nil {
			return "", fmt.Errorf("writing an instrumented file: %w", err)
		}
		files[at] = name
	}
	list, err := json.Marshal(map[string]any{"Replace": files})
	if err != nil {
		return "", err
	}
	name := filepath.Join(folder, "overlay.json")
	return name, os.WriteFile(name, list, 0o644)
}

// notCompiled is a place at which the compiler refuses the instrumented source.
type notCompiled struct {
	file string // base name of the instrumented file
	line int
}

var compilerPlace = regexp.MustCompile(`(?m)^\S*?([^/\s]+\.go):(\d+):\d+: `)

// compile checks that the instrumented package builds, and gives the places where it does not.
func compile(ctx context.Context, root, pkg, overlay string) ([]notCompiled, error) {
	c := exec.CommandContext(ctx, "go", "build", "-overlay", overlay, "-gcflags=-e", "./"+pkg)
	c.Dir = root
	text, err := c.CombinedOutput()
	if err == nil {
		return nil, nil
	}
	var out []notCompiled
	for _, m := range compilerPlace.FindAllSubmatch(text, -1) {
		line, _ := strconv.Atoi(string(m[2]))
		out = append(out, notCompiled{string(m[1]), line})
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("building %s: %w\n%s", pkg, err, text)
	}
	return out, nil
}

// build makes the test binary of a package with the instrumented sources in it.
func build(ctx context.Context, root, overlay, out string, t Tests) (*binary, error) {
	b := &binary{path: out, dir: filepath.Join(root, filepath.FromSlash(t.Package))}
	c := exec.CommandContext(ctx, "go", "test", "-c", "-vet=off", "-overlay", overlay, "-o", out, "./"+t.Package)
	c.Dir = root
	if text, err := c.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("building the tests of %s: %w\n%s", t.Package, err, text)
	}
	if _, err := os.Stat(out); errors.Is(err, os.ErrNotExist) {
		return b, nil // no test files
	}
	const form = `{{join .TestImports " "}} {{join .XTestImports " "}}`
	c = exec.CommandContext(ctx, "go", "list", "-f", form, "./"+t.Package)
	c.Dir = root
	imports, err := c.Output()
	if err != nil {
		return nil, fmt.Errorf("listing what the tests of %s import: %w", t.Package, err)
	}
	b.rapid = slices.Contains(strings.Fields(string(imports)), "pgregory.net/rapid")
	run := t.Run
	if run == "" {
		run = "."
	}
	list := exec.CommandContext(ctx, out, "-test.list", run)
	list.Dir = b.dir
	names, err := list.Output()
	if err != nil {
		return nil, fmt.Errorf("listing the tests of %s: %w", t.Package, err)
	}
	for name := range strings.FieldsSeq(string(names)) {
		if strings.HasPrefix(name, "Test") || strings.HasPrefix(name, "Fuzz") || strings.HasPrefix(name, "Example") {
			b.tests = append(b.tests, &test{in: b, name: name})
		}
	}
	return b, nil
}

// memory is how much room a test may take, in kilobytes: a mutant that never stops appending must not take the
// machine with it.
const memory = 6_000_000

// run runs tests of a binary with a mutant on (0 for none). It reports whether all passed, and whether time ran out.
func (b *binary) run(
	ctx context.Context, names []string, mutant int, limit time.Duration, met string,
) (passed, late bool, output []byte) {
	ctx, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	args := []string{
		"-c", fmt.Sprintf(`ulimit -v %d 2>/dev/null; exec "$0" "$@"`, memory), b.path,
		"-test.failfast", "-test.parallel=1", "-test.run", "^(" + strings.Join(names, "|") + ")$",
	}
	if b.rapid {
		args = append(args, "-rapid.seed=1", "-rapid.nofailfile", "-rapid.shrinktime=0s")
	}
	c := exec.CommandContext(ctx, "sh", args...)
	c.Dir = b.dir
	c.Env = append(os.Environ(), onVariable+"="+strconv.Itoa(mutant), metVariable+"="+met, "GOMAXPROCS=1")
	c.WaitDelay = time.Second
	text, err := c.CombinedOutput()
	return err == nil, ctx.Err() != nil, text
}

// watch runs each test by itself without a mutant: how long it takes and which mutants it meets.
func (b *binary) watch(ctx context.Context, scratch string) error {
	for _, t := range b.tests {
		file := filepath.Join(scratch, "met")
		if err := os.RemoveAll(file); err != nil {
			return err
		}
		begun := time.Now()
		passed, late, output := b.run(ctx, []string{t.name}, 0, 5*time.Minute, file)
		t.took = time.Since(begun)
		if !passed || late {
			return fmt.Errorf("%s in %s fails without any mutant:\n%s", t.name, b.dir, tail(output))
		}
		numbers, err := os.ReadFile(file)
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			return err
		}
		t.met = map[int]bool{}
		for n := range bytes.FieldsSeq(numbers) {
			if k, err := strconv.Atoi(string(n)); err == nil {
				t.met[k] = true
			}
		}
	}
	return nil
}

func tail(text []byte) []byte { return text[max(len(text)-3000, 0):] }
