package testruns

import (
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A small module of tests that pass, fail, are skipped and panic is run by the go command itself: what is printed of
// it is what it prints without -json, and what was skipped stands at the end with its reason.
func TestRunIsPrintedAsGoTestDoes(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"go.mod": "module sample\n",
		"a/a_test.go": `package a
import "testing"
func TestPasses(t *testing.T) { t.Log("not told") }
func TestSkipped(t *testing.T) { t.Log("a word before"); t.Skip("no piano is here:\nlook for one") }
func TestParts(t *testing.T) {
	t.Run("left", func(t *testing.T) { t.Skip("no left hand") })
	t.Run("right", func(t *testing.T) {})
}
`,
		"b/b_test.go": `package b
import "testing"
func TestSkippedToo(t *testing.T) { t.Skip("no left hand") }
func TestFails(t *testing.T) { t.Run("inner", func(t *testing.T) { t.Error("one and one is three") }) }
`,
		"c/c_test.go": `package c
import "testing"
func TestPanics(t *testing.T) { t.Log("said before"); panic("no way out") }
`,
		"d/d_test.go": "package d\nvar x int = \"no number\"\n",
		"e/e.go":      "package e\n",
	} {
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	test := func(args ...string) string {
		c := exec.Command("go", append([]string{"test", "-vet=off"}, args...)...)
		c.Dir = dir
		c.Env = append(os.Environ(), "GOFLAGS=-mod=mod", "GOWORK=off")
		out, err := c.CombinedOutput()
		require.Error(t, err, "tests of the sample fail")
		return string(out)
	}
	var out strings.Builder
	also := []string{"npm is not here: nothing is drawn"}
	require.NoError(t, printRun(strings.NewReader(test("-json", "./...")), &out, also))
	run, list, found := strings.Cut(out.String(), "\nSkipped in 5 packages:\n")
	require.True(t, found, out.String())
	require.Equal(t, `- npm is not here: nothing is drawn
- no left hand
    sample/a.TestParts/left
    sample/b.TestSkippedToo
- no piano is here: look for one
    sample/a.TestSkipped
`, list)
	printed := bare(run)
	seen := map[string]bool{}
	for _, line := range bare(test("./...")) {
		if telling := regexp.MustCompile(`^(ok|FAIL|\?|panic:|---) |_test\.go:\d+`).FindString(line + " "); telling != "" {
			require.Contains(t, printed, line, "printed by go test")
			seen[strings.Fields(telling)[0]] = true
		}
	}
	require.Subset(t, slices.Collect(maps.Keys(seen)), []string{"ok", "FAIL", "?", "panic:", "---"})
	require.NotContains(t, run, "not told")
	require.NotContains(t, run, "=== RUN")
}

// events joins lines of what the go command writes.
func events(lines ...string) *strings.Reader {
	return strings.NewReader(strings.Join(lines, "\n") + "\n")
}

func TestNothingSkippedIsSaid(t *testing.T) {
	var out strings.Builder
	run := events(
		`{"Action":"start","Package":"p"}`, `{"Action":"output","Package":"p","Output":"ok  \tp\t0.1s\n"}`,
		`{"Action":"pass","Package":"p"}`,
	)
	require.NoError(t, printRun(run, &out, nil))
	require.Equal(t, "ok  \tp\t0.1s\n\nNothing was skipped in 1 package.\n", out.String())
}

// A run whose end is missing is not taken for whole.
func TestABrokenRunIsAnError(t *testing.T) {
	var out strings.Builder
	run := events(
		`{"Action":"start","Package":"p"}`, `{"Action":"start","Package":"q"}`, `{"Action":"pass","Package":"q"}`,
		`{"Action":"run","Package":"p","Test":"TestIt"}`,
	)
	require.ErrorContains(t, printRun(run, &out, nil), "broke off in p")
}

func TestNoRunIsAnError(t *testing.T) {
	var out strings.Builder
	require.ErrorContains(t, printRun(strings.NewReader("no json\n"), &out, nil), "holds no run of tests")
	require.Equal(t, "no json\n", out.String())
}

var (
	times     = regexp.MustCompile(`\d+\.\d+s`)
	addresses = regexp.MustCompile(`0x[0-9a-f]+|\+0x.*`)
)

// bare gives the lines of a text without what differs from run to run.
func bare(text string) (out []string) {
	for _, line := range strings.Split(text, "\n") {
		out = append(out, strings.Join(strings.Fields(addresses.ReplaceAllString(times.ReplaceAllString(line, ""), "")), " "))
	}
	return out
}
