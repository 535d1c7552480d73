package speed

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/google/pprof/profile"
)

// part is a part of what a run does, by the functions that it is done in.
type part struct {
	name string
	// Functions, each with the folder of its package: pipeline.readScore. What is done in one of them, and in whatever it
	// calls, belongs to the part, unless a part before it in the list has it.
	in []string
}

// parts are all parts of a run, those within others first. A test looks for each function in the code.
var parts = []part{
	{"garbage, beside the work", []string{"runtime.gcBgMarkWorker", "runtime.bgsweep", "runtime.bgscavenge"}},
	{"other hands, for the page's curves", []string{"rules/engine.(*Worker).moreForHands"}},
	{"search without the digits, for lint", []string{"pipeline/4_stages/17_inspect.UnboundOf"}},
	{"what lint finds once all is taken", []string{"pipeline.(*PieceRun).foundIfTaken"}},
	{"redistributions", []string{"pipeline.redistributeNotes"}},
	{"search: the network", []string{"rules/learned.(*Network).Says"}},
	{"search: tempo of practice", []string{"rules/engine.(*Worker).practice"}},
	{"search: grips and their prices", []string{"rules/engine.(*Worker).price"}},
	{"search: effort by criterion", []string{"rules/engine.(*report).explain"}},
	{"search: the passes", []string{"rules/engine.(*Worker).Finger"}},
	{"search: what is remembered, lines", []string{"pipeline.suggestFingers", "pipeline.setBeside"}},
	{"open: unpacking", []string{"pipeline.openScore"}},
	{"read: tokens, tree, music", []string{"pipeline.readScore"}},
	{"hands", []string{"pipeline.findHands"}},
	{"returns", []string{"pipeline.findReturns"}},
	{"whose, decided, tempo, leading, bound", []string{
		"pipeline.readWitnesses", "pipeline.attributeDigits", "pipeline.placeDecisions", "pipeline.findTempo",
		"pipeline.findLeading", "pipeline.bindDigits", "pipeline.creditDigits",
	}},
	{"thinning", []string{"pipeline.thinOut"}},
	{"records: JSON, packing", []string{"pipeline/3_records/edition.Pack"}},
	{"editions: text, packing", []string{"corpus/source.(*Document).Edition"}},
	{"marks", []string{"pipeline.markUp"}},
	{"lint", []string{"pipeline.inspectPiece", "pipeline.letStand"}},
	{"results", []string{"pipeline.buildResult", "pipeline/3_records/state.Encode"}},
	{"pages: template", []string{"reports/page.render"}},
	{"pages: what the script knows", []string{"reports/page.(*Material).data"}},
	{"pages: what is gathered", []string{"reports/page.Of"}},
	{"pages: the rest", []string{"reports/page.Piece", "reports/page.EntryOf"}},
	{"cache: of stages", []string{"pipeline.(*PieceRun).Keep", "pipeline.(*bundle).close", "pipeline.(*PieceRun).bundleKept"}},
	{"cache: of pieces", []string{"main.(*knownPieces).keep", "main.(*knownPieces).find"}},
	{"files written", []string{"reports/folder.(*Folder).Write", "reports/folder.(*Folder).WriteAll"}},
}

// theRest is what no part has: the start of the program, the index, the scheduler.
const theRest = "start, index, the rest"

// shares adds the samples of a profile to those of the parts.
func shares(data []byte, into map[string]int64) error {
	p, err := profile.Parse(bytes.NewReader(data))
	if err != nil {
		return fmt.Errorf("reading the profile of a run: %w", err)
	}
	for _, s := range p.Sample {
		into[partOf(s)] += s.Value[len(s.Value)-1] // nanoseconds
	}
	return nil
}

// partOf is the first part with a function that a sample lies in.
func partOf(s *profile.Sample) string {
	for _, part := range parts {
		for _, l := range s.Location {
			for _, line := range l.Line {
				if line.Function != nil && slices.ContainsFunc(part.in, func(in string) bool { return within(line.Function.Name, in) }) {
					return part.name
				}
			}
		}
	}
	return theRest
}

// within says that a function, named with the path of its package, is the one named with its folder, or made in it.
func within(function, in string) bool {
	at := strings.Index(function, in)
	if at < 0 || at > 0 && function[at-1] != '/' {
		return false
	}
	left := function[at+len(in):]
	return left == "" || left[0] == '.'
}

// profiled takes a group of scores through the program once more, and adds what its parts took.
func (m *floor) profiled(run func(args []string) error, dir, folder, workers string, into map[string]int64) error {
	file := filepath.Join(dir, "profile")
	err := run([]string{
		"run", folder, "--out", folder + "-profiled", "--excerpts", "0", "--workers", workers, "--cpuprofile", file,
		"--cache", folder + "-cache",
	})
	if err != nil {
		return err
	}
	data, err := os.ReadFile(file)
	if err != nil {
		return fmt.Errorf("reading the profile of a run: %w", err)
	}
	for _, left := range []string{folder + "-profiled", folder + "-cache"} {
		if err := os.RemoveAll(left); err != nil {
			return err
		}
	}
	return shares(data, into)
}

// writeParts prints what the parts of a run take, in floors, the largest first.
func writeParts(out io.Writer, by map[string]int64, floors float64) {
	var all int64
	var names []string
	for name, took := range by {
		all += took
		names = append(names, name)
	}
	slices.SortFunc(names, func(a, b string) int { return cmp.Or(cmp.Compare(by[b], by[a]), cmp.Compare(a, b)) })
	for _, name := range names {
		fmt.Fprintf(out, "%-40s %5.2f floors %5.1f %%\n", name, floors*float64(by[name])/float64(all), 100*float64(by[name])/float64(all))
	}
}
