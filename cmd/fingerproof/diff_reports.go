package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"

	"fingerproof/reports/corrections"
	"fingerproof/reports/diffjson"
	"fingerproof/reports/diffpage"
	"fingerproof/reports/difftext"
	"fingerproof/reports/engrave"
)

// write writes the reports asked for.
func (c *compared) write(ctx context.Context, env *environment, requests []request, excerpts int) error {
	page := ""
	for _, r := range requests {
		if r.format == "page" && r.path != "-" {
			page = r.path
		}
	}
	for _, r := range requests {
		err := r.write(env, func(out io.Writer) error {
			switch r.format {
			case "json":
				return diffjson.Write(out, c.diff)
			case "page":
				p, err := c.page(ctx, env, excerpts)
				if err != nil {
					return err
				}
				return p.Write(out)
			case "corrections":
				form, err := corrections.FormOf(r.path)
				if err != nil {
					return err
				}
				return corrections.Write(out, &corrections.Sheet{
					Approved: c.diff.Old, Typeset: c.diff.New, Corrections: c.sheet, Page: seenFrom(r.path, page),
					NotCompared: c.notCompared(),
				}, form)
			}
			return difftext.Write(out, c.diff)
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// notCompared names what the comparison did not look at, and, piece by piece,
// what the scores do not give.
func (c *compared) notCompared() []string {
	out := c.diff.NotCompared()
	for i := range c.diff.Pieces {
		for _, what := range c.diff.Pieces[i].NotSaid {
			out = append(out, c.diff.Pieces[i].ID+": "+what)
		}
	}
	return out
}

// seenFrom is a page's path as a link from another file; "" where there is none.
func seenFrom(file, page string) string {
	if page == "" {
		return ""
	}
	if file == "-" {
		return filepath.ToSlash(page)
	}
	path, err := filepath.Rel(filepath.Dir(file), page)
	if err != nil {
		return ""
	}
	return filepath.ToSlash(path)
}

// page draws both readings of what differs, as far as the engraver is there.
func (c *compared) page(ctx context.Context, env *environment, excerpts int) (*diffpage.Page, error) {
	p := &diffpage.Page{Diff: c.diff, Corrections: c.sheet, NotCompared: c.notCompared()}
	if excerpts <= 0 || !c.diff.Differs() {
		return p, nil
	}
	press, err := openPress(ctx, env, ".")
	if err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		p.Notation = "This page comes without notation: " + err.Error()
		if !errors.Is(err, engrave.ErrMissing) {
			env.complain("the page comes without notation: %v", err)
		}
		return p, nil
	}
	defer func() { _ = press.Close(context.WithoutCancel(ctx)) }() // nothing is kept in it
	worker, err := press.Worker(ctx)
	if err != nil {
		return nil, fmt.Errorf("starting the engraver: %w", err)
	}
	for i := range c.diff.Pieces {
		piece := &c.diff.Pieces[i]
		if piece.Problem != "" || len(piece.Changes) == 0 {
			continue
		}
		old, new, err := c.texts(piece.ID)
		if err != nil {
			return nil, err
		}
		drawn, err := p.Draw(ctx, worker, piece, old, new, excerpts)
		if err != nil {
			return nil, err
		}
		excerpts -= drawn
	}
	return p, nil
}

// texts gives the scores of a piece as MusicXML, nil where a side has none.
func (c *compared) texts(id string) (old, new []byte, err error) {
	var out [2][]byte
	for i, s := range []*sides{c.old, c.new} {
		if p := s.find(id); p != nil {
			l, err := p.load()
			if err != nil {
				return nil, nil, err
			}
			out[i] = []byte(l.text)
		}
	}
	return out[0], out[1], nil
}
