package edition

import (
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"io"
	"path/filepath"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/browser"
	"fingerproof/cmd/workbench/measurement"
)

// overlapsScript measures the whole score of the page that is open. It takes boxes from the browser, not from the drawing's
// numbers, so that it doesn't believe what the drawing believes.
//
//go:embed overlaps.js
var overlapsScript string

// overlapKinds are what is counted, in the order in which it is shown.
var overlapKinds = []string{
	"digit on digit", "digit on words", "digit on dynamics", "digit on pedal", "digit on head", "digit on slur", "digit on stem or beam",
	"digit on hairpin", "digit on ornament", "digit on rest",
	"digit past a staff", "digit nearer another staff's note", "stack on both sides", "stack with a gap",
	"words on words", "words on head", "words on pedal", "words before the digit", "dynamics before the digit",
}

func overlapsCommand() *cobra.Command {
	list := false
	return measurement.Measurement{
		Use:   "overlaps PAGE...",
		Short: "count what is drawn over something else in the whole scores of pages: digits, words, dynamics, slurs",
		Long: `overlaps opens pages that a run wrote in a browser and measures every digit, word and dynamic of their whole
scores as the browser draws it: what lies over a digit, a note head, a stem, a slur or a pedal sign, and words
and dynamics that stand between a digit and its note; which digits stand in or beyond another staff than their
note's, or nearer to a note of another staff than to any of their own; and which chords have their digits on
both sides or torn apart. The distance is that of digits from their notes, in staff spaces: what is moved apart
should not be torn away. Pages of any version compare.`,
		Args:  cobra.MinimumNArgs(1),
		Flags: func(f *pflag.FlagSet) { f.BoolVar(&list, "list", false, "name each place") },
		Run: func(ctx context.Context, out io.Writer, files []string) error {
			return overlaps(ctx, out, files, list)
		},
	}.Command()
}

func overlaps(ctx context.Context, out io.Writer, files []string, list bool) error {
	tab, err := browser.Open(ctx)
	if err != nil {
		return err
	}
	defer tab.Close()
	sums, pages, digits, words, distance := map[string]int{}, 0, 0, 0, 0.0
	for _, file := range files {
		if err := tab.Go(file, "view=score"); err != nil {
			return err
		}
		answer, err := tab.Ask(overlapsScript)
		if err != nil {
			return err
		}
		var found map[string]json.RawMessage
		if err := json.Unmarshal([]byte(answer), &found); err != nil {
			return fmt.Errorf("measuring %s: %w", file, err)
		}
		var d, w int
		var far float64
		for name, value := range map[string]any{"digits": &d, "words": &w, "distance": &far} {
			if err := json.Unmarshal(found[name], value); err != nil {
				return fmt.Errorf("measuring %s: %w", file, err)
			}
		}
		if d > 0 {
			pages++
		}
		digits, words, distance = digits+d, words+w, distance+far
		for _, kind := range overlapKinds {
			var places []string
			if err := json.Unmarshal(found[kind], &places); err != nil {
				return fmt.Errorf("measuring %s: %w", file, err)
			}
			sums[kind] += len(places)
			for _, p := range places {
				if list {
					fmt.Fprintf(out, "%s\t%s\t%s\n", filepath.Base(file), kind, p)
				}
			}
		}
	}
	fmt.Fprintf(out, "%d scores, %d digits, %d words and dynamics\n", pages, digits, words)
	all := 0
	for _, kind := range overlapKinds {
		fmt.Fprintf(out, "%6d  %s\n", sums[kind], kind)
		all += sums[kind]
	}
	fmt.Fprintf(out, "%6d  in all; %.1f of a thousand digits\n", all, 1000*float64(all)/float64(max(digits, 1)))
	fmt.Fprintf(out, "%6.2f  staff spaces from a digit to its note\n", distance/float64(max(digits, 1)))
	return nil
}
