package main

import (
	"cmp"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fingerproof/corpus/files"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/habits"
	suggest "fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/effort"
	"fingerproof/rules/fit"
	"fingerproof/rules/hand"

	"github.com/spf13/cobra"
)

// leastDecided is how many decided digits it takes to say anything of how this
// edition fingers: fewer move the weights by chance.
const leastDecided = 100

func newFitCommand(env *environment) *cobra.Command {
	var options workOptions
	var out string
	var dry bool
	cmd := &cobra.Command{
		Use:   "fit COLLECTION",
		Short: "Adapt the weights to the digits that this edition has decided",
		Long: `fit moves the weights of the suggestions towards the digits that the editors of the
collection took or amended, and never towards suggestions that are open. What it changes
is kept in house-hand.json beside the manifest, with where it comes from; the
manifest's key house_hand makes run, lint and check use it.

How far it goes is held against the decided digits themselves: each fifth of them, in
the order of the pieces, is foretold from those before it, with none and with parts of
the change, in the general prices alone and in habits too, and with the surroundings in
which a finger was decided remembered. Where none does better than
chance, nothing is written and the status is 1.
` + exitStatusHelp,
		Example: `  fingerproof fit collection.yaml --dry
  fingerproof fit collection.yaml`,
		Args: onePath("fit"),
		RunE: func(cmd *cobra.Command, args []string) error {
			options.plainWeights = true
			job, err := options.job(args[0])
			if err != nil {
				return err
			}
			if out == "" {
				out = filepath.Join(job.Collection.Root, habits.FileName)
			}
			return options.orStrays(env, fitWeights(cmd, env, job, out, dry))
		},
	}
	options.addInputs(cmd)
	cmd.Flags().StringVar(&out, "out", "", "file to write (default: "+habits.FileName+" beside the collection)")
	cmd.Flags().BoolVar(&dry, "dry", false, "print what would change and write nothing")
	return cmd
}

