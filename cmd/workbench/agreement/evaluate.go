package agreement

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/training"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fit"
	"fingerproof/rules/lattice"
)

func evaluateCommand() *cobra.Command {
	var shared string
	var curve bool
	c := &cobra.Command{
		Use:   "evaluate",
		Short: "measure the engine against printed digits, cross-validated",
		Long: `evaluate fits the tables on four folds of the fingered material and fingers the fifth with them, five times, and tells how
many clean digits agree. Folds are whole groups, as tools/agreement.py makes them. Settings were chosen by the mean of the same five
folds; no weight has seen the fold it is measured on.

EXIT STATUS
  0  measured
  2  the work could not be done`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			pieces, err := opendata.ReadPieces(filepath.Join(shared, "data", "fingered"))
			if err != nil {
				return err
			}
			if curve {
				return learningCurve(cmd.OutOrStdout(), pieces)
			}
			return evaluate(cmd.OutOrStdout(), pieces)
		},
	}
	c.Flags().StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	c.Flags().BoolVar(&curve, "curve", false, "measure with a tenth, a quarter, half and all of the pieces to learn from")
	return c
}

// The columns of the table.
var columns = []string{"delivered", "interpretable", "hand-set", "twelve rules", "nearest finger", "delivered, hidden fifth", "delivered, best two"}

// counter counts agreement by key (all, hand R …) and column.
type counter map[string]*[8][2]int

func (c counter) add(keys []string, column int, right bool) {
	for _, k := range keys {
		if c[k] == nil {
			c[k] = new([8][2]int)
		}
		c[k][column][1]++
		if right {
			c[k][column][0]++
		}
	}
}

func (c counter) join(o counter) {
	for k, v := range o {
		if c[k] == nil {
			c[k] = new([8][2]int)
		}
		for i := range v {
			c[k][i][0] += v[i][0]
			c[k][i][1] += v[i][1]
		}
	}
}

func classesOf(p *opendata.Piece, r *opendata.Row) []string {
	texture, density := "texture single note", "density < 0.10"
	if r.Chord {
		texture = "texture chord"
	}
	switch {
	case 10*p.Fingered >= 3*p.Notes:
		density = "density >= 0.30"
	case 10*p.Fingered >= p.Notes:
		density = "density >= 0.10"
	}
	return []string{"all", "hand " + r.Hand.String(), texture, density, "composer " + p.Composer}
}

// nearest is the table that only keeps the hand still.
func nearest() *effort.Weights {
	w := &effort.Weights{Name: "nearest finger"}
	for t := range effort.Terms {
		if strings.HasSuffix(t.Name(), ": hand moved") {
			w.Terms[t] = 1000
		}
	}
	return w
}

func evaluate(out io.Writer, pieces []*opendata.Piece) error {
	var counts [5]counter
	var calibration [5][10][2]int
	var g errgroup.Group
	g.SetLimit(2)
	for fold := range 5 {
		g.Go(func() error {
			delivered := training.Without(pieces, fold, training.HabitSettings(), "delivered", training.Prune)
			interpretable := training.Without(pieces, fold, training.TermSettings(), "interpretable", training.Prune)
			c := counter{}
			counts[fold] = c
			var worker engine.Worker
			for column, w := range []*effort.Weights{delivered, interpretable, effort.HandSet(), nil, nearest()} {
				for _, p := range pieces {
					if p.Fold != fold {
						continue
					}
					for h := range p.Hands {
						if w == nil {
							twelveRules(p, fingering.Hand(h), func(r *opendata.Row, f fingering.Finger) { c.add(classesOf(p, r), column, f == r.Finger) })
							continue
						}
						o := engine.Options{Choices: column == 0}
						if column > 1 {
							o.Decode = engine.Cheapest
						}
						for _, n := range worker.Finger(fingering.Hand(h), training.Hand, w, p.Hands[h], o).Notes {
							r := &p.Rows[n.ID]
							if !r.Clean {
								continue
							}
							c.add(classesOf(p, r), column, n.Finger == r.Finger)
							if column == 0 {
								c.add(classesOf(p, r), 6, n.Finger == r.Finger || len(n.Choices) > 0 && n.Choices[0].Finger == r.Finger)
								bin := &calibration[fold][min(n.Confidence/1000, 9)]
								bin[1]++
								if n.Finger == r.Finger {
									bin[0]++
								}
							}
						}
						if column == 0 {
							for hide := range 5 {
								for _, n := range worker.Finger(fingering.Hand(h), training.Hand, w, constrained(p, fingering.Hand(h), hide), engine.Options{}).Notes {
									if r := &p.Rows[n.ID]; r.Clean && r.Hidden[hide] {
										c.add(classesOf(p, r), 5, n.Finger == r.Finger)
									}
								}
							}
						}
					}
				}
			}
			return nil
		})
	}
	if err := g.Wait(); err != nil {
		return err
	}
	all := counter{}
	for fold, c := range counts {
		all.join(c)
		fmt.Fprintf(out, "fold %d delivered: %s\n", fold, figures.Share(c["all"][0]))
	}
	printTable(out, all)
	fmt.Fprintln(out, "\ncalibration of the delivered engine: confidence, share that agrees, digits")
	for b := range 10 {
		var sum [2]int
		for f := range calibration {
			sum[0] += calibration[f][b][0]
			sum[1] += calibration[f][b][1]
		}
		if sum[1] > 0 {
			fmt.Fprintf(out, "  0.%d  %s  %6d\n", b, figures.Share(sum), sum[1])
		}
	}
	return nil
}

