package main

import (
	"context"
	"fmt"
	"path"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/strictyaml"
	"fingerproof/pipeline"

	"github.com/spf13/pflag"
	"golang.org/x/sync/errgroup"
)

// eachPiece works on every piece at once, as many as there are workers, and
// gives the answers in the collection's order. A piece that fails is an answer
// too: do says how.
func eachPiece[T any](ctx context.Context, job pipeline.Job, do func(*corpus.Piece) T) ([]T, error) {
	out := make([]T, len(job.Collection.Pieces))
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(job.Workers)
	for i := range job.Collection.Pieces {
		group.Go(func() error {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			out[i] = do(&job.Collection.Pieces[i])
			return nil
		})
	}
	return out, group.Wait()
}

// pieceChoice is the option --piece: which pieces of a collection are meant.
type pieceChoice struct{ wanted []string }

func (p *pieceChoice) add(f *pflag.FlagSet, verb string) {
	f.StringArrayVar(&p.wanted, "piece", nil, verb+" these pieces only: an id, several with commas, or a pattern "+
		"as 'op7-*'; may be repeated")
}

// any says whether pieces are named at all.
func (p *pieceChoice) any() bool { return len(p.wanted) > 0 }

// keep keeps the pieces of a collection that are meant, in the collection's order; where none is named, all.
func (p *pieceChoice) keep(c *corpus.Collection) error { return keepOnly(c, p.wanted) }

// keepOnly keeps the pieces of a collection that are named, by id, several with commas, or pattern; none named keeps all.
func keepOnly(c *corpus.Collection, wanted []string) error {
	if len(wanted) == 0 {
		return nil
	}
	kept := make([]bool, len(c.Pieces))
	for _, words := range wanted {
		list := []string{words}
		whole := slices.ContainsFunc(idsOf(c), func(id string) bool { fits, _ := path.Match(words, id); return id == words || fits })
		if !whole { // else an id, or a pattern that fits one, holds a comma itself
			list = idsIn(words, idsOf(c))
		}
		for _, word := range list {
			if err := keepNamed(c, strings.TrimSpace(word), kept); err != nil {
				return err
			}
		}
	}
	var left []corpus.Piece
	for i := range c.Pieces {
		if kept[i] {
			left = append(left, c.Pieces[i])
		}
	}
	c.Pieces = left
	return nil
}

// idsIn divides words at the commas between ids: an id, or a pattern that fits one, may hold commas itself, and the longest is
// meant.
func idsIn(words string, ids []string) (out []string) {
	parts := strings.Split(words, ",")
	for from := 0; from < len(parts); {
		to := len(parts)
		for ; to > from+1; to-- {
			word := strings.TrimSpace(strings.Join(parts[from:to], ","))
			if slices.ContainsFunc(ids, func(id string) bool { fits, _ := path.Match(word, id); return id == word || fits }) {
				break
			}
		}
		out, from = append(out, strings.Join(parts[from:to], ",")), to
	}
	return out
}

// keepNamed marks the pieces that a word names: the one of that id, or those that a pattern fits.
func keepNamed(c *corpus.Collection, word string, kept []bool) error {
	found := false
	for i := range c.Pieces {
		if c.Pieces[i].ID == word {
			kept[i], found = true, true
		}
	}
	if found {
		return nil
	}
	pattern := strings.ContainsAny(word, "*?[")
	for i := range c.Pieces {
		fits, err := path.Match(word, c.Pieces[i].ID)
		if err != nil {
			return fmt.Errorf("--piece cannot be %q: %w\n"+
				"hint: in a pattern * stands for any letters, ? for one, [ab] for one of these", word, err)
		}
		if fits {
			kept[i], found = true, true
		}
	}
	switch {
	case found:
		return nil
	case pattern:
		return fmt.Errorf("no piece of the collection fits %q\nhint: its ids are %s", word, someOf(idsOf(c)))
	}
	at, err := byPart(idsOf(c), word)
	if at >= 0 {
		kept[at] = true
		return nil
	}
	if err != nil {
		return err
	}
	return fmt.Errorf("there is no piece %q in the collection\nhint: a piece is named by its id, or by a part that no other has: %s",
		word, nearestPiece(c, word))
}

// byPart gives the place of the only id that has a word in it, whatever its letters' case; −1 where none has it, with an error where
// several do.
func byPart(ids []string, word string) (int, error) {
	if word == "" {
		return -1, nil
	}
	at, have := -1, []string{}
	for i, id := range ids {
		if strings.Contains(strings.ToLower(id), strings.ToLower(word)) {
			at, have = i, append(have, id)
		}
	}
	if len(have) > 1 {
		return -1, fmt.Errorf("%q is in the ids of %d pieces\nhint: name one of them: %s", word, len(have), someOf(have))
	}
	return at, nil
}

// idsOf lists the ids of a collection's pieces.
func idsOf(c *corpus.Collection) []string {
	ids := make([]string, len(c.Pieces))
	for i := range c.Pieces {
		ids[i] = c.Pieces[i].ID
	}
	return ids
}

// nearestPiece is a hint: the id that looks most like the one given, or those there are.
func nearestPiece(c *corpus.Collection, id string) string {
	ids := idsOf(c)
	if near := strictyaml.Nearest(id, ids); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return strings.Join(ids[:min(len(ids), 12)], ", ")
}
