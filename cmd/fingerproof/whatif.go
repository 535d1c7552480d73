package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/source"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/passed"
	"fingerproof/pipeline/6_checks/check"
	"fingerproof/policies"
	"fingerproof/reports/page"
)

// whatIf shows what another policy would do to the repertoire, against the
// present one. Nothing is written.
func whatIf(
	ctx context.Context, env *environment, o *workOptions, job pipeline.Job, other string, requests []request,
) error {
	policy, err := policies.Open(other, ".")
	if err != nil {
		return err
	}
	if err := unknownRules(policy); err != nil {
		return err
	}
	known, err := o.openCache(env, job, "what if "+policy.Sum())
	if err != nil {
		return err
	}
	defer known.trim()
	job.Kept = known.forStages()
	pieces, err := eachPiece(ctx, job, func(p *corpus.Piece) check.Piece { return effectOn(job, known, policy, p) })
	if err != nil {
		return err
	}
	if o.shards.shard.any() {
		return leaveChecked(known, o.shards.parts, pieces)
	}
	effect := check.EffectOf(pieces)
	err = writeReports(env, requests, func(out io.Writer, format string) error {
		switch format {
		case "json":
			return writeJSON(out, effect)
		case "page":
			name := storeName(job.Collection.Title, job.Collection.Root)
			shown := effectPage(effect)
			if err := drawEffect(ctx, env, job, policy, effect, shown); err != nil {
				return err
			}
			html, err := page.PolicyEffect(shown, name, filepath.Base(other)+whatDiffers(job, policy))
			if err != nil {
				return err
			}
			_, err = out.Write(html)
			return err
		}
		return effect.WriteText(out)
	})
	if err != nil {
		return err
	}
	for i := range pieces {
		if pieces[i].Problem != "" {
			env.complain("%s: %s", pieces[i].ID, pieces[i].Problem)
		}
	}
	if whatDiffers(job, policy) == "" {
		env.complain("%s says what the house style of these pieces says as it is now: nothing is compared with another\n"+
			"hint: what has changed since the pieces were passed is told by check without --policy", other)
	}
	return exitWith(comparedStatus(effect.Failed > 0, effect.Changes > 0))
}

// mostKeys is how many keys of another policy are named.
const mostKeys = 6

// whatDiffers names the keys in which a policy differs from those of the pieces, with both values; "" where none does.
func whatDiffers(job pipeline.Job, policy *policies.Policy) string {
	var said []string
	for i := range job.Collection.Pieces {
		now, err := job.PolicyOf(&job.Collection.Pieces[i])
		if err != nil {
			continue // it is said of the piece
		}
		for _, key := range policies.Differing(now, policy) {
			old, _ := now.Get(key)
			other, _ := policy.Get(key)
			if words := fmt.Sprintf("%s %s in place of %s", key, cmp.Or(other.Text, "none"), cmp.Or(old.Text, "none")); key != "title" {
				said = append(said, words)
			}
		}
	}
	slices.Sort(said)
	if said = slices.Compact(said); len(said) == 0 {
		return ""
	}
	if n := len(said); n > mostKeys {
		said = append(said[:mostKeys], fmt.Sprintf("%d more", n-mostKeys))
	}
	return " (" + strings.Join(said, "; ") + ")"
}

// effectOn compares a piece as it is with what it would be under another policy, or takes what an earlier comparison from
// the same inputs came to.
func effectOn(job pipeline.Job, known *knownPieces, policy *policies.Policy, piece *corpus.Piece) check.Piece {
	w, done := known.workedOut(job, piece)
	if done != nil {
		return *done
	}
	in := pipeline.InputsOf(w)
	in.Policy = policy
	then, err := pipeline.Again(w, in)
	if err != nil {
		return check.Piece{ID: piece.ID, Problem: plain(err)}
	}
	out := check.Compare(then, stateOf(w, job.Today), w.Data)
	if known != nil && out.Problem == "" {
		known.keepChecked(w, &out)
	}
	return out
}

