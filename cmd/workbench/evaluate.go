package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

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
			pieces, err := readMaterial(filepath.Join(shared, "data", "fingered"))
			if err != nil {
				return err
			}
			if curve {
				return learningCurve(cmd.OutOrStdout(), pieces)
			}
			return evaluate(cmd.OutOrStdout(), pieces)
		},
	}
	c.Flags().StringVar(&shared, "shared", sharedFolder(), "folder of shared material")
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

func (p *piece) keys(r *row) []string {
	texture, density := "texture single note", "density < 0.10"
	if r.chord {
		texture = "texture chord"
	}
	switch {
	case 10*p.fingered >= 3*p.notes:
		density = "density >= 0.30"
	case 10*p.fingered >= p.notes:
		density = "density >= 0.10"
	}
	return []string{"all", "hand " + r.hand.String(), texture, density, "composer " + p.composer}
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

func evaluate(out io.Writer, pieces []*piece) error {
	var counts [5]counter
	var calibration [5][10][2]int
	var g errgroup.Group
	g.SetLimit(2)
	for fold := range 5 {
		g.Go(func() error {
			delivered := trainWithout(pieces, fold, habitSettings(), "delivered", prune)
			interpretable := trainWithout(pieces, fold, termSettings(), "interpretable", prune)
			c := counter{}
			counts[fold] = c
			var worker engine.Worker
			for column, w := range []*effort.Weights{delivered, interpretable, effort.HandSet(), nil, nearest()} {
				for _, p := range pieces {
					if p.fold != fold {
						continue
					}
					for h := range p.hands {
						if w == nil {
							twelveRules(p, fingering.Hand(h), func(r *row, f fingering.Finger) { c.add(p.keys(r), column, f == r.finger) })
							continue
						}
						o := engine.Options{Choices: column == 0}
						if column > 1 {
							o.Decode = engine.Cheapest
						}
						for _, n := range worker.Finger(fingering.Hand(h), trainingHand, w, p.hands[h], o).Notes {
							r := &p.rows[n.ID]
							if !r.clean {
								continue
							}
							c.add(p.keys(r), column, n.Finger == r.finger)
							if column == 0 {
								c.add(p.keys(r), 6, n.Finger == r.finger || len(n.Choices) > 0 && n.Choices[0].Finger == r.finger)
								bin := &calibration[fold][min(n.Confidence/1000, 9)]
								bin[1]++
								if n.Finger == r.finger {
									bin[0]++
								}
							}
						}
						if column == 0 {
							for hide := range 5 {
								for _, n := range worker.Finger(fingering.Hand(h), trainingHand, w, p.constrained(fingering.Hand(h), hide), engine.Options{}).Notes {
									if r := &p.rows[n.ID]; r.clean && r.hidden[hide] {
										c.add(p.keys(r), 5, n.Finger == r.finger)
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
		fmt.Fprintf(out, "fold %d delivered: %s\n", fold, share(c["all"][0]))
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
			fmt.Fprintf(out, "  0.%d  %s  %6d\n", b, share(sum), sum[1])
		}
	}
	return nil
}

func share(c [2]int) string {
	if c[1] == 0 {
		return "   –  "
	}
	return fmt.Sprintf("%.4f", float64(c[0])/float64(c[1]))
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
			fmt.Fprintf(out, "  %*s", len(c), share(all[k][i]))
		}
		fmt.Fprintln(out)
	}
}

// twelveRules fingers one hand by the published ergonomic model and calls visit for every clean digit.
func twelveRules(p *piece, h fingering.Hand, visit func(*row, fingering.Finger)) {
	line := fingering.NewLine(h, p.hands[h], trainingHand.Fits)
	l := lattice.New(line, trainingHand)
	var s lattice.Search
	s.Load(l, effort.NewErgonomic(line, l))
	path, _ := s.Cheapest()
	for e, g := range path {
		for i, k := range line.Events[e].Keys {
			if !k.Struck {
				continue
			}
			for _, id := range line.Strikes[k.Strike].IDs {
				if r := &p.rows[id]; r.clean {
					visit(r, l.Grips(e)[g].Fingers[i])
				}
			}
		}
	}
}

// learningCurve measures the delivered engine with fewer pieces to learn from: every tenth, every fourth, every other, all.
func learningCurve(out io.Writer, pieces []*piece) error {
	for _, every := range []int{10, 4, 2, 1} {
		var right, all [5]int
		var g errgroup.Group
		g.SetLimit(2)
		for fold := range 5 {
			g.Go(func() error {
				n := 0
				x := examples(pieces, func(p *piece) bool { n++; return p.fold != fold && n%every == 0 })
				w := fit.Train(x, effort.HandSet(), trainingHand, habitSettings()).Weights("part", prune)
				var worker engine.Worker
				for _, p := range pieces {
					if p.fold != fold {
						continue
					}
					for h := range p.hands {
						for _, n := range worker.Finger(fingering.Hand(h), trainingHand, w, p.hands[h], engine.Options{}).Notes {
							if r := &p.rows[n.ID]; r.clean {
								all[fold]++
								if n.Finger == r.finger {
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
		fmt.Fprintf(out, "one piece in %2d: %s\n", every, share(sum))
	}
	return nil
}

// constrained gives a hand's notes with every digit given but the clean ones of fifth hide; with hide −1 free of digits.
func (p *piece) constrained(h fingering.Hand, hide int) []fingering.Note {
	notes := slices.Clone(p.hands[h])
	if hide < 0 {
		return notes
	}
	for i := range notes {
		r := p.rows[notes[i].ID]
		if r.given && !(r.clean && r.hidden[hide]) {
			notes[i].Allowed = fingering.Only(r.finger)
		}
	}
	return notes
}
