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
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fit"
	"fingerproof/rules/lattice"
	"fingerproof/rules/parallel"
)

func evaluateCommand() *cobra.Command {
	var shared, policy string
	var curve, oracles, fifths bool
	c := &cobra.Command{
		Use:   "evaluate",
		Short: "measure the program and the engine against printed digits, cross-validated",
		Long: `evaluate fits the tables on four folds of the fingered material, takes the scores of the fifth, without their digits, through the
whole program with them, five times, and tells how many clean digits agree: what a user gets, with aims, memory of returns and the policy. The
second column is the engine alone, without aims and memory. Folds are whole groups, as tools/agreement.py makes them. Settings were chosen by
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
			return evaluate(out, pieces, p, fifths)
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

	foretold []fit.Foretold // the program's clean digits, as the passes hold them for likely
	results  []result
}

// result is what the program gave for one piece, to be judged once the confidence is calibrated.
type result struct {
	told    *state.Result
	raw     []int // likelihood of each told note in ten-thousandths
	returns []parallel.Return
	playing *playing.Playing
}

func evaluate(out io.Writer, scores []*opendata.Piece, policy *policies.Policy, fifths bool) error {
	var folds [5]measured
	err := training.EachFold(scores, 5, func(fold int, delivered *effort.Weights) error {
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
			for h := range s.Lines {
				for _, n := range worker.Finger(fingering.Hand(h), training.Hand, delivered, s.Lines[h], engine.Options{Choices: true}).Notes {
					r := s.Row(n.ID)
					if !r.Clean {
						continue
					}
					m.counts.add(classesOf(s, r), 1, n.Finger == r.Finger)
					m.counts.add(classesOf(s, r), 3, n.Finger == r.Finger || len(n.Choices) > 0 && n.Choices[0].Finger == r.Finger)
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
		var others []fit.Foretold
		for o := range folds {
			if o != fold {
				others = append(others, folds[o].foretold...)
			}
		}
		m.calibrated(fit.CalibrateFingers(others))
		fmt.Fprintf(out, "fold %d: program %s, engine alone %s\n", fold, figures.Share(m.counts["all"][0]), figures.Share(m.counts["all"][1]))
		all.join(m)
	}
	printTable(out, all.counts, programColumns)
	fmt.Fprintln(out, "\ncalibration: confidence, share that agrees and digits, of the program (calibrated on the other folds) and of the engine alone (not calibrated)")
	for b := range 10 {
		fmt.Fprintf(out, "  0.%d  %s  %6d   %s  %6d\n", b, figures.Share(all.program[b]), all.program[b][1], figures.Share(all.engine[b]), all.engine[b][1])
	}
	fmt.Fprintf(out, "called firm: %s of %d digits\n", figures.Share(all.firm), all.firm[1])
	fmt.Fprintf(out, "of %d struck notes %d are in doubt, in %d passages to judge\n", all.struck, all.doubts, all.judge)
	return nil
}

// calibrated counts confidence, calibrated, and what an editor has to judge by it.
func (m *measured) calibrated(c effort.Calibrations) {
	for _, f := range m.foretold {
		share := c.Of(f.Finger, f.Likelihood)
		m.program.add(share/1000, f.Printed)
		if int(state.PercentOf(int64(share), 10000)) >= review.Firm {
			m.firm[1]++
			if f.Printed {
				m.firm[0]++
			}
		}
	}
	for _, r := range m.results {
		for i := range r.told.Notes {
			if n := &r.told.Notes[i]; n.Confidence != nil {
				*n.Confidence = state.PercentOf(int64(c.Of(fingering.Finger(n.Finger), r.raw[i])), 10000)
			}
		}
		for _, p := range review.Passages(r.told, r.playing, r.returns) {
			if len(p.Doubts) > 0 && p.ReturnOf == 0 {
				m.judge++
				m.doubts += len(p.Doubts)
			}
		}
		m.struck += r.told.Summary.Struck
	}
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
func (m *measured) throughProgram(s *opendata.Piece, policy *policies.Policy, weights *effort.Weights, fifths bool) error {
	w, err := s.Run(s.Without(-1), policy, weights)
	if err != nil {
		return err
	}
	kept := result{told: w.Result, returns: w.Returns, playing: w.Playing}
	for _, n := range w.Result.Notes {
		kept.raw = append(kept.raw, w.Suggestion.Notes[n.N].Confidence)
	}
	m.results = append(m.results, kept)
	for i, a := range s.Answers(w) {
		r := s.Row(i)
		if !r.Clean {
			continue
		}
		right := a.Finger == r.Finger
		m.counts.add(classesOf(s, r), 0, right)
		m.counts.add(classesOf(s, r), 2, right || a.Other == r.Finger)
		if a.Confidence >= 0 {
			m.foretold = append(m.foretold, fit.Foretold{Finger: a.Finger, Likelihood: a.Confidence, Printed: right})
		}
	}
	for hide := 0; fifths && hide < 5; hide++ {
		w, err := s.Run(s.Without(hide), policy, weights)
		if err != nil {
			return err
		}
		for i, a := range s.Answers(w) {
			if r := s.Row(i); r.Clean && r.Hidden[hide] {
				m.counts.add(classesOf(s, r), 4, a.Finger == r.Finger)
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
				for h := range p.Lines {
					if w == nil {
						twelveRules(p, fingering.Hand(h), func(r *opendata.Row, f fingering.Finger) { c.add(classesOf(p, r), column, f == r.Finger) })
						continue
					}
					var o engine.Options
					if column > 1 {
						o.Decode = engine.Cheapest
					}
					for _, n := range worker.Finger(fingering.Hand(h), training.Hand, w, p.Lines[h], o).Notes {
						if r := p.Row(n.ID); r.Clean {
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
	line := fingering.NewLine(h, p.Lines[h], training.Hand.Fits)
	l := lattice.New(line, training.Hand)
	var work lattice.Workspace
	path, _ := work.Price(l, effort.NewErgonomic(line, l)).Forward().Cheapest()
	for e, g := range path {
		for i, k := range line.Events[e].Keys {
			if !k.Struck {
				continue
			}
			for _, id := range line.Strikes[k.Strike].IDs {
				if r := p.Row(id); r.Clean {
					visit(r, l.Grips(e)[g].Fingers[i])
				}
			}
		}
	}
}

// learningCurve measures the delivered engine with fewer pieces to learn from: every tenth, every fourth, every other,
// all.
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
					for h := range p.Lines {
						for _, n := range worker.Finger(fingering.Hand(h), training.Hand, w, p.Lines[h], engine.Options{}).Notes {
							if r := p.Row(n.ID); r.Clean {
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

// constrained gives a hand's notes with every digit given but the clean ones of fifth hide; with hide −1 free of
// digits.
func constrained(p *opendata.Piece, h fingering.Hand, hide int) []fingering.Note {
	notes := slices.Clone(p.Lines[h])
	if hide < 0 {
		return notes
	}
	for i := range notes {
		r := p.Row(notes[i].ID)
		if r.Given && !(r.Clean && r.Hidden[hide]) {
			notes[i].Allowed = fingering.Only(r.Finger)
		}
	}
	return notes
}