// stateOf is a run of a piece as it would be passed.
func stateOf(w *pipeline.PieceRun, today string) *passed.State {
	return &passed.State{
		Piece: w.Piece.ID, When: today, Press: w.Press, Engine: pipeline.EngineVersion, Rules: pipeline.RulesSum(),
		Weights: w.Weights.Sum,
		Score:   w.Piece.Score, ScoreSum: source.Sum(w.Data), Witnesses: w.WitnessSums(), Draft: w.DraftSum(),
		Settings: w.Piece.Settings(), Heads: w.Heads, Policy: w.Policy.Values(),
		Decisions: w.Decisions, Snapshot: passed.SnapshotOf(w.Result),
	}
}

// effectPage lays the effect out for its page.
func effectPage(e *check.Effect) *page.Effect {
	out := &page.Effect{Pieces: e.Pieces, Touched: e.Touched, Failed: e.Failed, Notes: e.Notes, Changes: e.Changes}
	said := e.Printed.Sentence()
	out.Printed = strings.ToUpper(said[:1]) + said[1:] + "."
	if e.Decided > 0 {
		out.Printed += fmt.Sprintf(" Editors decided the digit of %s: no style gives these another finger, for whatever hand.",
			wording.Count(e.Decided, "note"))
	}
	counts := func(list []check.Count) (to []page.Count) {
		for _, c := range list {
			to = append(to, page.Count(c))
		}
		return to
	}
	out.Kinds, out.Keys, out.ByPiece = counts(e.Kinds), counts(e.Keys), counts(e.ByPiece)
	for _, p := range e.Passages {
		out.Passages = append(out.Passages, page.PassageEffect{
			Piece: p.Piece, Hand: p.Hand, From: p.From, To: p.To, Count: p.Count, Keys: p.Keys,
		})
	}
	for _, f := range e.Findings {
		to := &out.Come
		if f.Gone {
			to = &out.GoneFindings
		}
		*to = append(*to, page.FindingEffect{Piece: f.Piece, Says: f.Says})
	}
	return out
}

// drawnEffects is how many passages are shown before and after, those most affected.
const drawnEffects = 8

// drawEffect draws the passages most affected as they print now and as they
// would. Why nothing is drawn stands on the page.
func drawEffect(
	ctx context.Context, env *environment, job pipeline.Job, policy *policies.Policy, effect *check.Effect,
	shown *page.Effect,
) error {
	press, err := openPress(ctx, env, ".")
	if err != nil {
		shown.Notation = "This page comes without notation: " + err.Error()
		return nil
	}
	defer press.Close(context.WithoutCancel(ctx))
	worker, err := press.Worker(ctx)
	if err != nil {
		return fmt.Errorf("starting the engraver: %w", err)
	}
	job.Edition = true
	other := job
	other.PolicyOf = func(*corpus.Piece) (*policies.Policy, error) { return policy, nil }
	for i := range effect.Passages[:min(len(effect.Passages), drawnEffects)] {
		q := &effect.Passages[i]
		k := slices.IndexFunc(job.Collection.Pieces, func(p corpus.Piece) bool { return p.ID == q.Piece })
		if k < 0 {
			continue
		}
		var runs [2]*pipeline.PieceRun
		for side, j := range []pipeline.Job{job, other} {
			if runs[side], err = j.Work(&job.Collection.Pieces[k]); err != nil {
				return fmt.Errorf("working out %s to draw it: %w", q.Piece, err)
			}
		}
		notes := make([]page.NoteEffect, len(q.Notes))
		for n := range q.Notes {
			notes[n] = page.NoteEffect{N: q.Notes[n], Says: q.Says[n]}
		}
		if err := shown.Draw(ctx, worker, i, runs, notes, q.First, q.Last); err != nil {
			return err
		}
	}
	return nil
}
