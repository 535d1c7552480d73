package main

import (
	"context"
	"errors"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"fingerproof/pipeline"
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
	w, err := pipeline.RunExample(r.Name, &e)
	if err != nil {
		return nil, err
	}
	right, first := w, e.Wrong
	if e.PutRight != nil {
		first = 0
		if right, err = pipeline.RunExample(r.Name, e.PutRight); err != nil {
			return nil, err
		}
	}
	out := &rulepage.Example{
		Wrong: rulepage.Music{Text: rulepage.Text(w.Score, 0, e.Wrong-1)},
		Right: rulepage.Music{Text: rulepage.Text(right.Score, first, first+e.Right-1)},
	}
	rightText, rightFirst := e.MusicXML, e.Wrong
	if e.PutRight != nil {
		rightText, rightFirst = e.PutRight.MusicXML, 0
	}
	out.Wrong.File, out.Right.File = rulepage.InFile(e.MusicXML, 0, e.Wrong, rightText, rightFirst, e.Right, e.PutRight != nil)
	for _, b := range e.Beside {
		beside := rulepage.Beside{Title: besideTitle(b), Text: strings.Split(strings.TrimSpace(string(b.Text)), "\n")}
		if b.Kind == all.Witness {
			s := w.Witnesses[len(out.Witnesses())].Score
			beside = rulepage.Beside{Title: beside.Title, Witness: true, Text: rulepage.Text(s, 0, len(s.Measures)-1)}
		}
		out.Beside = append(out.Beside, beside)
	}
	for i := range w.Result.Findings {
		f := &w.Result.Findings[i]
		if f.Rule == r.Name && !slices.Contains(out.Says, f.Advice()) {
			out.Says = append(out.Says, f.Advice())
		}
	}
	return out, nil
}

// besideTitle names what stands beside the score of an example.
func besideTitle(b all.Beside) string {
	switch b.Kind {
	case all.Decisions:
		return "Decisions of " + b.Name
	case all.Witness:
		return "Witness " + b.Name
	}
	return "House style"
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
	right, first := e.MusicXML, e.Wrong
	if e.PutRight != nil {
		right, first = e.PutRight.MusicXML, 0
	}
	for _, m := range []struct {
		text         []byte
		first, count int
		title        string
		into         *rulepage.Music
	}{{e.MusicXML, 0, e.Wrong, "reported", &into.Wrong}, {right, first, e.Right, "put right", &into.Right}} {
		x, err := excerptOf(ctx, worker, m.text, m.first, m.count, m.title)
		if err != nil {
			return err
		}
		m.into.SVG = x
	}
	for k, b := range e.Beside {
		if b.Kind != all.Witness {
			continue
		}
		x, err := excerptOf(ctx, worker, b.Text, 0, e.Wrong+e.Right, "witness")
		if err != nil {
			return err
		}
		into.Beside[k].SVG = x
	}
	return nil
}

// excerptOf draws so many measures of a score.
func excerptOf(ctx context.Context, worker *engrave.Worker, text []byte, first, count int, title string) (template.HTML, error) {
	sheet, err := engrave.Copy(text, engrave.CopyOptions{})
	if err != nil {
		return "", err
	}
	x, err := worker.Excerpt(ctx, sheet, first, first+count-1, engrave.ExcerptOptions{Title: title, Width: 560, Own: true})
	if err != nil {
		return "", err
	}
	return template.HTML(x.SVG), nil
}
