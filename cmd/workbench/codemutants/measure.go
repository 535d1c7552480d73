package codemutants

import (
	"cmp"
	"context"
	"fmt"
	"hash/fnv"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"golang.org/x/sync/errgroup"
	"golang.org/x/tools/go/packages"
)

// Options of a measurement.
type Options struct {
	Root   string // the folder with go.mod
	Sample int
	Seed   uint64
	Only   []string // the IDs to measure; all of the sample where empty
	Jobs   int
	// Grace is how long a test may take beyond eight times its own time.
	Grace time.Duration
	// Equivalent tells why a mutant changes nothing that could be noticed, by ID.
	Equivalent map[string]string
	Progress   func(done, all int)
}

// Outcome is what became of one mutant.
type Outcome int

// The outcomes.
const (
	Survived Outcome = iota
	NotMet           // survived: no test comes by
	Killed
	TimedOut // killed: a test did not end
)

// Result is the measurement of one package.
type Result struct {
	Subject     Subject
	Found       int // mutants in the whole package
	Sampled     []*Mutant
	Outcomes    []Outcome
	Equivalent  []*Mutant // of those drawn: known to change nothing; left out
	NotCompiled []*Mutant // of those drawn: no Go program; left out
	KilledBy    []string
}

// Count counts an outcome.
func (r *Result) Count(o Outcome) (n int) {
	for _, x := range r.Outcomes {
		if x == o {
			n++
		}
	}
	return n
}

// Share is the share of the mutants that were killed, in percent, rounded down.
func (r *Result) Share() int {
	if len(r.Sampled) == 0 {
		return 0
	}
	return 100 * (r.Count(Killed) + r.Count(TimedOut)) / len(r.Sampled)
}

// Measure changes a package at as many places as were asked for, one at a time, and runs its tests against each
// change.
func Measure(ctx context.Context, s Subject, o Options) (*Result, error) {
	pkg, sources, err := load(ctx, o.Root, s.Package)
	if err != nil {
		return nil, err
	}
	r := &Result{Subject: s}
	all := find(pkg, sources)
	r.Found = len(all)
	drawn := draw(all, o, r)
	scratch, err := os.MkdirTemp("", "mutants")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(scratch)
	list, err := r.compiled(ctx, pkg, sources, drawn, scratch, o)
	if err != nil {
		return nil, err
	}
	binaries, err := r.binaries(ctx, list, scratch, o)
	if err != nil {
		return nil, err
	}
	r.Outcomes, r.KilledBy = make([]Outcome, len(r.Sampled)), make([]string, len(r.Sampled))
	var group errgroup.Group
	group.SetLimit(o.Jobs)
	var lock sync.Mutex
	done := 0
	for i, m := range r.Sampled {
		group.Go(func() error {
			r.Outcomes[i], r.KilledBy[i] = try(ctx, m, binaries, o.Grace)
			lock.Lock()
			defer lock.Unlock()
			done++
			if o.Progress != nil {
				o.Progress(done, len(r.Sampled))
			}
			return ctx.Err()
		})
	}
	return r, group.Wait()
}

// load reads and types a package.
func load(ctx context.Context, root, path string) (*packages.Package, map[string][]byte, error) {
	const wanted = packages.NeedName | packages.NeedFiles | packages.NeedSyntax |
		packages.NeedTypes | packages.NeedTypesInfo | packages.NeedImports
	list, err := packages.Load(&packages.Config{Context: ctx, Dir: root, Mode: wanted}, "./"+path)
	if err != nil {
		return nil, nil, fmt.Errorf("loading %s: %w", path, err)
	}
	if len(list) != 1 || len(list[0].Errors) > 0 {
		return nil, nil, fmt.Errorf("loading %s: %v\n"+
			"hint: name one package by its folder below go.mod, such as rules/effort", path, list[0].Errors)
	}
	sources := map[string][]byte{}
	for _, name := range list[0].GoFiles {
		if sources[name], err = os.ReadFile(name); err != nil {
			return nil, nil, fmt.Errorf("reading a source file: %w", err)
		}
	}
	return list[0], sources, nil
}

