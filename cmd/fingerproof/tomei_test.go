package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"

	"fingerproof/reports/engrave"
)

// toMEI writes the scores of folders as the MEI that the engraver makes of them, in their place: mei FOLDER…. Its version
// of MEI is one to come; the documents are called what they keep to, MEI 5.1. The program finds the engraver made ready.
func toMEI(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: mei FOLDER…")
	}
	ctx := context.Background()
	press, err := engrave.Open(ctx, engrave.Options{Package: engrave.FindPackage("."), CacheDir: filepath.Join(ts.Getenv("XDG_CACHE_HOME"), "fingerproof")})
	ts.Check(err)
	defer press.Close(ctx)
	worker, err := press.Worker(ctx)
	ts.Check(err)
	defer worker.Close(ctx)
	for _, folder := range args {
		files, err := filepath.Glob(filepath.Join(ts.MkAbs(folder), "*.musicxml"))
		ts.Check(err)
		for _, file := range files {
			data, err := os.ReadFile(file)
			ts.Check(err)
			ts.Check(worker.Load(ctx, data))
			mei, err := worker.MEI(ctx)
			ts.Check(err)
			text := strings.Replace(string(mei), `meiversion="6.0-dev"`, `meiversion="5.1"`, 1)
			ts.Check(os.WriteFile(strings.TrimSuffix(file, ".musicxml")+".mei", []byte(text), 0o644))
			ts.Check(os.Remove(file))
		}
	}
}

// hasEngraver says whether the engraver is installed.
func hasEngraver() bool { return engrave.FindPackage(".") != "" }
