package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/source"
	"fingerproof/pipeline/4_services/compare"
)

// compared is two sides, and what comes of comparing them.
type compared struct {
	old, new *sides
	cleanups []func()
	classes  []compare.Class
	sums     map[string]string // of the new side's texts, by piece
	approved map[string]string // of the old side's

	diff  *compare.Diff
	sheet []compare.Correction
}

func (c *compared) close() {
	for _, f := range c.cleanups {
		f()
	}
}

// openCompared opens both sides. The caller closes what comes back, also with an error.
func openCompared(ctx context.Context, env *environment, of diffed) (*compared, error) {
	c := &compared{classes: of.classes, sums: map[string]string{}, approved: map[string]string{}}
	open := func(path string) (*sides, error) {
		s, cleanup, err := openSides(ctx, path)
		c.cleanups = append(c.cleanups, cleanup)
		return s, err
	}
	var err error
	switch {
	case of.witnesses != "":
		c.old, c.new, err = openWitnesses(env, of.old, of.witnesses)
		return c, err
	case of.revision != "":
		from, to, ok := strings.Cut(of.revision, "..")
		if !ok || from == "" || strings.Contains(to, "..") {
			return c, fmt.Errorf("--revision cannot be %q\n"+
				"hint: A..B for two revisions, A.. for A against the files as they are", of.revision)
		}
		of.old = from + ":" + of.old
		if to != "" {
			of.new = to + ":" + of.new
		}
		if c.old, err = openRevision(ctx, c, of.old); err != nil {
			return c, err
		}
		if to != "" {
			c.new, err = openRevision(ctx, c, of.new)
			return c, err
		}
		c.new, err = open(of.new)
		return c, err
	}
	if c.old, err = open(of.old); err != nil {
		return c, err
	}
	if c.new, err = open(of.new); err != nil {
		return c, err
	}
	return c, c.oneOfMany(env)
}

// oneOfMany pairs a single score with its namesake in a folder.
func (c *compared) oneOfMany(env *environment) error {
	switch {
	case c.old.single && c.new.single:
		c.new.pieces[0].id = c.old.pieces[0].id
	case c.old.single:
		return c.new.narrow(c.old)
	case c.new.single:
		return c.old.narrow(c.new)
	case !slices.ContainsFunc(c.old.pieces, func(p sidePiece) bool { return c.new.find(p.id) != nil }):
		env.complain("no score of %s has a namesake in %s: nothing can be compared\n"+
			"hint: scores are paired by their file names without the ending, or by the ids of a collection",
			c.old.name, c.new.name)
	}
	return nil
}

// narrow keeps of a folder the namesake of a single score, or its only score.
func (s *sides) narrow(single *sides) error {
	one := single.pieces[0].id
	if p := s.find(one); p != nil {
		s.pieces = []sidePiece{*p}
		return nil
	}
	if len(s.pieces) == 1 {
		single.pieces[0].id = s.pieces[0].id
		return nil
	}
	return fmt.Errorf("%s is one score and %s holds %d, none of them called %s\n"+
		"hint: name the score that is meant, or give two folders", single.name, s.name, len(s.pieces), one)
}

func (s *sides) find(id string) *sidePiece {
	for i := range s.pieces {
		if s.pieces[i].id == id {
			return &s.pieces[i]
		}
	}
	return nil
}

// compareSides opens and compares two sides at once.
func compareSides(
	ctx context.Context, env *environment, old, new string, classes []compare.Class,
) (*compare.Diff, error) {
	c, err := openCompared(ctx, env, diffed{old: old, new: new, classes: classes})
	defer c.close()
	if err != nil {
		return nil, err
	}
	return c.compare(ctx)
}

// compare compares piece by piece, in the order of the old side, pieces that
// only the new one has last.
func (c *compared) compare(ctx context.Context) (*compare.Diff, error) {
	d := &compare.Diff{Old: c.old.name, New: c.new.name, Compared: c.classes}
	for _, p := range c.old.pieces {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if q := c.new.find(p.id); q != nil {
			d.Pieces = append(d.Pieces, c.piece(p, *q))
			continue
		}
		d.Pieces = append(d.Pieces, compare.Lone(p.id, compare.PieceMissing))
	}
	for _, q := range c.new.pieces {
		if c.old.find(q.id) == nil {
			d.Pieces = append(d.Pieces, compare.Lone(q.id, compare.PieceAdded))
		}
	}
	return d, nil
}

func (c *compared) piece(p, q sidePiece) compare.Piece {
	a, err := p.load()
	if err != nil {
		return compare.Piece{ID: p.id, Problem: plain(err)}
	}
	b, err := q.load()
	if err != nil {
		return compare.Piece{ID: p.id, Problem: plain(err)}
	}
	c.sums[q.id], c.approved[p.id] = source.Sum([]byte(b.text))[:12], source.Sum([]byte(a.text))[:12]
	return compare.Scores(p.id, a.Side, b.Side, c.classes...)
}
