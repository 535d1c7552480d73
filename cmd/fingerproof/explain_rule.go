package main

import (
	"context"
	"errors"
	"fmt"
	"html/template"
	"slices"

	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/reports/engrave"
	"fingerproof/reports/rulepage"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
)

// exampleOf lints the example of a rule and tells its measures in words; nil where it has none.
func exampleOf(r *lint.Rule) (*rulepage.Example, error) {
	e, is := all.ExampleOf(r)
	if !is {
		return nil, nil
	}
	policy := policies.Default()
	if e.Policy != "" {
		var err error
		if policy, err = policies.ByName(e.Policy); err != nil {
			return nil, fmt.Errorf("reading the house style of the example of %s: %w", r.Name, err)
		}
	}
	w := &pipeline.PieceRun{
		Piece: &corpus.Piece{ID: r.Name, Score: r.Name + ".musicxml", Scoring: corpus.TwoHands, TextDigits: e.Digits},
		Data:  e.MusicXML, Policy: policy, Weights: pipeline.ShippedWeights(),
	}
	if err := pipeline.RunPiece(w); err != nil {
		return nil, fmt.Errorf("linting the example of %s: %w", r.Name, err)
	}
	out := &rulepage.Example{
		Wrong: rulepage.Music{Text: rulepage.Text(w.Score, 0, e.Wrong-1)},
		Right: rulepage.Music{Text: rulepage.Text(w.Score, e.Wrong, e.Wrong+e.Right-1)},
	}
	for i := range w.Result.Findings {
		f := &w.Result.Findings[i]
		if f.Rule == r.Name && !slices.Contains(out.Says, f.Advice()) {
			out.Says = append(out.Says, f.Advice())
		}
	}
	return out, nil
}

// explainRules writes the page of rules to a file: examples in notation, or in words where there is no engraver.
func explainRules(ctx context.Context, env *environment, rules []*lint.Rule, o *explainOptions) error {
	press, err := openPress(ctx, env, ".")
	notation := ""
	var worker *engrave.Worker
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case err != nil:
		notation = "This page comes without notation: " + err.Error()
		if !errors.Is(err, engrave.ErrMissing) {
			env.complain("the page comes without notation: %v", err)
		}
	default:
		defer func() { _ = press.Close(context.WithoutCancel(ctx)) }() // nothing is kept in it
		if worker, err = press.Worker(ctx); err != nil {
			return fmt.Errorf("starting the engraver: %w", err)
		}
	}
	out := make([]rulepage.Rule, len(rules))
	for i, r := range rules {
		out[i].Rule = r
		if out[i].Example, err = exampleOf(r); err != nil {
			return err
		}
		if e, is := all.ExampleOf(r); is && worker != nil {
			if err := drawExample(ctx, worker, e, out[i].Example); err != nil {
				return fmt.Errorf("drawing the example of %s: %w", r.Name, err)
			}
		}
	}
	page, err := rulepage.Page(out, engrave.CSS, notation)
	if err != nil {
		return err
	}
	return o.write(env, o.page, page)
}

func drawExample(ctx context.Context, worker *engrave.Worker, e all.Example, into *rulepage.Example) error {
	sheet, err := engrave.Copy(e.MusicXML, engrave.CopyOptions{})
	if err != nil {
		return err
	}
	for _, m := range []struct {
		first, count int
		title        string
		into         *rulepage.Music
	}{{0, e.Wrong, "reported", &into.Wrong}, {e.Wrong, e.Right, "put right", &into.Right}} {
		x, err := worker.Excerpt(ctx, sheet, m.first, m.first+m.count-1, engrave.ExcerptOptions{Title: m.title, Width: 560})
		if err != nil {
			return err
		}
		m.into.SVG = template.HTML(x.SVG)
	}
	return nil
}
