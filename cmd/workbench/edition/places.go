package edition

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/cmd/workbench/training"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/places"
)

// placing fits the model of printed places, or measures it on folds.
type placing struct {
	shared, fit, keep string
	every             int
}

func placesCommand() *cobra.Command {
	m := &placing{}
	return measurement.Measurement{
		Use:   "places",
		Short: "how well the model of printed places finds where editions print digits; --fit makes the shipped one",
		Long: `places fits the model of rules/places to the fingered material in five folds of whole groups, and says of
each density how many of the editions' digits stand at the notes that the model wants most, as many of a piece as the
density asks for; nothing is added here so that the fingering can be read (workbench thin measures that). The fingers
are those of the program with the printed digits given, as print has them, and beside it those of the program alone.
Fitted are editions that print a digit at 5 to 60 notes in a hundred; the table gives them and all.`,
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.StringVar(&m.fit, "fit", "", "fit one model to everything and write it to this file (rules/places/model.json)")
			f.StringVar(&m.keep, "keep", "", "keep the models of the folds in this folder, for thin --models")
			f.IntVar(&m.every, "every", 1, "take every so many-th piece only")
		},
		Run: m.run,
	}.Command()
}

// printedPiece is one edition and what the model says of it.
type printedPiece struct {
	*training.Printed
	free           [][]int // as Rows, of the program's own fingers
	events, byself [][]places.Event
}

func (m *placing) run(_ context.Context, out io.Writer, _ []string) error {
	pieces, err := m.read(out)
	if err != nil {
		return err
	}
	var printed []*training.Printed
	for _, p := range pieces {
		printed = append(printed, p.Printed)
	}
	if m.fit != "" {
		return m.write(out, printed)
	}
	models, err := m.models(printed)
	if err != nil {
		return err
	}
	t := figures.NewTable("density", "print's fingers", "the program's own", "at random", "digits", "editions")
	for _, chosen := range []bool{true, false} {
		for _, density := range wantedAt {
			c := coverage{density: density}
			for _, p := range pieces {
				if p.Chosen() || !chosen {
					c.add(p, models[p.Fold])
				}
			}
			which := "all"
			if chosen {
				which = "of 5 to 60 %"
			}
			t.Row(fmt.Sprintf("%.1f %%", density), percent(c.hit, c.digits), percent(c.own, c.digits),
				percentOf(c.random/float64(max(c.digits, 1))), c.digits, fmt.Sprintf("%d %s", c.pieces, which))
		}
	}
	t.Print(out)
	return nil
}

// read takes the pieces as far as their fingers are suggested.
func (m *placing) read(out io.Writer) ([]*printedPiece, error) {
	dir := opendata.Place(m.shared, "fingered")
	folds, err := opendata.Folds(dir)
	if err != nil {
		return nil, err
	}
	c, err := opendata.EveryNth(dir, m.every)
	if err != nil {
		return nil, err
	}
	all := make([]*printedPiece, len(c.Pieces))
	failed := make([]error, len(c.Pieces))
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i := range c.Pieces {
		g.Go(func() error {
			w, err := programruns.OfPiece(c, &c.Pieces[i], policies.Default())
			if err == nil {
				err = programruns.UpTo(w, "suggest")
			}
			if err != nil {
				failed[i] = err
				return nil
			}
			p := &printedPiece{Printed: training.PrintedOf(w, folds[w.Piece.ID])}
			free := *w
			free.Score = w.Score.WithoutDigits()
			alone := suggest.Suggest(free.SuggestInput()).Fingers()
			for l := range w.Playing.Lines {
				p.events = append(p.events, places.Events(w.Score, &w.Playing.Lines[l], w.Suggestion.Fingers()))
				p.byself = append(p.byself, places.Events(w.Score, &w.Playing.Lines[l], alone))
			}
			all[i] = p
			return nil
		})
	}
	if err := g.Wait(); err != nil {
		return nil, err
	}
	var kept []*printedPiece
	for i, p := range all {
		if failed[i] != nil {
			fmt.Fprintf(out, "left out: %v\n", failed[i])
		} else if len(p.Rows) > 0 {
			kept = append(kept, p)
		}
	}
	return kept, nil
}

// models fits a model without each fold.
func (m *placing) models(printed []*training.Printed) ([5]*places.Model, error) {
	var models [5]*places.Model
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for fold := range models {
		g.Go(func() error {
			models[fold] = training.Places(printed, fold)
			if m.keep == "" {
				return nil
			}
			data, err := models[fold].Encode()
			if err != nil {
				return err
			}
			return os.WriteFile(foldModel(m.keep, fold), data, 0o600)
		})
	}
	return models, g.Wait()
}

// foldModel is the file of the model that has not seen a fold.
func foldModel(folder string, fold int) string {
	return filepath.Join(folder, fmt.Sprintf("places-without-%d.json", fold))
}

// wantedAt are the densities, in percent, at which the wanted places alone are counted: those of the three styles as they were
// when the model was asked for.
var wantedAt = [3]float64{43.7, 23.8, 15.9}

// coverage counts the digits of editions that a model covers at a density.
type coverage struct {
	density                  float64
	pieces, digits, hit, own int
	random                   float64
}

func (c *coverage) add(p *printedPiece, m *places.Model) {
	n := len(p.Yes)
	k := max(1, int(c.density*float64(n)/100+0.5))
	digits := count(p.Yes, nil)
	c.pieces++
	c.digits += digits
	c.random += float64(digits) * float64(k) / float64(n)
	c.hit += count(p.Yes, most(m, p.events, int(c.density+0.5), k))
	c.own += count(p.Yes, most(m, p.byself, int(c.density+0.5), k))
}

// most gives the k notes that a model wants most, of notes numbered through all lines.
func most(m *places.Model, lines [][]places.Event, density, k int) []int {
	var wanted []int
	for _, events := range lines {
		for _, keys := range m.Line(events, density).Wanted() {
			wanted = append(wanted, keys...)
		}
	}
	order := make([]int, len(wanted))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(wanted[b], wanted[a]) })
	return order[:min(k, len(order))]
}

// count says at how many of the places there is a digit; nil stands for all.
func count(yes []bool, at []int) (n int) {
	if at == nil {
		for _, y := range yes {
			if y {
				n++
			}
		}
		return n
	}
	for _, i := range at {
		if i < len(yes) && yes[i] {
			n++
		}
	}
	return n
}

// write fits one model to everything.
func (m *placing) write(out io.Writer, printed []*training.Printed) error {
	dir := opendata.Place(m.shared, "fingered")
	model := training.Places(printed, -1)
	source, err := training.PlacesSource(dir, printed)
	if err != nil {
		return err
	}
	model.Provenance, model.Attribution = source.Provenance, source.Attribution
	data, err := model.Encode()
	if err != nil {
		return err
	}
	if err := os.WriteFile(m.fit, data, 0o600); err != nil {
		return fmt.Errorf("writing the model of printed places: %w", err)
	}
	fmt.Fprintf(out, "%s: %d trees, %d bytes\n%s\n", m.fit, len(model.Trees), len(data), model.Provenance)
	return nil
}
