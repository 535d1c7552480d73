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
	"fingerproof/pipeline/4_services/review"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fit"
	"fingerproof/rules/lattice"
)

func evaluateCommand() *cobra.Command {
	var shared, policy string
	var curve, oracles, fifths bool
	c := &cobra.Command{
		Use:   "evaluate",
		Short: "measure the program and the engine against printed digits, cross-validated",
		Long: `evaluate fits the tables on four folds of the fingered material, takes the scores of the fifth, without their digits, through the
whole program with them, five times, and tells how many clean digits agree: what a user gets, with aims, memory of returns and the policy. The
second column is the engine alone, on the tables of notes. Folds are whole groups, as tools/agreement.py makes them. Settings were chosen by
the mean of the same five folds; no weight has seen the fold it is measured on.

Fitted tables are kept in the folder of temporary files under the sum of what they were fitted from.

EXIT STATUS
  0  measured
  2  the work could not be done`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := filepath.Join(shared, "data", "fingered")
			pieces, err := opendata.ReadPieces(dir)
			if err != nil {
				return err
			}
			out := cmd.OutOrStdout()
			if curve {
				return learningCurve(out, pieces)
			}
			if oracles {
				return evaluateOracles(out, pieces)
			}
			p, err := policies.Open(policy, ".")
			if err != nil {
				return err
			}
			scores, err := opendata.ReadPrograms(dir, pieces)
			if err != nil {
				return err
			}
			return evaluate(out, scores, p, fifths)
		},
	}
	f := c.Flags()
	f.StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	f.StringVar(&policy, "policy", "default", "policy file or shipped style")
	f.BoolVar(&fifths, "fifths", true, "hide every fifth clean digit, too, with the others given: five runs more")
	f.BoolVar(&oracles, "oracles", false, "measure the engine alone beside the interpretable and the hand-set table, the twelve rules and the nearest finger")
	f.BoolVar(&curve, "curve", false, "measure the engine with a tenth, a quarter, half and all of the pieces to learn from")
	return c
}

// The columns of the tables.
var (
	programColumns = []string{"program", "engine alone", "program, best two", "engine, best two", "program, hidden fifth"}
	oracleColumns  = []string{"engine", "interpretable", "hand-set", "twelve rules", "nearest finger"}
)

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

// calibration counts right digits and digits by tenth of confidence.
type calibration [10][2]int

func (c *calibration) add(tenth int, right bool) {
	bin := &c[min(tenth, 9)]
	bin[1]++
	if right {
		bin[0]++
	}
}

// measured is what one fold gives.
type measured struct {
	counts          counter
	program, engine calibration
	firm            [2]int
	judge, doubts   int // passages to judge because of doubts; notes in doubt
	struck          int
	err             error
}

