package codemutants

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// sample is a module whose tests notice some changes and not others.
var sample = map[string]string{
	"go.mod": "module sample\n\ngo 1.26\n",
	"fingers/fingers.go": `package fingers

const fingers = 5

// Valid holds for 1 to 5.
func Valid(f int) bool { return f >= 1 && f <= fingers }

// Sum is the sum of the digits below n, a few at a time.
func Sum(n int) (sum int) {
	for i := 0; i < n; i++ {
		if i%2 == 1 {
			continue
		}
		sum += i
	}
	return sum
}

func unused(a, b uint8) uint8 {
	return a<<1 | b
}

var table = [...]int{1: 100, 2: 3}
`,
	"fingers/fingers_test.go": `package fingers

import "testing"

func TestValid(t *testing.T) {
	for f, want := range map[int]bool{0: false, 1: true, 3: true, 6: false} {
		if Valid(f) != want {
			t.Fatal(f)
		}
	}
}

func TestSum(t *testing.T) {
	if Sum(5) != 6 || Sum(0) != 0 {
		t.Fatal(Sum(5))
	}
}
`,
}

func measured(t *testing.T, o Options) *Result {
	root := t.TempDir()
	for name, text := range sample {
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(root, name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(root, name), []byte(text), 0o644))
	}
	o.Root, o.Jobs, o.Grace = root, 2, 2*time.Second
	r, err := Measure(context.Background(), subjectOf("./fingers"), o)
	require.NoError(t, err)
	require.Empty(t, r.NotCompiled)
	return r
}

// outcomes lists what became of each change, by the change.
func (r *Result) outcomes() map[string]Outcome {
	out := map[string]Outcome{}
	for i, m := range r.Sampled {
		out[m.Func+": "+m.Was+" → "+m.Now] = r.Outcomes[i]
	}
	return out
}

func TestChangesThatTestsNotice(t *testing.T) {
	if testing.Short() {
		t.Skip("builds test binaries")
	}
	r := measured(t, Options{Sample: 1000})
	got := r.outcomes()
	for change, want := range map[string]Outcome{
		"Valid: f >= 1 → !(f >= 1)":                              Killed,
		"Valid: f >= 1 → f > 1":                                  Killed,
		"Valid: f <= fingers → f < fingers":                      NotMet, // no test asks for 5
		"Valid: f >= 1 && f <= fingers → f >= 1 || f <= fingers": Killed,
		"Valid: fingers → fingers + 1":                           Killed,
		"Valid: fingers → fingers − 1":                           Survived,
		"Sum: continue → (nothing)":                              Killed,
		"Sum: sum += i → sum −= i":                               Killed,
		"Sum: sum += i → (nothing)":                              Killed,
		"Sum: i%2 → i * 2":                                       Killed,
		"Sum: i < n → !(i < n)":                                  Killed,
		"Sum: sum → sum + 1":                                     Killed,
		"unused: a<<1 → a >> 1":                                  NotMet,
		"unused: a<<1 | b → a<<1 & b":                            NotMet,
		"var table: 100 → 100 · 2":                               Survived,
		"var table: 100 → 100 / 2":                               Survived,
		"var table: 3 → 3 + 1":                                   Survived,
	} {
		have, listed := got[change]
		require.True(t, listed, "%s is not among %v", change, got)
		require.Equal(t, want, have, change)
	}
	require.NotContains(t, got, "var table: 1 → 1 + 1", "an index of an array has to stay a constant")
	require.Equal(t, len(r.Sampled), r.Count(Killed)+r.Count(TimedOut)+r.Count(Survived)+r.Count(NotMet))
}

func TestADrawDependsOnTheSeedAlone(t *testing.T) {
	if testing.Short() {
		t.Skip("builds test binaries")
	}
	r := measured(t, Options{Sample: 5, Seed: 1})
	require.Len(t, r.Sampled, 5)
	ids := func(list []*Mutant) (out []string) {
		for _, m := range list {
			out = append(out, m.ID)
		}
		slices.Sort(out)
		return out
	}
	all := []*Mutant{{ID: "a", number: 1}, {ID: "b", number: 2}, {ID: "c", number: 3}, {ID: "d", number: 4}}
	one := ids(draw(all, Options{Sample: 2, Seed: 1}, &Result{}))
	slices.Reverse(all)
	again := ids(draw(all, Options{Sample: 2, Seed: 1}, &Result{}))
	require.Equal(t, one, again, "the order of the source does not matter")
	left := &Result{}
	require.Len(t, draw(all, Options{Sample: 2, Seed: 1, Equivalent: map[string]string{one[0]: "says nothing"}}, left), 1)
	require.Len(t, left.Equivalent, 1, "what nobody can notice is left out, and said")
}

func TestEquivalentChangesGiveTheirReason(t *testing.T) {
	file := filepath.Join(t.TempDir(), "equivalent.yaml")
	write := func(text string) { require.NoError(t, os.WriteFile(file, []byte(text), 0o644)) }
	write("- {id: a1, change: x, reason: it only makes room}\n")
	list, err := readEquivalent(file)
	require.NoError(t, err)
	require.Equal(t, map[string]string{"a1": "it only makes room"}, list)
	write("- {id: a1, change: x}\n")
	_, err = readEquivalent(file)
	require.ErrorContains(t, err, "lacks its id, change or reason")
	write("- {id: a1, change: x, reason: y}\n- {id: a1, change: x, reason: y}\n")
	_, err = readEquivalent(file)
	require.ErrorContains(t, err, "stands twice")
}

// The packages measured where none is named, and the tests named for them, are there.
func TestSubjectsAreThere(t *testing.T) {
	for _, s := range Subjects {
		require.DirExists(t, filepath.Join("..", "..", "..", s.Package))
		for _, tests := range s.Tests {
			require.DirExists(t, filepath.Join("..", "..", "..", tests.Package))
		}
	}
	_, err := readEquivalent("equivalent.yaml")
	require.NoError(t, err)
}