func printTable(out io.Writer, all counter) {
	fmt.Fprintf(out, "\n%-40s %7s", "", "digits")
	for _, c := range columns {
		fmt.Fprintf(out, "  %s", c)
	}
	fmt.Fprintln(out)
	var keys []string
	for k := range all {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b string) int {
		if (a == "all") != (b == "all") {
			if a == "all" {
				return -1
			}
			return 1
		}
		return strings.Compare(a, b)
	})
	for _, k := range keys {
		fmt.Fprintf(out, "%-40s %7d", k, all[k][0][1])
		for i, c := range columns {
			fmt.Fprintf(out, "  %*s", len(c), figures.Share(all[k][i]))
		}
		fmt.Fprintln(out)
	}
}

// twelveRules fingers one hand by the published ergonomic model and calls visit for every clean digit.
func twelveRules(p *opendata.Piece, h fingering.Hand, visit func(*opendata.Row, fingering.Finger)) {
	line := fingering.NewLine(h, p.Hands[h], training.Hand.Fits)
	l := lattice.New(line, training.Hand)
	var s lattice.Search
	s.Load(l, effort.NewErgonomic(line, l))
	path, _ := s.Cheapest()
	for e, g := range path {
		for i, k := range line.Events[e].Keys {
			if !k.Struck {
				continue
			}
			for _, id := range line.Strikes[k.Strike].IDs {
				if r := &p.Rows[id]; r.Clean {
					visit(r, l.Grips(e)[g].Fingers[i])
				}
			}
		}
	}
}

// learningCurve measures the delivered engine with fewer pieces to learn from: every tenth, every fourth, every other, all.
func learningCurve(out io.Writer, pieces []*opendata.Piece) error {
	for _, every := range []int{10, 4, 2, 1} {
		var right, all [5]int
		var g errgroup.Group
		g.SetLimit(2)
		for fold := range 5 {
			g.Go(func() error {
				n := 0
				x := training.Examples(pieces, func(p *opendata.Piece) bool { n++; return p.Fold != fold && n%every == 0 })
				w := fit.Train(x, effort.HandSet(), training.Hand, training.HabitSettings()).Weights("part", training.Prune)
				var worker engine.Worker
				for _, p := range pieces {
					if p.Fold != fold {
						continue
					}
					for h := range p.Hands {
						for _, n := range worker.Finger(fingering.Hand(h), training.Hand, w, p.Hands[h], engine.Options{}).Notes {
							if r := &p.Rows[n.ID]; r.Clean {
								all[fold]++
								if n.Finger == r.Finger {
									right[fold]++
								}
							}
						}
					}
				}
				return nil
			})
		}
		if err := g.Wait(); err != nil {
			return err
		}
		var sum [2]int
		for f := range right {
			sum[0], sum[1] = sum[0]+right[f], sum[1]+all[f]
		}
		fmt.Fprintf(out, "one piece in %2d: %s\n", every, figures.Share(sum))
	}
	return nil
}

// constrained gives a hand's notes with every digit given but the clean ones of fifth hide; with hide −1 free of digits.
func constrained(p *opendata.Piece, h fingering.Hand, hide int) []fingering.Note {
	notes := slices.Clone(p.Hands[h])
	if hide < 0 {
		return notes
	}
	for i := range notes {
		r := p.Rows[notes[i].ID]
		if r.Given && !(r.Clean && r.Hidden[hide]) {
			notes[i].Allowed = fingering.Only(r.Finger)
		}
	}
	return notes
}
