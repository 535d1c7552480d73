package robustness

import (
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/pipeline"
	"fingerproof/policies"
)

// travelCommand edits one measure at a time and measures how far from it anything changes.
func travelCommand() *cobra.Command {
	var shared, policy string
	var scores, rounds, near int
	var seed uint64
	var list bool
	c := &cobra.Command{
		Use:   "travel [SCORE]...",
		Short: "edit one measure of real scores in many places: how far do changes of suggestions travel?",
		Long: `travel works scores out, changes one thing in one measure (a pitch, a digit of the text, a decision, a measure more, a measure less), works
them out again and pairs the notes of both by their music. It counts in measures how far from the edit a note is fingered, printed or
offered otherwise than before, or from where the edited measure returns, or from where a figure stands again whose digit was edited; the
last two are counted apart. Without SCORE it takes scores evenly from the fingered and the
engraved ones.

EXIT STATUS
  0  measured
  2  the work could not be done`,
		RunE: func(cmd *cobra.Command, args []string) error {
			files := args
			if len(files) == 0 {
				var err error
				if files, err = opendata.Scores(shared, scores); err != nil {
					return err
				}
			}
			p, err := policies.Open(policy, ".")
			if err != nil {
				return err
			}
			trips, err := travelAll(files, p, rounds, seed)
			if err != nil {
				return err
			}
			printTravels(cmd.OutOrStdout(), trips, near, list)
			return nil
		},
	}
	c.Flags().StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	c.Flags().StringVar(&policy, "policy", "default", "policy file or shipped style")
	c.Flags().IntVar(&scores, "scores", 40, "how many scores to take")
	c.Flags().IntVar(&rounds, "rounds", 2, "rounds of every kind of edit in each score")
	c.Flags().IntVar(&near, "near", 2, "measures that count as nearby")
	c.Flags().Uint64Var(&seed, "seed", 1, "seed of the choices")
	c.Flags().BoolVar(&list, "list", false, "list every edit that moves something that is not nearby")
	return c
}

// travelAll measures scores, two at a time; the outcome does not depend on that.
func travelAll(files []string, policy *policies.Policy, rounds int, seed uint64) ([]trip, error) {
	out := make([][]trip, len(files))
	var g errgroup.Group
	g.SetLimit(2)
	for i, file := range files {
		g.Go(func() error {
			data, err := os.ReadFile(file)
			if err != nil {
				return fmt.Errorf("reading a score: %w", err)
			}
			out[i], err = travel(filepath.Base(file), data, policy, rounds, rand.New(rand.NewPCG(seed, uint64(i))))
			return err
		})
	}
	err := g.Wait()
	return slices.Concat(out...), err
}

// travel measures edits of one score.
func travel(name string, data []byte, policy *policies.Policy, rounds int, rng *rand.Rand) ([]trip, error) {
	before := travelled(name, data, policy)
	if err := workUpTo(before, "mark"); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	var out []trip
	for range rounds {
		for _, kind := range smallEdits {
			after, places, err := kind.make(before, rng)
			if err != nil {
				return nil, fmt.Errorf("%s, %s: %w", name, kind.name, err)
			}
			if after == nil {
				continue // nothing in this score takes such an edit
			}
			if err := workUpTo(after, "mark"); err != nil {
				return nil, fmt.Errorf("%s, %s: %w", name, kind.name, err)
			}
			t := measureTrip(before, after, places)
			t.piece, t.kind = name, kind.name
			out = append(out, t)
		}
	}
	return out, nil
}

// workUpTo takes a way through the stages before the one named.
func workUpTo(w *pipeline.PieceRun, end string) error {
	for _, s := range pipeline.Stages {
		if s.Name == end {
			break
		}
		if err := s.Run(w); err != nil {
			return err
		}
	}
	return nil
}

// reaches are the columns of the tables: changes no farther than so many measures.
var reaches = []int{0, 1, 2, 4, 8, 16}

func printTravels(out io.Writer, trips []trip, near int, list bool) {
	pieces := map[string]bool{}
	for i := range trips {
		pieces[trips[i].piece] = true
	}
	fmt.Fprintf(out, "%d edits of one measure each, in %d scores\n", len(trips), len(pieces))
	fmt.Fprintf(out, "share of edits that move nothing farther than so many measures from the edit, its returns and its figures:\n")
	fmt.Fprintf(out, "%-18s %6s %6s", "", "edits", "still")
	for _, r := range reaches {
		fmt.Fprintf(out, " %7s", fmt.Sprintf("≤%d", r))
	}
	fmt.Fprintf(out, " %8s %7s %7s %7s\n", "farthest", "notes", "return", "figure")
	for _, what := range movedThings {
		fmt.Fprintf(out, "%s\n", what)
		for _, kind := range smallEdits {
			printTravelRow(out, "  "+kind.name, what, keep(trips, func(t *trip) bool { return t.kind == kind.name }))
		}
		printTravelRow(out, "  all", what, trips)
	}
	far, score := 0, 0
	for i := range trips {
		t := &trips[i]
		if reach := t.reach(movedFinger); reach > near {
			far++
			if list {
				fmt.Fprintf(out, "%s: %s at %s moves fingers up to %d measures away: %s (fingers moved in m. %s)\n", t.piece, t.kind, t.where, reach, t.farthest, strings.Join(t.measures, ", "))
			}
		}
		score += t.notes
	}
	fmt.Fprintf(out, "%d of %d edits (%.2f %%) move a finger more than %d measures away from all three; a score of these has %d notes on average\n",
		far, len(trips), 100*figures.Quotient(far, len(trips)), near, score/max(len(trips), 1))
}

func keep(trips []trip, wanted func(*trip) bool) (out []trip) {
	for i := range trips {
		if wanted(&trips[i]) {
			out = append(out, trips[i])
		}
	}
	return out
}

func printTravelRow(out io.Writer, name string, what string, trips []trip) {
	still, farthest, notes := 0, 0, [3]int{}
	within := make([]int, len(reaches))
	for i := range trips {
		t := &trips[i]
		reach := t.reach(what)
		if reach < 0 {
			still++
		}
		farthest = max(farthest, reach)
		for k, r := range reaches {
			if reach <= r {
				within[k]++
			}
		}
		for _, m := range t.moves {
			if m.what != what {
				continue
			}
			notes[m.by]++
		}
	}
	if len(trips) == 0 {
		return
	}
	fmt.Fprintf(out, "%-18s %6d %6.3f", name, len(trips), figures.Quotient(still, len(trips)))
	for _, n := range within {
		fmt.Fprintf(out, " %7.4f", figures.Quotient(n, len(trips)))
	}
	fmt.Fprintf(out, " %8d %7d %7d %7d\n", farthest, notes[0]+notes[1]+notes[2], notes[byReturn], notes[byFigure])
}