func evaluate(out io.Writer, scores []*opendata.Program, policy *policies.Policy, fifths bool) error {
	var folds [5]measured
	err := training.EachFold(piecesOf(scores), 5, func(fold int, delivered *effort.Weights) error {
		m := &folds[fold]
		m.counts = counter{}
		var worker engine.Worker
		for _, s := range scores {
			if s.Fold != fold {
				continue
			}
			if err := m.throughProgram(s, policy, delivered, fifths); err != nil {
				return err
			}
			for h := range s.Hands {
				for _, n := range worker.Finger(fingering.Hand(h), training.Hand, delivered, s.Hands[h], engine.Options{Choices: true}).Notes {
					r := &s.Rows[n.ID]
					if !r.Clean {
						continue
					}
					m.counts.add(classesOf(s.Piece, r), 1, n.Finger == r.Finger)
					m.counts.add(classesOf(s.Piece, r), 3, n.Finger == r.Finger || len(n.Choices) > 0 && n.Choices[0].Finger == r.Finger)
					m.engine.add(n.Confidence/1000, n.Finger == r.Finger)
				}
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	var all measured
	all.counts = counter{}
	for fold := range folds {
		m := &folds[fold]
		fmt.Fprintf(out, "fold %d: program %s, engine alone %s\n", fold, figures.Share(m.counts["all"][0]), figures.Share(m.counts["all"][1]))
		all.join(m)
	}
	printTable(out, all.counts, programColumns)
	fmt.Fprintln(out, "\ncalibration: confidence, share that agrees and digits, of the program and of the engine alone")
	for b := range 10 {
		fmt.Fprintf(out, "  0.%d  %s  %6d   %s  %6d\n", b, figures.Share(all.program[b]), all.program[b][1], figures.Share(all.engine[b]), all.engine[b][1])
	}
	fmt.Fprintf(out, "called firm: %s of %d digits\n", figures.Share(all.firm), all.firm[1])
	fmt.Fprintf(out, "of %d struck notes %d are in doubt, in %d passages to judge\n", all.struck, all.doubts, all.judge)
	return nil
}

func piecesOf(scores []*opendata.Program) (out []*opendata.Piece) {
	for _, s := range scores {
		out = append(out, s.Piece)
	}
	return out
}

func (m *measured) join(o *measured) {
	m.counts.join(o.counts)
	for b := range m.program {
		for i := range 2 {
			m.program[b][i] += o.program[b][i]
			m.engine[b][i] += o.engine[b][i]
		}
	}
	for i := range 2 {
		m.firm[i] += o.firm[i]
	}
	m.judge, m.doubts, m.struck = m.judge+o.judge, m.doubts+o.doubts, m.struck+o.struck
}

// throughProgram measures one score as a user gets it: free of digits, and with each fifth of the clean ones hidden.
func (m *measured) throughProgram(s *opendata.Program, policy *policies.Policy, weights *effort.Weights, fifths bool) error {
	w, err := s.Run(s.Without(-1), policy, weights)
	if err != nil {
		return err
	}
	for _, p := range review.Passages(w.Result, w.Playing, w.Returns) {
		if len(p.Doubts) > 0 && p.ReturnOf == 0 {
			m.judge++
			m.doubts += len(p.Doubts)
		}
	}
	m.struck += w.Result.Summary.Struck
	for i, a := range s.Answers(w) {
		r := &s.Rows[i]
		if !r.Clean {
			continue
		}
		right := a.Finger == r.Finger
		m.counts.add(classesOf(s.Piece, r), 0, right)
		m.counts.add(classesOf(s.Piece, r), 2, right || a.Other == r.Finger)
		if a.Confidence >= 0 {
			m.program.add(a.Confidence/10, right)
			if a.Confidence >= review.Firm {
				m.firm[1]++
				if right {
					m.firm[0]++
				}
			}
		}
	}
	for hide := 0; fifths && hide < 5; hide++ {
		w, err := s.Run(s.Without(hide), policy, weights)
		if err != nil {
			return err
		}
		for i, a := range s.Answers(w) {
			if r := &s.Rows[i]; r.Clean && r.Hidden[hide] {
				m.counts.add(classesOf(s.Piece, r), 4, a.Finger == r.Finger)
			}
		}
	}
	return nil
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

// evaluateOracles measures the engine alone beside other tables and other rules.
func evaluateOracles(out io.Writer, pieces []*opendata.Piece) error {
	var counts [5]counter
	err := training.EachFold(pieces, 5, func(fold int, delivered *effort.Weights) error {
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
					var o engine.Options
					if column > 1 {
						o.Decode = engine.Cheapest
					}
					for _, n := range worker.Finger(fingering.Hand(h), training.Hand, w, p.Hands[h], o).Notes {
						if r := &p.Rows[n.ID]; r.Clean {
							c.add(classesOf(p, r), column, n.Finger == r.Finger)
						}
					}
				}
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	all := counter{}
	for _, c := range counts {
		all.join(c)
	}
	printTable(out, all, oracleColumns)
	return nil
}

func printTable(out io.Writer, all counter, columns []string) {
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
	var work lattice.Workspace
	path, _ := work.Price(l, effort.NewErgonomic(line, l)).Forward().Cheapest()
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
