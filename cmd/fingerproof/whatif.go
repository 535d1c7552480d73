package main

import (
	"context"
	"fmt"
	"io"

	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/pipeline/check"
	"fingerproof/pipeline/passed"
	"fingerproof/policies"
)

// whatIf shows what another policy would do to the repertoire, against the
// present one. Nothing is written.
func whatIf(ctx context.Context, env *environment, job pipeline.Job, other string, requests []request) error {
	policy, err := policies.Open(other, ".")
	if err != nil {
		return err
	}
	if err := unknownRules(policy); err != nil {
		return err
	}
	pieces, err := eachPiece(ctx, job, func(p *corpus.Piece) check.Piece {
		w, err := job.Work(p)
		if err != nil {
			return check.Piece{ID: p.ID, Problem: err.Error()}
		}
		in := pipeline.InputsOf(w)
		in.Policy = policy
		then, err := pipeline.Again(w, in)
		if err != nil {
			return check.Piece{ID: p.ID, Problem: err.Error()}
		}
		return check.Compare(then, stateOf(w, job.Today), w.Data)
	})
	if err != nil {
		return err
	}
	effect := check.EffectOf(pieces)
	for _, r := range requests {
		err := r.write(env, func(out io.Writer) error {
			if r.format == "json" {
				return writeJSON(out, effect)
			}
			return effect.WriteText(out)
		})
		if err != nil {
			return err
		}
	}
	switch {
	case effect.Failed > 0:
		for i := range pieces {
			if pieces[i].Problem != "" {
				fmt.Fprintf(env.Stderr, "fingerproof: %s: %s\n", pieces[i].ID, pieces[i].Problem)
			}
		}
		return exitWith(exitFailed)
	case effect.Changes > 0:
		return exitWith(exitDiffers)
	}
	return nil
}

// stateOf is a way as it would be passed.
func stateOf(w *pipeline.Way, today string) *passed.State {
	return &passed.State{
		Piece: w.Piece.ID, When: today, Press: w.Press, Engine: pipeline.EngineVersion, Weights: w.Weights.Sum,
		Score: w.Piece.Score, ScoreSum: pipeline.Sum(w.Data), Witnesses: pipeline.WitnessSums(w), Settings: pipeline.Settings(w.Piece), Policy: w.Policy.Values(),
		Decisions: w.Decisions, Snapshot: passed.SnapshotOf(w.Result),
	}
}
