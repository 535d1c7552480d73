package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"fingerproof/corpus/files"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/keying"

	"github.com/spf13/cobra"
)

func newDecisionsEnter(env *environment) *cobra.Command {
	var options workOptions
	var in, by, sheet string
	cmd := &cobra.Command{
		Use:   "enter PIECE [FILE]",
		Short: "Key in what was pencilled, line by line",
		Long: `enter reads short lines from FILE, or from standard input, and adds them to the editor's
file of decisions. One line a decision:

` + keying.LinesHelp + `

Either every line is understood and all are added, or none is. Name the sheet with --sheet,
as it says at its head: where the passages are numbered otherwise since, nothing is added.
` + exitStatusHelp,
		Example: `  fingerproof decisions enter op7-nocturne --by AB pencilled.txt
  echo '12 r 3 5-4' | fingerproof decisions enter op7-nocturne --by AB`,
		Args: cobra.RangeArgs(1, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			if by == "" {
				return fmt.Errorf("enter needs to know whose decisions these are\nhint: --by INITIALS")
			}
			p, err := openDecided(&options, in, args[0])
			if err != nil {
				return err
			}
			if now := sheetName(sheetPassages(p.run)); sheet != "" && sheet != now {
				return fmt.Errorf("the passages of %s are no longer numbered as on sheet %s: "+
					"decisions, text or policy have changed since\n"+
					"hint: name the places, as in: 12 r ok; or print the sheet anew, it is %s now", args[0], sheet, now)
			}
			name, input := "standard input", env.Stdin
			if len(args) == 2 && args[1] != "-" {
				f, err := os.Open(args[1])
				if err != nil {
					return fmt.Errorf("reading the lines: %w", err)
				}
				defer f.Close()
				name, input = args[1], f
			}
			return enter(cmd.Context(), env, p, name, input, by)
		},
	}
	pieceFlags(cmd, &options, &in)
	cmd.Flags().StringVar(&by, "by", "", "initials of the editor")
	cmd.Flags().StringVar(&sheet, "sheet", "", "the sheet whose numbers the lines use, as it is named at its head")
	return cmd
}

// enter reads lines, keys them in, and adds them to the editor's file: all of them or none.
func enter(ctx context.Context, env *environment, p *decidedPiece, name string, input io.Reader, by string) error {
	k, f := p.keying(by, p.job.Today), decision.NewFinder(p.run.Score)
	var add []decision.Decision
	var faults []error
	lines := bufio.NewScanner(input)
	for n := 1; lines.Scan(); n++ {
		d, err := keying.Key(k, f, lines.Text())
		if err != nil {
			faults = append(faults, fmt.Errorf("%s:%d: %w", name, n, err))
			continue
		}
		if d != nil {
			add = append(add, *d)
		}
	}
	if err := lines.Err(); err != nil {
		faults = append(faults, fmt.Errorf("reading %s: %w", name, err))
	}
	if err := errors.Join(faults...); err != nil {
		return err
	}
	if len(add) == 0 {
		return fmt.Errorf("%s holds no decision\nhint: one a line, as in: 12 r 3 5-4", name)
	}
	dir := filepath.Join(p.job.Collection.Root, decision.Folder)
	file := filepath.Join(dir, p.run.Piece.ID+"."+by+".yaml")
	if err := appendDecisions(ctx, env, file, p.run.Piece.ID, by, add); err != nil {
		return err
	}
	notes := 0
	for i := range add {
		notes += len(add[i].Notes)
	}
	fmt.Fprintf(env.Stdout, "%s: %d decisions on %d notes added\n", asTyped(file), len(add), notes)
	return nil
}

// appendDecisions adds decisions to an editor's file. Others who add to it at the same time wait for each other, and
// where somebody has written it by other means meanwhile, nothing is added.
func appendDecisions(
	ctx context.Context, env *environment, file, piece, by string, add []decision.Decision,
) error {
	unlock, err := lockFolder(ctx, env, filepath.Dir(file), shortWait)
	if err != nil {
		return err
	}
	defer unlock()
	old, err := files.ReadIfThere(file, files.StateLimit)
	if err != nil {
		return fmt.Errorf("reading the editor's file: %w", err)
	}
	data, err := decision.Append(file, old, piece, by, add)
	if err != nil {
		return err
	}
	if err := files.Replace(file, old, data); err != nil {
		return fmt.Errorf("writing the decisions: %w", err)
	}
	return nil
}
