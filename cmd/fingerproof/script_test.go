package main

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"fingerproof/corpus/shared"

	"github.com/rogpeppe/go-internal/testscript"
)

// update rewrites what scripts compare with, never what they put in, and never in CI.
var update = flag.Bool("update", false, "rewrite the expected outputs in the scripts")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"fingerproof": func() { os.Exit(mainStatus()) }})
}

// The scripts in testdata/script try the program as its users do: score,
// policy, command, exit status, what is printed. `status N command…` runs a
// command that must end with that status.
func TestScripts(t *testing.T) {
	demo, err := filepath.Abs(shared.InProject("corpus", "demo"))
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		UpdateScripts:       *update && os.Getenv("CI") == "",
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("DEMO", demo)
			env.Setenv("XDG_CACHE_HOME", filepath.Join(env.WorkDir, ".cache")) // what runs keep is kept by the script
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"status": wantStatus, "mei": toMEI},
		Condition: func(condition string) (bool, error) {
			return condition == "engraver" && hasEngraver(), nil
		},
	})
}

func wantStatus(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N command…")
	}
	err := ts.Exec(args[1], args[2:]...)
	got := "0"
	if err != nil {
		got = "?"
		if e, ok := err.(interface{ ExitCode() int }); ok {
			got = string(rune('0' + e.ExitCode()))
		}
	}
	if got != args[0] {
		ts.Fatalf("%v ended with status %s, want %s", args[1:], got, args[0])
	}
}
