package findings

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/policies"
	"fingerproof/rules/lint"
)

// ownEditions counts what lint says of editions of ours and did not say when they were made.
type ownEditions struct {
	every, from int
	chance      chance
	styles      []string
	list        bool

	counts map[string]*ownCount
	names  []string
	pieces int
	out    io.Writer
}

// ownCount counts the findings of a style by severity: all of the editions, and those that are new; and of the new ones their rules.
type ownCount struct {
	all, fresh [lint.Error + 1]int
	rules      map[string]int
}

func ownEditionsCommand() *cobra.Command {
	m := &ownEditions{counts: map[string]*ownCount{}}
	return measurement.Measurement{
		Use:   "own-editions PATH...",
		Short: "lint editions in which everything was taken or amended: what is found in them that was not found when they were made",
		Long: `own-editions works out every score of some folders or collections in each shipped style, takes everything that its page asks as it
is suggested, but for what is amended by chance, makes the edition, and lints it as a file that lies there by itself. Counted are the
findings that the run which made the edition had not, of the same rule at none of the same notes, and that the text had not, of the
same rule in the same measure: a question that an answer took away is not the edition's. An editor who has answered everything
would meet the others for the first time.`,
		Args:  cobra.MinimumNArgs(1),
		Fails: "lint has an error or a warning of an edition which the run that made it had not",
		Flags: func(f *pflag.FlagSet) {
			f.IntVar(&m.every, "every", 1, "take every so many-th score")
			f.IntVar(&m.from, "from", 0, "the first of them, counted from 0")
			f.StringSliceVar(&m.styles, "styles", policies.Shipped(), "these house styles alone")
			f.IntVar(&m.chance.amended, "amended", 10, "amend so many of a hundred passages, and of a hundred digits of the text, by chance")
			f.Uint64Var(&m.chance.seed, "seed", 1, "what the chance begins with")
			f.BoolVar(&m.list, "list", false, "list every finding that is new")
		},
		Run: m.run,
	}.Command()
}

func (m *ownEditions) run(_ context.Context, out io.Writer, paths []string) error {
	m.out = out
	for _, name := range m.styles {
		policy, err := policies.ByName(name)
		if err != nil {
			return err
		}
		m.counts[name] = &ownCount{rules: map[string]int{}}
		for _, path := range paths {
			c, err := opendata.Slice(path, m.every, m.from)
			if err != nil {
				return err
			}
			m.collection(c, name, policy)
		}
	}
	table := figures.NewTable("style", "findings of editions", "new errors", "new warnings", "new notes", "their rules")
	worst := 0
	for _, name := range m.styles {
		c := m.counts[name]
		table.Row(name, c.all[lint.Error]+c.all[lint.Warning]+c.all[lint.Note], c.fresh[lint.Error], c.fresh[lint.Warning],
			c.fresh[lint.Note], c.rulesInOrder())
		worst += c.fresh[lint.Error] + c.fresh[lint.Warning]
	}
	fmt.Fprintf(out, "%d editions\n", m.pieces)
	table.Print(out)
	if worst > 0 {
		return measurement.Failed("%d errors and warnings are new", worst)
	}
	return nil
}

// ownEdition is what one edition gives.
type ownEdition struct {
	piece        string
	found, fresh []lint.Finding
	where        []string // of the new ones
	err          error
}

func (m *ownEditions) collection(c *corpus.Collection, style string, policy *policies.Policy) {
	work := func(i int) ownEdition { return lintOwn(c, &c.Pieces[i], policy, m.chance) }
	programruns.InOrder(len(c.Pieces), work, func(got ownEdition) {
		if got.err != nil {
			fmt.Fprintf(m.out, "left out: %s: %v\n", got.piece, got.err)
			return
		}
		m.pieces++
		count := m.counts[style]
		for _, f := range got.found {
			count.all[f.Severity]++
		}
		for i, f := range got.fresh {
			count.fresh[f.Severity]++
			count.rules[f.Severity.String()+" "+f.Rule]++
			if m.list {
				fmt.Fprintf(m.out, "%s, %s: %s: %s: %s [%s]\n", got.piece, style, f.Severity, got.where[i], f.Message, f.Rule)
			}
		}
	})
}

