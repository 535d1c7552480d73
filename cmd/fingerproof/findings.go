package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
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
	"fingerproof/rules/lint/all"
)

// reportFormats are the forms in which findings can be had.
var reportFormats = []string{"text", "json", "sarif", "junit", "annotations", "summary", "commentary", "preface"}

// findings is what a command found, for reports in any form.
type findings struct {
	outcomes []state.Outcome
	baseline *state.Baseline
	fails    func(o *state.Outcome, f *state.Finding) bool
	colour   bool // standard output is a terminal that shows colours
}

// write writes the findings in a form.
func (f *findings) write(out io.Writer, format string, terminal bool) error {
	switch format {
	case "json":
		return results.Write(out, f.outcomes)
	case "sarif":
		return sarif.Write(out, sarif.Report{Version: pipeline.EngineVersion, Rules: all.Rules(), Outcomes: f.outcomes})
	case "junit":
		return junit.Write(out, junit.Report{Rules: all.Rules(), Outcomes: f.outcomes, Fails: f.fails})
	case "annotations":
		return annotations.Write(out, f.outcomes)
	case "summary":
		return summary.Write(out, summary.Report{Rules: all.Rules(), Outcomes: f.outcomes})
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
func scoreName(c *corpus.Collection, p *corpus.Piece) string {
	here, err := os.Getwd()
	if err != nil {
		return p.Score
	}
	full, err := filepath.Abs(c.Path(p.Score))
	if err != nil {
		return p.Score
	}
	rel, err := filepath.Rel(here, full)
	if err != nil || rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
		return p.Score
	}
	return filepath.ToSlash(rel)
}

// outcome is what there is to say of a piece.
func outcome(c *corpus.Collection, w *pipeline.PieceRun, failed error) state.Outcome {
	o := state.Outcome{Piece: w.Piece.ID, File: scoreName(c, w.Piece)}
	if failed != nil {
		o.Problem = failed.Error()
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
