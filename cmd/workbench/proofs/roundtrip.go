package proofs

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/compare"
)

// roundTripCommand sends real scores through a notation converter and counts
// what the comparison finds: a proof round with an engraver who restyles,
// renumbers and drops things.
func roundTripCommand() *cobra.Command {
	var shared, converter, keep string
	var scores, list int
	c := &cobra.Command{
		Use:   "round-trip",
		Short: "send real scores through a notation converter and count what differs",
		Long: `round-trip writes scores of the fingered and the engraved material anew with a notation converter and compares what comes
back with the score. Scores with mordents are left out: Debian's converter stops reading at the first of them.

EXIT STATUS
  0  measured
  2  the work could not be done`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if _, err := exec.LookPath(converter); err != nil {
				return fmt.Errorf("there is no program %s\nhint: it reads and writes MusicXML as `%s -o out.musicxml in.mxl`; Debian has one in the package musescore3", converter, converter)
			}
			files, err := opendata.Scores(shared, scores)
			if err != nil {
				return err
			}
			if err := os.MkdirAll(keep, 0o755); err != nil {
				return fmt.Errorf("making the folder of converted scores: %w", err)
			}
			total := map[compare.Kind]int{}
			out := cmd.OutOrStdout()
			same, leftOut := 0, 0
			for i, file := range files {
				p, err := roundTrip(cmd.Context(), converter, keep, file)
				if errors.Is(err, errMordent) {
					leftOut++
					continue
				}
				if err != nil {
					fmt.Fprintf(out, "%s: %v\n", filepath.Base(file), err)
					continue
				}
				counts := p.Counts()
				line := fmt.Sprintf("%-60.60s %6d notes, covered %.5f:", filepath.Base(file), p.Notes, float64(p.Covered)/1e5)
				for _, k := range compare.Kinds() {
					if counts[k] > 0 {
						total[k] += counts[k]
						line += fmt.Sprintf(" %s %d", k, counts[k])
					}
				}
				if len(p.Changes) == 0 {
					same++
				}
				fmt.Fprintln(out, line)
				if i < list {
					listChanges(cmd, p)
				}
			}
			fmt.Fprintf(out, "%d of %d came back the same (%d with mordents left out); in all:", same, len(files)-leftOut, leftOut)
			for _, k := range compare.Kinds() {
				if total[k] > 0 {
					fmt.Fprintf(out, " %s %d", k, total[k])
				}
			}
			fmt.Fprintln(out)
			return nil
		},
	}
	c.Flags().StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	c.Flags().StringVar(&converter, "converter", "musescore3", "program that converts MusicXML, called with -o OUT IN")
	c.Flags().StringVar(&keep, "keep", filepath.Join(os.TempDir(), "fingerproof-round-trip"), "folder for converted scores; what lies there is not converted again")
	c.Flags().IntVar(&scores, "scores", 100, "how many scores to take")
	c.Flags().IntVar(&list, "list", 0, "list every difference of so many scores")
	return c
}

// errMordent says that the converter cannot read a score to its end.
var errMordent = errors.New("the score has a mordent, at which the converter stops reading")

// roundTrip compares a score with what a converter makes of it. A score that was converted before, into the folder keep, is not
// converted again.
func roundTrip(ctx context.Context, converter, keep, file string) (*compare.Piece, error) {
	a, err := opendata.ReadScore(file)
	if err != nil {
		return nil, err
	}
	if hasMordent(a) {
		return nil, errMordent
	}
	name := filepath.Base(file)
	back := filepath.Join(keep, strings.TrimSuffix(name, filepath.Ext(name))+".musicxml")
	if _, err := os.Stat(back); err != nil {
		ctx, cancel := context.WithTimeout(ctx, 2*time.Minute)
		defer cancel()
		run := exec.CommandContext(ctx, converter, "-o", back, file)
		run.Env = append(os.Environ(), "QT_QPA_PLATFORM=offscreen")
		if message, err := run.CombinedOutput(); err != nil {
			return nil, fmt.Errorf("converting: %w: %.200s", err, message)
		}
	}
	b, err := opendata.ReadScore(back)
	if err != nil {
		return nil, err
	}
	p := compare.Scores(name, compare.Side{Score: a}, compare.Side{Score: b})
	return &p, nil
}

func hasMordent(s *score.Score) bool {
	return slices.ContainsFunc(s.Notes, func(n score.Note) bool {
		return slices.ContainsFunc(n.Ornaments, func(o score.Ornament) bool { return strings.HasSuffix(o.Kind, "mordent") })
	})
}

func listChanges(cmd *cobra.Command, p *compare.Piece) {
	for k := range p.Changes {
		c := &p.Changes[k]
		fmt.Fprintf(cmd.OutOrStdout(), "    %-14s %s: %q → %q", c.Kind, c.At().Words(true), c.Old, c.New)
		if c.A != nil {
			fmt.Fprintf(cmd.OutOrStdout(), " line %d", c.A.Line)
		}
		if c.B != nil {
			fmt.Fprintf(cmd.OutOrStdout(), " new line %d", c.B.Line)
		}
		fmt.Fprintln(cmd.OutOrStdout())
	}
}
