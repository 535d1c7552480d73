package agreement

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/training"
	"fingerproof/rules/fit"
)

func fitCommand() *cobra.Command {
	var shared, out string
	var without int
	c := &cobra.Command{
		Use:   "fit",
		Short: "fit the shipped tables of weights from the fingered material",
		Long: `fit makes interpretable.json and delivered.json from all of the fingered material. The same material gives the
same bytes.

EXIT STATUS
  0  both tables were written
  2  the work could not be done`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			pieces, err := opendata.ReadPieces(filepath.Join(shared, "data", "fingered"))
			if err != nil {
				return err
			}
			var g errgroup.Group
			for _, t := range []struct {
				name string
				s    fit.Settings
			}{{"interpretable", training.TermSettings()}, {"delivered", training.HabitSettings()}} {
				g.Go(func() error {
					w := training.Without(pieces, without, t.s, t.name, training.Prune)
					w.Provenance = "fitted by 'workbench fit' on partial labels: digits printed in the editions listed under attribution"
					w.Attribution = attribution(pieces)
					terms, habit := w.Numbers()
					path := filepath.Join(out, t.name+".json")
					f, err := os.Create(path)
					if err != nil {
						return fmt.Errorf("writing the tables: %w", err)
					}
					if err := w.Write(f); err != nil {
						f.Close()
						return fmt.Errorf("%s: %w", path, err)
					}
					fmt.Fprintf(cmd.OutOrStdout(), "%s: %d terms, %d habits\n", path, terms, habit)
					return f.Close()
				})
			}
			return g.Wait()
		},
	}
	c.Flags().StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	c.Flags().IntVar(&without, "without", -1, "leave out the pieces of this fold (0 to 4), to measure a run with --weights on them; -1 for none")
	c.Flags().StringVar(&out, "out", filepath.Join("rules", "effort", "tables"), "folder to write the tables to")
	return c
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
		"Weights derived from fingerings in scores of the Mutopia Project and of the Fryderyk Chopin Institute (humdrum-polish-scores, humdrum-chopin-first-editions).",
		"Parts of the material are under CC BY-SA (see below); the scores themselves are not contained in this table.",
	}
	for _, l := range licences {
		slices.Sort(by[l])
		text := l + ": "
		for i, c := range by[l] {
			if i > 0 {
				text += ", "
			}
			text += c
		}
		out = append(out, text)
	}
	return out
}
