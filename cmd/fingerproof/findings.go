package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/files"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/reports/annotations"
	"fingerproof/reports/junit"
	"fingerproof/reports/results"
	"fingerproof/reports/sarif"
	"fingerproof/reports/summary"
	"fingerproof/reports/text"
	"fingerproof/rules/lint"
)

// reportFormats are the forms in which findings can be had.
var reportFormats = []string{"text", "json", "sarif", "junit", "annotations", "summary", "commentary", "preface"}

// findings is what a command found, for reports in any form.
type findings struct {
	rules    []*lint.Rule
	task     string // what was asked, lint or check
	prefix   string // before the names of files in reports that are read elsewhere than here
	outcomes []state.Outcome
	baseline *state.Baseline
	fails    func(o *state.Outcome, f *state.Finding) bool
	off      func(o *state.Outcome, rule string) bool // the piece's policy leaves the rule out; nil: none
	colour   bool                                     // standard output is a terminal that shows colours
}

// prefixed are the outcomes with the prefix before the names of all files.
func (f *findings) prefixed() []state.Outcome {
	if f.prefix == "" {
		return f.outcomes
	}
	out := slices.Clone(f.outcomes)
	for i := range out {
		out[i].File = path.Join(f.prefix, out[i].File)
	}
	return out
}

// write writes the findings in a form.
func (f *findings) write(out io.Writer, format string, terminal bool) error {
	switch format {
	case "json":
		return results.Write(out, f.outcomes)
	case "sarif":
		return sarif.Write(out, sarif.Report{
			Version: pipeline.EngineVersion, Rules: f.rules, Outcomes: f.prefixed(), Task: f.task, Off: f.off,
		})
	case "junit":
		return junit.Write(out, junit.Report{Rules: f.rules, Outcomes: f.prefixed(), Fails: f.fails, Off: f.off})
	case "annotations":
		return annotations.Write(out, f.prefixed())
	case "summary":
		return summary.Write(out, summary.Report{Rules: f.rules, Outcomes: f.outcomes})
	}
	if format != "text" {
		return fmt.Errorf("findings cannot be written as %q: reportFormats names a form that nothing writes", format)
	}
	var err error
	for i := range f.outcomes {
		err = errors.Join(err, text.Findings(out, &f.outcomes[i], terminal && f.colour))
	}
	return err
}

// readBaseline reads an earlier report: SARIF, the findings as JSON, or the
// results of a piece.
func readBaseline(path string) (*state.Baseline, error) {
	if path == "" {
		return nil, nil
	}
	data, err := files.ReadNamed(path, files.StateLimit)
	if err != nil {
		return nil, fmt.Errorf("reading the baseline: %w", err)
	}
	b, is, err := sarif.ReadBaseline(data)
	if !is {
		b, err = state.ReadBaseline(data)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w\n"+
			"hint: --baseline takes what --report sarif=FILE or json=FILE wrote, or a file of results/", path, err)
	}
	return b, nil
}

// scoreName names a score as reports do: from the working folder where it lies
// below it, as CI expects, else from the collection.
func scoreName(c *corpus.Collection, p *corpus.Piece) string { return named(c, p.Score) }

// named names a file of the collection likewise.
func named(c *corpus.Collection, name string) string {
	here, err := os.Getwd()
	if err != nil {
		return name
	}
	full, err := filepath.Abs(c.Path(name))
	if err != nil {
		return name
	}
	rel, err := filepath.Rel(here, full)
	if err != nil || rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
		return name
	}
	return filepath.ToSlash(rel)
}

// outcome is what there is to say of a piece.
func outcome(c *corpus.Collection, w *pipeline.PieceRun, failed error) state.Outcome {
	o := state.Outcome{Piece: w.Piece.ID, File: scoreName(c, w.Piece)}
	if failed != nil {
		o.Problem = plain(failed)
		return o
	}
	o.Findings, o.Stets = w.Result.Findings, w.Result.Stets
	return o
}

// counts says whether a finding decides the exit status: it is as severe as
// the limit, and not known already where there is a baseline.
func (t *tally) counts(o *state.Outcome, f *state.Finding) bool {
	limit, any := t.limits[o.Piece]
	severity, _ := lint.ParseSeverity(f.Severity)
	return any && severity >= limit && (o.Since == nil || o.Since.Standing(f) != "unchanged")
}
