package main

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/files"
	"fingerproof/corpus/score"
	"fingerproof/corpus/strictyaml"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/reasons"
	"fingerproof/reports/account"

	"github.com/spf13/cobra"
)

// explainOptions are the options of explain where it explains a measure.
type explainOptions struct {
	work          workOptions
	hand          string
	page, lattice string
}

func (o *explainOptions) add(cmd *cobra.Command) {
	f := cmd.Flags()
	o.work.addStyle(f)
	f.StringVar(&o.hand, "hand", "both", "the hand to explain: R, L or both")
	f.StringVar(&o.page, "page", "", "write a page instead, to this file (- for standard output)")
	f.StringVar(&o.lattice, "lattice", "",
		"also draw the lattice of the measure as SVG, to this file: for those who work on the engine")
	o.work.workers = 1
}

// explainMeasure says why one measure is fingered as it is.
func explainMeasure(cmd *cobra.Command, env *environment, o *explainOptions, args []string) error {
	only, err := parseHand(o.hand)
	if err != nil {
		return err
	}
	job, err := o.work.job(args[0])
	if err != nil {
		return err
	}
	piece, err := onePiece(job.Collection, args)
	if err != nil {
		return err
	}
	w, err := job.Open(piece)
	if err != nil {
		return err
	}
	number := strings.TrimPrefix(strings.TrimSpace(args[len(args)-1]), "m. ")
	explanation, err := pipeline.Explain(w, number, only)
	if err != nil {
		return err
	}
	if all := reasons.Numbered(w.Score, number); len(all) > 1 {
		fmt.Fprintf(env.Stderr, "%d measures bear the number %s: this is the first; %s/2 is the second\n", len(all), number, number)
	}
	if o.lattice != "" {
		hands, err := reasons.Lattice(w.ReasonsPiece(), number, only)
		if err != nil {
			return err
		}
		drawing := account.LatticeSVG(w.Score, number, hands, func(n int) int { return int(w.Suggestion.Notes[n].Finger) })
		if err := o.write(env, o.lattice, drawing); err != nil {
			return err
		}
	}
	switch {
	case o.page != "":
		page, err := account.Page(titleOf(w), &explanation)
		if err != nil {
			return err
		}
		return o.write(env, o.page, page)
	case o.lattice == "-": // the drawing alone stands there
		return nil
	}
	fmt.Fprint(env.Stdout, account.Text(&explanation))
	return nil
}

func (o *explainOptions) write(env *environment, path string, data []byte) error {
	if path == "-" {
		_, err := env.Stdout.Write(data)
		return err
	}
	if err := files.Write(path, data); err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	return nil
}

func parseHand(word string) (score.Hand, error) {
	switch word {
	case "R", "r":
		return score.Right, nil
	case "L", "l":
		return score.Left, nil
	case "both":
		return score.NoHand, nil
	}
	return score.NoHand, fmt.Errorf("--hand cannot be %q\nhint: R, L or both", word)
}

// onePiece finds the piece that is asked about: the only one, or that of the id given.
func onePiece(c *corpus.Collection, args []string) (*corpus.Piece, error) {
	ids := idsOf(c)
	if len(args) < 3 {
		if len(c.Pieces) == 1 {
			return &c.Pieces[0], nil
		}
		return nil, fmt.Errorf("%s holds %d pieces\nhint: name one: fingerproof explain %s PIECE MEASURE, PIECE one of %s",
			args[0], len(ids), args[0], someOf(ids))
	}
	if at := slices.Index(ids, args[1]); at >= 0 {
		return &c.Pieces[at], nil
	}
	if at, err := byPart(ids, args[1]); at >= 0 || err != nil {
		if err != nil {
			return nil, err
		}
		return &c.Pieces[at], nil
	}
	hint := "it holds " + someOf(ids)
	if near := strictyaml.Nearest(args[1], ids); near != "" {
		hint = fmt.Sprintf("did you mean %s?", near)
	}
	return nil, fmt.Errorf("%s holds no piece %q\nhint: %s", args[0], args[1], hint)
}

// someOf lists names, the first ones where there are many.
func someOf(names []string) string {
	const many = 8
	if len(names) > many {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:many], ", "), len(names)-many)
	}
	return strings.Join(names, ", ")
}

// titleOf is what a page calls the piece.
func titleOf(w *pipeline.PieceRun) string {
	for _, t := range []string{w.Piece.Title, w.Score.Title} {
		if t != "" {
			return t
		}
	}
	return w.Piece.ID
}