// lintOwn makes the edition of a piece of which everything was taken or amended, and lints it.
func lintOwn(c *corpus.Collection, piece *corpus.Piece, policy *policies.Policy, chance chance) (out ownEdition) {
	out.piece = piece.ID
	asked, made, err := takenWhole(c, piece, policy, chance)
	if err != nil {
		out.err = err
		return out
	}
	text, err := textOf(piece.Score, made.EditionData)
	if err != nil {
		out.err = err
		return out
	}
	alone := *piece
	alone.Score, alone.Witnesses = strings.TrimSuffix(alone.Score, ".mxl"), nil
	read := &pipeline.PieceRun{Piece: &alone, Data: []byte(text), Policy: policy, Weights: pipeline.ShippedWeights()}
	if out.err = pipeline.RunPiece(read); out.err != nil {
		return out
	}
	out.found = read.Remaining
	out.fresh = addedBy(out.found, slices.Concat(made.Findings, made.Remaining), slices.Concat(asked.Findings, asked.Remaining))
	for i := range out.fresh {
		out.where = append(out.where, placeOf(read, &out.fresh[i]))
	}
	return out
}

// addedBy gives the findings of an edition that neither the run which made it had nor the text. Findings that are told of several
// places at once stand there once with all of them, and once each.
func addedBy(edition, made, text []lint.Finding) (out []lint.Finding) {
	for i := range edition {
		f := &edition[i]
		if !slices.ContainsFunc(made, func(was lint.Finding) bool { return alike(&was, f) }) &&
			!slices.ContainsFunc(text, func(was lint.Finding) bool { return was.Rule == f.Rule && was.Measure == f.Measure }) {
			out = append(out, *f)
		}
	}
	return out
}

// alike says that two findings of a piece are of one rule and share a note; where they have none, that they stand at one place.
func alike(a, b *lint.Finding) bool {
	if a.Rule != b.Rule {
		return false
	}
	if len(a.Notes) == 0 || len(b.Notes) == 0 {
		return len(a.Notes) == len(b.Notes) && a.Message == b.Message && a.Measure == b.Measure
	}
	return slices.ContainsFunc(a.Notes, func(n int) bool { return slices.Contains(b.Notes, n) })
}

// placeOf says where a finding stands.
func placeOf(w *pipeline.PieceRun, f *lint.Finding) string {
	if len(f.Notes) == 0 {
		return "m. " + w.Score.Measures[f.Measure].Number
	}
	return fmt.Sprintf("%s, %s", w.Score.Place(f.Notes[0]), w.Playing.Hand(f.Notes[0]))
}

// takenWhole works out a piece, and makes the edition of which everything that its page asks is taken as it is suggested, or amended by
// chance.
func takenWhole(c *corpus.Collection, piece *corpus.Piece, policy *policies.Policy, chance chance) (w, made *pipeline.PieceRun, err error) {
	if w, err = programruns.OfPiece(c, piece, policy); err != nil {
		return nil, nil, err
	}
	if err := pipeline.RunPiece(w); err != nil {
		return nil, nil, err
	}
	finder := decision.NewFinder(w.Score)
	rng := chance.of(piece.ID)
	var all []decision.Decision
	for _, p := range review.All(w.ReviewInput()) {
		if p.ReturnOf > 0 { // judged with another
			continue
		}
		if fingers := rng.amendments(w, &p); len(fingers) > 0 {
			all = append(all, review.Amend(w.Result, finder, &p, fingers, "AB", "2026-01-01")...)
		} else if d, ok := review.Take(w.Result, finder, &p, "AB", "2026-01-01"); ok {
			all = append(all, d)
		}
		for _, k := range p.Rolls {
			all = append(all, review.Roll(&w.Result.Rolls[k], finder, w.Result.Rolls[k].Direction, "AB", "2026-01-01"))
		}
	}
	if d := rng.overText(w, finder); len(d.Notes) > 0 {
		all = append(all, d)
	}
	again := *w.Piece
	made = &pipeline.PieceRun{Piece: &again, Data: w.Data, Policy: policy, Weights: w.Weights, Edition: pipeline.EditionName(w.Piece)}
	if _, made.Decisions, err = programruns.ThroughTheirFile(finder, all); err != nil {
		return nil, nil, err
	}
	return w, made, pipeline.RunPiece(made)
}

func (c *ownCount) rulesInOrder() string {
	var rules []string
	for rule := range c.rules {
		rules = append(rules, rule)
	}
	slices.SortFunc(rules, func(a, b string) int {
		if c.rules[a] != c.rules[b] {
			return c.rules[b] - c.rules[a]
		}
		return strings.Compare(a, b)
	})
	for i, rule := range rules {
		rules[i] = fmt.Sprintf("%d %s", c.rules[rule], rule)
	}
	return strings.Join(rules, ", ")
}
