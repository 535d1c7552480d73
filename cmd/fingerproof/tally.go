package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"fingerproof/pipeline"
	"fingerproof/pipeline/state"
	"fingerproof/reports/results"
	"fingerproof/reports/text"
	"fingerproof/rules/lint"

	"github.com/google/renameio/v2"
)

var reportFormats = []string{"text", "json"}

// tally gathers what is told at the end of a command: findings, failed
// pieces, the exit status.
type tally struct {
	env     *environment
	options *workOptions
	found   []found // by piece, for the text report
	json    results.Report
	counts  state.Counts
	notes   int
	pieces  int
	failed  []string
	status  int
}

// found is what lint says of one score.
type found struct {
	result *state.Result // its findings only
	score  string
}

// add takes in a piece. Errors of pieces are told at once.
func (t *tally) add(w *pipeline.Way, failed error) error {
	t.pieces++
	if failed != nil {
		message := failed.Error()
		if !strings.Contains(message, w.Piece.Score) {
			message = w.Piece.Score + ": " + message
		}
		fmt.Fprintf(t.env.Stderr, "fingerproof: %s\n", message)
		t.failed = append(t.failed, w.Piece.ID)
		t.json.Fail(w.Piece.ID, failed)
		return nil
	}
	s := w.Result.Summary
	t.notes += s.Notes
	t.counts.Error += s.Severities.Error
	t.counts.Warning += s.Severities.Warning
	t.counts.Note += s.Severities.Note
	t.json.Add(w.Result)
	t.found = append(t.found, found{&state.Result{Findings: w.Result.Findings}, w.Piece.Score})
	if limit, any := t.options.failSeverity(w.Policy); any {
		for _, f := range w.Result.Findings {
			if severity, _ := lint.ParseSeverity(f.Severity); severity >= limit {
				t.status = exitFindings
			}
		}
	}
	return nil
}

func (t *tally) colour() bool { return t.env.StdoutIsTTY && t.env.Getenv("NO_COLOR") == "" }

// reports writes the reports asked for.
func (t *tally) reports() error {
	for _, r := range t.options.reports {
		format, path, _ := strings.Cut(r, "=")
		var b bytes.Buffer
		var err error
		switch format {
		case "json":
			err = t.json.Write(&b)
		default:
			for _, f := range t.found {
				err = errors.Join(err, text.Findings(&b, f.result, f.score, path == "-" && t.colour()))
			}
		}
		if err != nil {
			return err
		}
		if path == "-" {
			_, err = io.Copy(t.env.Stdout, &b)
		} else {
			err = renameio.WriteFile(path, b.Bytes(), os.FileMode(0o644))
		}
		if err != nil {
			return fmt.Errorf("writing the report %s: %w", r, err)
		}
	}
	return nil
}

// exit is the status the pieces call for: failures come before findings.
func (t *tally) exit() error {
	if len(t.failed) > 0 {
		return exitWith(exitFailed)
	}
	return exitWith(t.status)
}
