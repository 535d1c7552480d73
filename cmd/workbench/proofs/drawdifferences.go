package proofs

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/4_services/compare"
)

// drawing draws differences between witnesses, to be held against both files by a reader.
type drawing struct {
	shared string
	count  int
	lines  int
	seed   uint64
	kinds  []string
}

func drawDifferencesCommand() *cobra.Command {
	m := &drawing{}
	return measurement.Measurement{
		Use:   "draw-differences [OLD NEW]...",
		Short: "draw differences between witnesses at random, with what stands in both files, for a reader to judge",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args)%2 != 0 {
				return fmt.Errorf("scores come in pairs, and %d are given", len(args))
			}
			return nil
		},
		Long: `draw-differences compares every pair of witnesses of a work, or the pairs of scores that are named, and
draws differences at random, as evenly
over their kinds as there are any. Beside each it writes what stands at its place in both files, so
that a reader can say whether it is right.`,
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.IntVar(&m.count, "count", 60, "how many differences to draw")
			f.IntVar(&m.lines, "lines", 12, "how many lines of each file to write")
			f.Uint64Var(&m.seed, "seed", 1, "seed of the draw")
			f.StringSliceVar(&m.kinds, "kinds", nil, "only these kinds, as in JSON reports (default: all)")
		},
		Run: m.run,
	}.Command()
}

// drawn is one difference of a pair.
type drawn struct {
	pair   witnessPair
	change compare.Change
}

func (m *drawing) run(_ context.Context, out io.Writer, args []string) error {
	pairs, err := witnessPairs(opendata.Place(m.shared, "witnesses"))
	if err != nil {
		return err
	}
	if len(args) > 0 {
		pairs = nil
		for k := 0; k < len(args); k += 2 {
			name := filepath.Base(args[k])
			pairs = append(pairs, witnessPair{work: name, a: name, b: filepath.Base(args[k+1]), fileA: args[k], fileB: args[k+1]})
		}
	}
	byKind := map[compare.Kind][]drawn{}
	for _, p := range pairs {
		a, b, err := p.read()
		if err != nil {
			return err
		}
		piece := compare.Scores(p.work, compare.Side{Score: a}, compare.Side{Score: b})
		for _, c := range piece.Changes {
			if len(m.kinds) == 0 || slices.Contains(m.kinds, string(c.Kind)) {
				byKind[c.Kind] = append(byKind[c.Kind], drawn{p, c})
			}
		}
	}
	rng := rand.New(rand.NewPCG(m.seed, 0))
	for _, k := range compare.Kinds() {
		list := byKind[k]
		rng.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		if len(list) > 0 {
			fmt.Fprintf(out, "%s: %d\n", k, len(list))
		}
	}
	left := m.count
	for round := 0; left > 0; round++ {
		any := false
		for _, k := range compare.Kinds() {
			if list := byKind[k]; round < len(list) && left > 0 {
				any = true
				left--
				if err := m.write(out, m.count-left, &list[round]); err != nil {
					return err
				}
			}
		}
		if !any {
			break
		}
	}
	return nil
}

func (m *drawing) write(out io.Writer, number int, d *drawn) error {
	c := &d.change
	fmt.Fprintf(out, "\n%d. %s, %s: %s: %q → %q\n", number, d.pair.work, c.At().Words(true), c.Kind, c.Old, c.New)
	for _, side := range []struct {
		name, file string
		at         *compare.Place
	}{{"old", d.pair.fileA, c.A}, {"new", d.pair.fileB, c.B}} {
		if side.at == nil {
			fmt.Fprintf(out, "  %s: no place\n", side.name)
			continue
		}
		text, err := linesAt(side.file, side.at.Line, m.lines)
		if err != nil {
			return err
		}
		fmt.Fprintf(out, "  %s, %s+%s, line %d: %s\n", side.name, side.at.Measure, side.at.Onset, side.at.Line, text)
	}
	return nil
}

// linesAt gives lines of a score's text in one line.
func linesAt(file string, line, count int) (string, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return "", fmt.Errorf("reading a score: %w", err)
	}
	doc, err := source.Open(file, data, source.DefaultLimits())
	if err != nil {
		return "", err
	}
	all := strings.Split(doc.Text, "\n")
	from := min(max(line-1, 0), len(all))
	out := strings.Join(all[from:min(from+count, len(all))], " ")
	return strings.Join(strings.Fields(out), " "), nil
}
