package agreement

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/training"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/fit"
)

// fitting fits the shipped tables.
type fitting struct {
	shared, folder string
	without        int
}

func fitCommand() *cobra.Command {
	m := &fitting{}
	return measurement.Measurement{
		Use:   "fit",
		Short: "fit the shipped tables of weights from the fingered material",
		Long: `fit makes interpretable.json and delivered.json from all of the fingered material. The same material
gives the same bytes.`,
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.IntVar(&m.without, "without", -1,
				"leave out the pieces of this fold (0 to 4), to measure a run with --weights on them; -1 for none")
			f.StringVar(&m.folder, "out", filepath.Join("rules", "effort", "tables"), "folder to write the tables to")
		},
		Run: m.run,
	}.Command()
}

func (m *fitting) run(_ context.Context, out io.Writer, _ []string) error {
	pieces, err := opendata.ReadPieces(opendata.Place(m.shared, "fingered"))
	if err != nil {
		return err
	}
	tables := []struct {
		name     string
		settings fit.Settings
		said     string
	}{{"interpretable", training.TermSettings(), ""}, {"delivered", training.HabitSettings(), ""}}
	var g errgroup.Group
	for i := range tables {
		t := &tables[i]
		g.Go(func() (err error) {
			t.said, err = m.table(pieces, t.name, t.settings)
			return err
		})
	}
	if err := g.Wait(); err != nil {
		return err
	}
	for _, t := range tables {
		fmt.Fprintln(out, t.said)
	}
	return nil
}

// table fits and writes one table, and says what it holds.
func (m *fitting) table(pieces []*opendata.Piece, name string, s fit.Settings) (string, error) {
	w := training.Without(pieces, m.without, s, name, training.Prune)
	w.Provenance = "fitted by 'workbench fit' on partial labels: digits printed in the editions listed under attribution"
	w.Attribution = attribution(pieces)
	if s.Habit {
		var err error
		if w.Confidence, err = calibrationFor(pieces, m.without); err != nil {
			return "", err
		}
		w = w.Asking(training.NetworkWithout(m.without), training.NetworkWeight)
		w.Provenance += "; confidence fitted on folds that the prices had not seen"
	}
	terms, habits := w.Numbers()
	path := filepath.Join(m.folder, name+".json")
	f, err := os.Create(path)
	if err != nil {
		return "", fmt.Errorf("writing the tables: %w", err)
	}
	if err := w.Write(f); err != nil {
		f.Close()
		return "", fmt.Errorf("%s: %w", path, err)
	}
	return fmt.Sprintf("%s: %d terms, %d habits", path, terms, habits), f.Close()
}

// calibrationFor fits the calibration of the confidence on what the program foretells of each fold with weights that
// have not seen it; the fold left out takes no part.
func calibrationFor(pieces []*opendata.Piece, without int) (effort.Calibrations, error) {
	var folds [5]measured
	err := training.EachFold(pieces, 5, func(fold int, delivered *effort.Weights) error {
		m := &folds[fold]
		m.counts = counter{}
		for _, p := range pieces {
			if p.Fold == fold && fold != without {
				if err := m.throughProgram(p, policies.Default(), delivered, false); err != nil {
					return err
				}
			}
		}
		return nil
	})
	var all []fit.Foretold
	for f := range folds {
		all = append(all, folds[f].foretold...)
	}
	return fit.CalibrateFingers(all), err
}

// attribution lists licences with the composers whose scores are under them, as the index of the material gives them.
func attribution(pieces []*opendata.Piece) []string {
	by := map[string][]string{}
	for _, p := range pieces {
		if !slices.Contains(by[p.Licence], p.Composer) {
			by[p.Licence] = append(by[p.Licence], p.Composer)
		}
	}
	var licences []string
	for l := range by {
		licences = append(licences, l)
	}
	slices.Sort(licences)
	out := []string{
		"Weights derived from fingerings in scores of the Mutopia Project and of the Fryderyk Chopin Institute " +
			"(humdrum-polish-scores, humdrum-chopin-first-editions).",
		"Parts of the material are under CC BY-SA (see below); the scores themselves are not contained in this table.",
	}
	for _, l := range licences {
		slices.Sort(by[l])
		out = append(out, l+": "+strings.Join(by[l], ", "))
	}
	return out
}