// draw takes a sample: the mutants whose IDs, mixed with the seed, come first. What is drawn depends on nothing else,
// so it stays the same while code about it changes. Equivalent mutants are left out before.
func draw(all []*Mutant, o Options, r *Result) []*Mutant {
	rank := func(m *Mutant) uint64 {
		h := fnv.New64a()
		fmt.Fprintf(h, "%d %s %d", o.Seed, m.ID, o.Seed)
		return h.Sum64()
	}
	order := slices.Clone(all)
	slices.SortStableFunc(order, func(a, b *Mutant) int { return cmp.Compare(rank(a), rank(b)) })
	var out []*Mutant
	for _, m := range order[:min(o.Sample, len(order))] {
		switch {
		case o.Equivalent[m.ID] != "":
			r.Equivalent = append(r.Equivalent, m)
		case len(o.Only) == 0 || slices.Contains(o.Only, m.ID):
			out = append(out, m)
		}
	}
	slices.SortFunc(out, func(a, b *Mutant) int { return cmp.Compare(a.number, b.number) })
	return out
}

// compiled instruments the package, without the mutants that the compiler refuses, and gives the list of replaced
// files.
func (r *Result) compiled(
	ctx context.Context, pkg *packages.Package, sources map[string][]byte, drawn []*Mutant, scratch string, o Options,
) (string, error) {
	for range 20 {
		numbers := 0
		replaced := map[string][]byte{}
		for name, text := range sources {
			var here []*Mutant
			for _, m := range drawn {
				numbers = max(numbers, m.number)
				if m.File == filepath.Base(name) {
					here = append(here, m)
				}
			}
			if len(here) > 0 {
				replaced[name] = instrument(text, here)
			}
		}
		replaced[filepath.Join(filepath.Dir(pkg.GoFiles[0]), "workbench_mutants.go")] = []byte(helperFile(pkg.Name, numbers))
		list, err := overlay(scratch, replaced)
		if err != nil {
			return "", err
		}
		refused, err := compile(ctx, o.Root, r.Subject.Package, list)
		if err != nil {
			return "", err
		}
		if len(refused) == 0 {
			r.Sampled = drawn
			return list, nil
		}
		kept := slices.DeleteFunc(slices.Clone(drawn), func(m *Mutant) bool {
			return slices.Contains(refused, notCompiled{m.File, m.Line})
		})
		if len(kept) == len(drawn) {
			return "", fmt.Errorf("instrumenting %s: it does not build, at %v", r.Subject.Package, refused)
		}
		for _, m := range drawn {
			if !slices.Contains(kept, m) {
				r.NotCompiled = append(r.NotCompiled, m)
			}
		}
		drawn = kept
	}
	return "", fmt.Errorf("instrumenting %s: it does not build", r.Subject.Package)
}

func (r *Result) binaries(ctx context.Context, list, scratch string, o Options) ([]*binary, error) {
	var out []*binary
	for i, t := range r.Subject.Tests {
		b, err := build(ctx, o.Root, list, filepath.Join(scratch, fmt.Sprintf("tests%d", i)), t)
		if err != nil {
			return nil, err
		}
		if err := b.watch(ctx, scratch); err != nil {
			return nil, err
		}
		out = append(out, b)
	}
	return out, nil
}

// quick tests of one binary are run together.
const quick = 400 * time.Millisecond

// try runs the tests that meet a mutant, the quick ones first, until one fails.
func try(ctx context.Context, m *Mutant, binaries []*binary, grace time.Duration) (Outcome, string) {
	var single []*test
	met := false
	for _, b := range binaries {
		var names []string
		limit := grace
		for _, t := range b.tests {
			switch {
			case !t.met[m.number]:
			case t.took < quick:
				names, limit = append(names, t.name), limit+8*t.took
			default:
				single = append(single, t)
			}
		}
		if len(names) == 0 {
			continue
		}
		met = true
		if passed, late, output := b.run(ctx, names, m.number, limit, ""); !passed {
			return killed(late), failing(output, names[0])
		}
	}
	slices.SortStableFunc(single, func(a, b *test) int { return cmp.Compare(a.took, b.took) })
	for _, t := range single {
		if passed, late, _ := t.in.run(ctx, []string{t.name}, m.number, grace+8*t.took, ""); !passed {
			return killed(late), t.name
		}
	}
	if !met && len(single) == 0 {
		return NotMet, ""
	}
	return Survived, ""
}

func killed(late bool) Outcome {
	if late {
		return TimedOut
	}
	return Killed
}

// failing gives the name of the test that failed, by the output of the tests.
func failing(output []byte, otherwise string) string {
	for line := range strings.Lines(string(output)) {
		if name, ok := strings.CutPrefix(strings.TrimSpace(line), "--- FAIL: "); ok {
			return strings.Fields(name)[0]
		}
	}
	return otherwise
}
