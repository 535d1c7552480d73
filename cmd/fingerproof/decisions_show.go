package main

import (
	"fmt"
	"io"
	"slices"

	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"

	"github.com/spf13/cobra"
)

func newDecisionsShow(env *environment) *cobra.Command {
	var options workOptions
	var in string
	cmd := &cobra.Command{
		Use:   "show PIECE",
		Short: "Show what every editor decided on a piece, and where it stands now",
		Long: `show lists the decisions on a piece by date, with the place at which each stands in the
score as it is now.
` + exitStatusHelp,
		Example: "  fingerproof decisions show op7-nocturne",
		Args:    oneID("show"),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := openDecided(&options, in, args[0])
			if err != nil {
				return err
			}
			showDecisions(env.Stdout, p.run)
			return nil
		},
	}
	pieceFlags(cmd, &options, &in)
	return cmd
}

// carriedFrom lists the notes to which a decision goes since the music comes again there.
func carriedFrom(w *pipeline.PieceRun, f *decision.Finder, d *decision.Decision) (out []int) {
	if !d.Returns {
		return nil
	}
	own := map[int]bool{}
	for k := range d.Notes {
		if n, _, _ := f.Find(&d.Notes[k]); n >= 0 && w.Decided.Deciding[n] != nil && w.Decided.Deciding[n].Place() == d.Place() {
			own[n] = true
		}
	}
	met := map[int]bool{}
	for i := range w.Same {
		r := &w.Same[i]
		for k := range min(len(r.First), len(r.Later)) {
			for _, pair := range [][2]int{{r.First[k], r.Later[k]}, {r.Later[k], r.First[k]}} {
				b := &w.Bound[pair[1]]
				if own[pair[0]] && b.Carried && b.By == d.By && !met[pair[1]] && slices.Equal(b.Fingers, w.Bound[pair[0]].Fingers) {
					met[pair[1]] = true
					out = append(out, pair[1])
				}
			}
		}
	}
	slices.Sort(out)
	return out
}

// showDecisions lists what was decided on a piece, by date, and where it stands.
func showDecisions(out io.Writer, w *pipeline.PieceRun) {
	ordered := append([]decision.Decision(nil), w.Decisions...)
	decision.SortByDate(ordered)
	f := decision.NewFinder(w.Score)
	for i := range ordered {
		d := &ordered[i]
		fmt.Fprintf(out, "%s %s: %s %s", d.When, d.By, d.Verb, d.On)
		if d.Rule != "" {
			fmt.Fprintf(out, " %s", d.Rule)
		}
		if d.Direction != "" {
			fmt.Fprintf(out, " %s", d.Direction)
		}
		if d.Until != "" {
			fmt.Fprintf(out, " until %s", d.Until)
		}
		if d.Why != "" {
			fmt.Fprintf(out, " (%s)", d.Why)
		}
		fmt.Fprintf(out, "  %s:%d\n", d.File, d.Line)
		for k := range w.Result.Findings {
			if found := &w.Result.Findings[k]; entryOf(found) == d.Place() {
				fmt.Fprintf(out, "    %s\n", found.Message)
			}
		}
		for k := range d.Notes {
			ref := &d.Notes[k]
			n, why, _ := f.Find(ref)
			digits := ""
			if len(ref.Fingers) > 0 {
				digits = " " + decision.Digits(ref.Fingers)
			}
			if n < 0 {
				fmt.Fprintf(out, "    %s%s, was in m. %s: unplaced, %s\n", ref.Pitch, digits, ref.Printed, why)
				continue
			}
			fmt.Fprintf(out, "    %s%s, %s\n", w.Score.Notes[n].Pitch, digits, w.Score.Place(n))
		}
		for _, n := range carriedFrom(w, f, d) {
			fmt.Fprintf(out, "    %s %s, %s, where it comes again\n", w.Score.Notes[n].Pitch, decision.Digits(w.Bound[n].Written()), w.Score.Place(n))
		}
	}
	for i := range w.Result.Contradictions {
		c := &w.Result.Contradictions[i]
		again := ""
		if c.Open {
			again = "; its digits are asked again"
		}
		fmt.Fprintf(out, "m. %s, %s: %s%s\n", c.Measure, c.Hand.Words(), c.Words(), again)
	}
	if len(ordered) == 0 {
		fmt.Fprintf(out, "%s: nothing is decided yet\n", w.Piece.ID)
	}
}
