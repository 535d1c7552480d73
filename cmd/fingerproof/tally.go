package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"fingerproof/pipeline"
	"fingerproof/pipeline/state"
	"fingerproof/reports/commentary"
	"fingerproof/reports/results"
	"fingerproof/reports/text"
	"fingerproof/rules/lint"
)

var reportFormats = []string{"text", "json", "commentary"}

// tally gathers what is told at the end of a command: findings, failed
// pieces, the exit status.
type tally struct {
	env     *environment
	options *workOptions
	found   []found // by piece, for the text report
	json    results.Report
	remarks *commentary.Commentary // the editorial commentary
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
func (t *tally) add(w *pipeline.Way, failed error) {
	t.pieces++
	if failed != nil {
		message := failed.Error()
		if !strings.Contains(message, w.Piece.Score) {
			message = w.Piece.Score + ": " + message
		}
		fmt.Fprintf(t.env.Stderr, "fingerproof: %s\n", message)
		t.failed = append(t.failed, w.Piece.ID)
		t.json.Fail(w.Piece.ID, failed)
		t.remarks.Fail(w.Piece, failed)
		return
	}
	s := w.Result.Summary
	t.notes += s.Notes
	t.counts.Error += s.Severities.Error
	t.counts.Warning += s.Severities.Warning
	t.counts.Note += s.Severities.Note
	t.json.Add(w.Result)
	t.remarks.Add(w.Piece, w.Result, w.Policy)
	t.found = append(t.found, found{&state.Result{Findings: w.Result.Findings}, w.Piece.Score})
	if w.Press {
		t.press(w)
	}
	if limit, any := t.options.failSeverity(w.Policy); any {
		for _, f := range w.Result.Findings {
			if severity, _ := lint.ParseSeverity(f.Severity); severity >= limit {
				t.status = exitFindings
			}
		}
	}
}

func (t *tally) colour() bool { return t.env.StdoutIsTTY && t.env.Getenv("NO_COLOR") == "" }

// reports writes the reports asked for.
func (t *tally) reports() error {
	for _, r := range t.options.requests {
		err := r.write(t.env, func(out io.Writer) error {
			if r.format == "commentary" {
				return writeCommentary(out, t.remarks, r.path)
			}
			if r.format == "json" {
				return t.json.Write(out)
			}
			var err error
			for _, f := range t.found {
				err = errors.Join(err, text.Findings(out, f.result, f.score, r.path == "-" && t.colour()))
			}
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// workThrough takes a collection through the pipeline, counts and tells what
// it comes to, and hands each piece to each, which may be nil.
func workThrough(ctx context.Context, env *environment, options *workOptions, job pipeline.Job, each func(w *pipeline.Way, failed error) error) (*tally, error) {
	t := &tally{env: env, options: options, remarks: commentary.New(job.Collection)}
	if err := tellStrays(env, job.Collection); err != nil {
		return nil, err
	}
	bar := &progress{env: env, total: len(job.Collection.Pieces)}
	return t, pipeline.Run(ctx, job, func(w *pipeline.Way, failed error) error {
		bar.clear()
		t.add(w, failed)
		if each != nil {
			if err := each(w, failed); err != nil {
				return err
			}
		}
		bar.step(w.Piece.ID)
		return nil
	})
}

// close writes the reports and the closing line, which ends in more.
func (t *tally) close(more string) error {
	if err := t.reports(); err != nil {
		return err
	}
	fmt.Fprintf(t.env.Stderr, "%d pieces, %d notes: %s; %d failed%s\n", t.pieces, t.notes, t.counts, len(t.failed), more)
	return t.exit()
}

// exit is the status the pieces call for: failures come before findings.
func (t *tally) exit() error {
	if len(t.failed) > 0 {
		return exitWith(exitFailed)
	}
	return exitWith(t.status)
}