func fitWeights(cmd *cobra.Command, env *environment, job pipeline.Job, path string, dry bool) error {
	was, err := writtenByFit(path)
	if err != nil {
		return err
	}
	byPiece := map[string][]habits.DecidedLine{}
	sums := map[string]string{}
	profile, settings := hand.NinthHand, fit.AdaptSettings()
	failed, first := 0, true
	err = pipeline.Run(cmd.Context(), job, func(w *pipeline.PieceRun, fault error) error {
		if fault != nil {
			failed++
			env.complain("%s: %s", w.Piece.ID, plain(fault))
			return nil
		}
		if lines := habits.LinesOf(w.Piece.ID, w.SuggestInput(), w.Bound); lines != nil {
			byPiece[w.Piece.ID], sums[w.Piece.ID] = lines, decision.Sum(w.Decisions)
			if first {
				profile, first = w.Profile, false
				settings.Aims = suggest.AimsIn(w.SuggestInput())
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	var lines []habits.DecidedLine
	file := habits.File{
		Base: job.Weights.Sum, BaseName: job.Weights.Table().Name, Engine: pipeline.EngineVersion, When: job.Today,
	}
	for i := range job.Collection.Pieces {
		id := job.Collection.Pieces[i].ID
		digits := 0
		for _, l := range byPiece[id] {
			digits += len(l.Decided)
		}
		if digits > 0 {
			lines = append(lines, byPiece[id]...)
			file.Sources = append(file.Sources, habits.Source{Piece: id, Digits: digits, Decisions: sums[id]})
			file.Digits += digits
		}
	}
	if file.Digits < leastDecided {
		return fmt.Errorf("%s decided in %s, too few to fit to: it takes %d\n"+
			"hint: decide on the pages or with `fingerproof decisions`, and fit then",
			wording.Count(file.Digits, "digit"), job.Collection.Root, leastDecided)
	}
	o := habits.Adapt(lines, job.Weights.Table(), profile, settings)
	file.Strength, file.Changes = o.Strength, o.Changes
	file.Before, file.After, file.Foretold = o.Before, o.After, o.Foretold
	printFit(env, &file)
	switch {
	case o.Strength.None():
		fmt.Fprintln(env.Stdout, "Nothing was written.")
		return exitWith(exitFindings)
	case dry:
		fmt.Fprintln(env.Stdout, "Nothing was written (--dry).")
	default:
		data, err := file.Encode()
		if err != nil {
			return err
		}
		if err := files.Replace(path, was, data); err != nil {
			return fmt.Errorf("writing the edition's fitted weights: %w", err)
		}
		fmt.Fprintf(env.Stdout, "Written to %s.\n", asTyped(path))
		if name := filepath.ToSlash(relativeTo(job.Collection.Root, path)); job.Collection.HouseHand != name {
			fmt.Fprintf(env.Stdout, "To use it, put this line into the manifest: house_hand: %s\n", name)
		}
	}
	if failed > 0 {
		return exitWith(exitFailed)
	}
	return nil
}

// writtenByFit reads what lies where fit writes, nil for nothing. What fit of this version has not written is never
// written over.
func writtenByFit(path string) ([]byte, error) {
	was, err := files.ReadIfThere(path, files.StateLimit)
	if err != nil {
		return nil, fmt.Errorf("reading what fit is to write over: %w", err)
	}
	if was != nil {
		if _, err := habits.Decode(was); err != nil {
			return nil, fmt.Errorf("%s stays as it is: %w\nhint: move it away, or name another file with --out", path, err)
		}
	}
	return was, nil
}

// relativeTo gives a path as seen from a folder, as it is where there is no way.
func relativeTo(root, path string) string {
	if rel, err := filepath.Rel(root, path); err == nil {
		return rel
	}
	return path
}

// printFit says what was fitted to, what it is worth, and which prices moved most.
func printFit(env *environment, f *habits.File) {
	terms, habits := f.Changes.Numbers()
	fmt.Fprintf(env.Stdout, "%s in %s.\n", wording.Count(f.Digits, "decided digit"), wording.Count(len(f.Sources), "piece"))
	share := func(n int) float64 { return 100 * float64(n) / float64(max(f.Foretold, 1)) }
	if f.Strength.None() {
		fmt.Fprintf(env.Stdout, "Foretold, each fifth from those before it: %.1f in 100 with the weights as they are, "+
			"and no part of a change does better beyond chance.\n", share(f.Before))
		return
	}
	kinds := "general prices alone"
	if f.Strength.Habits {
		kinds = "general prices and habits"
	}
	if f.Strength.Memory > 0 {
		kinds += fmt.Sprintf(", %d %% of what is remembered", f.Strength.Memory)
	}
	fmt.Fprintf(env.Stdout, "Foretold, each fifth from those before it: "+
		"%.1f in 100 with the weights as they are, %.1f adapted (%d %% of the change, %s).\n",
		share(f.Before), share(f.After), f.Strength.Percent, kinds)
	fmt.Fprintf(env.Stdout, "Changed: %s and %s. Most of all:\n", wording.Count(terms, "general price"), wording.Count(habits, "habit"))
	type moved struct {
		name string
		by   int32
	}
	var most []moved
	for t := range effort.Terms {
		if d := f.Changes.Terms[t]; d != 0 {
			most = append(most, moved{t.Name(), d})
		}
	}
	slices.SortStableFunc(most, func(a, b moved) int {
		return cmp.Or(int(max(b.by, -b.by)-max(a.by, -a.by)), strings.Compare(a.name, b.name))
	})
	for _, m := range most[:min(8, len(most))] {
		word := "dearer"
		if m.by < 0 {
			word = "cheaper"
		}
		fmt.Fprintf(env.Stdout, "  %s: %s by %.2f\n", m.name, word, float64(max(m.by, -m.by))/1000)
	}
}
