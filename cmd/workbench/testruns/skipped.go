package testruns

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/corpus/wording"
)

// skippedCommand prints a run of tests as `go test` does, and ends with what was skipped in it and why, so that no
// check is left out silently.
func skippedCommand() *cobra.Command {
	var also []string
	return measurement.Measurement{
		Use:   "skipped",
		Short: "list what a run of the tests skipped, and why",
		Long: `skipped reads what "go test -json" writes from its standard input. It prints what "go test" prints, and then
a list of all that was skipped and why.`,
		Flags: func(f *pflag.FlagSet) {
			f.StringArrayVar(&also, "also", nil, "what the caller itself left out, and why")
		},
		Run: func(_ context.Context, out io.Writer, _ []string) error {
			return printRun(os.Stdin, out, also)
		},
	}.Command()
}

// event is one line of `go test -json` (documented at `go doc test2json`, and for builds at `go help buildjson`).
type event struct {
	Action, Package, Test, Output string
}

// test names a test of a package.
type test struct{ pkg, name string }

// run is what is known of a run of tests up to a line.
type run struct {
	out     io.Writer
	said    map[test][]string // what a test that has not ended has printed
	order   []test            // of said
	skipped map[string][]test // by reason
	ended   int               // packages that came to an end
	running map[string]bool   // packages that began and have not ended
}

// printRun reads the events of a run of tests and prints what `go test` prints without -v: the line of each package,
// and all that tests say that fail. It fails where the input holds no run, or one that broke off.
func printRun(in io.Reader, out io.Writer, also []string) error {
	r := &run{out: out, said: map[test][]string{}, skipped: map[string][]test{}, running: map[string]bool{}}
	lines := bufio.NewReader(in)
	for {
		line, err := lines.ReadString('\n')
		if line != "" {
			r.line(line)
		}
		if err == io.EOF {
			break
		}
		if err != nil {
			return fmt.Errorf("reading a run of tests: %w", err)
		}
	}
	if r.ended+len(r.running) == 0 {
		return fmt.Errorf("standard input holds no run of tests\nhint: go test -json ./... | go run ./cmd/workbench skipped")
	}
	r.list(also)
	if len(r.running) > 0 {
		return fmt.Errorf(
			"the run of the tests broke off in %s", strings.Join(slices.Sorted(maps.Keys(r.running)), ", "),
		)
	}
	return nil
}

func (r *run) line(line string) {
	var e event
	if json.Unmarshal([]byte(line), &e) != nil || e.Action == "" {
		fmt.Fprint(r.out, line) // what the go command says itself
		return
	}
	t := test{e.Package, e.Test}
	if e.Package != "" && e.Test == "" {
		switch e.Action {
		case "pass", "fail", "skip":
			r.ended++
			delete(r.running, e.Package)
		default:
			r.running[e.Package] = true
		}
	}
	switch {
	case e.Action == "build-output":
		fmt.Fprint(r.out, e.Output)
	case e.Action == "output" && e.Test == "":
		if strings.HasPrefix(e.Output, "FAIL\t") {
			r.addUnended(e.Package)
		}
		if e.Output != "PASS\n" {
			fmt.Fprint(r.out, e.Output)
		}
	case e.Test == "":
	case e.Action == "output":
		if _, known := r.said[t]; !known {
			r.order = append(r.order, t)
		}
		r.said[t] = append(r.said[t], e.Output)
	case e.Action == "fail":
		r.print(t)
	case e.Action == "skip":
		reason := reasonOf(r.said[t])
		r.skipped[reason] = append(r.skipped[reason], t)
		r.forget(t)
	case e.Action == "pass":
		r.forget(t)
	}
}

// print prints what a test has said.
func (r *run) print(t test) {
	for _, line := range r.said[t] {
		if !strings.HasPrefix(line, "=== ") {
			fmt.Fprint(r.out, line)
		}
	}
	r.forget(t)
}

// addUnended prints what the tests of a package said that did not come to an end: it panicked, or its time was over.
func (r *run) addUnended(pkg string) {
	for _, t := range slices.Clone(r.order) {
		if t.pkg == pkg {
			r.print(t)
		}
	}
}

func (r *run) forget(t test) {
	delete(r.said, t)
	r.order = slices.DeleteFunc(r.order, func(o test) bool { return o == t })
}

var logged = regexp.MustCompile(`^\s*\S+\.go:\d+: `)

// reasonOf is what a test that was skipped said last.
func reasonOf(said []string) string {
	var words []string
	for _, line := range said {
		text := strings.TrimSpace(line)
		switch {
		case text == "" || strings.HasPrefix(text, "=== ") || strings.HasPrefix(text, "--- "):
		case logged.MatchString(line):
			words = []string{logged.ReplaceAllString(line, "")}
		default:
			words = append(words, text)
		}
	}
	reason := strings.Join(strings.Fields(strings.Join(words, " ")), " ")
	if reason == "" {
		return "no reason is given"
	}
	return reason
}

// list prints what was skipped, by reason.
func (r *run) list(also []string) {
	looked := wording.Count(r.ended, "package")
	if len(r.skipped)+len(also) == 0 {
		fmt.Fprintf(r.out, "\nNothing was skipped in %s.\n", looked)
		return
	}
	fmt.Fprintf(r.out, "\nSkipped in %s:\n", looked)
	for _, a := range also {
		fmt.Fprintln(r.out, "- "+a)
	}
	for _, reason := range slices.Sorted(maps.Keys(r.skipped)) {
		var names []string
		for _, t := range r.skipped[reason] {
			names = append(names, t.pkg+"."+t.name)
		}
		slices.Sort(names)
		fmt.Fprintf(r.out, "- %s\n    %s\n", reason, strings.Join(names, "\n    "))
	}
}
