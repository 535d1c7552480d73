package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/keying"

	"github.com/google/renameio/v2"
	"github.com/spf13/cobra"
)

// decisionsHelp documents decisions by an example.
const decisionsHelp = `Decisions are the editors' last word on digits. They lie in decisions/, one file a piece and
editor (PIECE.INITIALS.yaml); all of a piece are read together. A file in ten lines:

` + decision.Example + `
take makes what is suggested the editor's, amend gives other digits, stet lets the text's
digit or a finding stand (a finding with its reason, for a time if need be), query asks
the volume editor. Decided digits bind the engine and print as the editor's. The last
word of each editor counts; where two editors differ neither binds, and a finding says so.
` + "`print: always`" + ` at a take or an amend prints its digits however few the house style prints.

` + "`decisions enter`" + ` writes beside each note what stands around it, so that it is found
again after re-engraving, inserted measures and renumbering. Where a note cannot be found
surely the decision is kept, reported as unplaced with its nearest candidates, and applied to
no other note. A place written by hand without that holds by measure, onset and pitch.
`

func newDecisionsCommand(env *environment) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "decisions",
		Short: "Print a sheet to pencil on, key decisions in, show them",
		Long:  decisionsHelp + exitStatusHelp,
		Example: `  fingerproof decisions template op7-nocturne
  fingerproof decisions enter op7-nocturne --by AB pencilled.txt
  fingerproof decisions show op7-nocturne`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return fmt.Errorf("decisions has no command %q\nhint: template, enter or show", args[0])
			}
			return cmd.Help()
		},
	}
	cmd.AddCommand(newDecisionsTemplate(env), newDecisionsEnter(env), newDecisionsShow(env))
	return cmd
}

// decidedPiece is one piece, worked out with its decisions.
type decidedPiece struct {
	job pipeline.Job
	way *pipeline.PieceRun
}

func openDecided(options *workOptions, in, id string) (*decidedPiece, error) {
	job, err := options.job(in)
	if err != nil {
		return nil, err
	}
	if err := only(job.Collection, []string{id}); err != nil {
		return nil, err
	}
	w, err := job.Work(&job.Collection.Pieces[0])
	return &decidedPiece{job, w}, err
}

func (p *decidedPiece) keying(by, when string) *keying.Keying {
	w := p.way
	k := &keying.Keying{Score: w.Score, Playing: w.Playing, Fingers: make([][]int, len(w.Score.Notes)), By: by, When: when}
	for i := range w.Score.Notes {
		if n := &w.Suggestion.Notes[i]; n.Finger > 0 {
			k.Fingers[i] = []int{int(n.Finger)}
			if n.Substitution > 0 {
				k.Fingers[i] = append(k.Fingers[i], int(n.Substitution))
			}
		}
	}
	for _, q := range sheetPassages(w) {
		passage := keying.Passage{Number: q.number, Notes: q.notes}
		if q.offer != nil {
			passage.Offer.To = q.offer.To
			for _, n := range q.offer.Notes {
				passage.Offer.Fingers = append(passage.Offer.Fingers, n.Finger)
			}
		}
		k.Passages = append(k.Passages, passage)
	}
	return k
}

func pieceFlags(cmd *cobra.Command, options *workOptions, in *string) {
	options.addInputs(cmd)
	cmd.Flags().StringVar(in, "in", ".", "the collection, folder or score")
}

func newDecisionsTemplate(env *environment) *cobra.Command {
	var options workOptions
	var in string
	cmd := &cobra.Command{
		Use:   "template PIECE",
		Short: "Print a sheet that numbers every passage to judge",
		Long: `template prints a sheet for the piano: every passage to judge with a number, what is
suggested, the choices, and room for a pencil. Key the outcome in with ` + "`decisions enter`" + `:

` + keying.LinesHelp + "\n" + exitStatusHelp,
		Example: "  fingerproof decisions template op7-nocturne > sheet.txt",
		Args:    oneID("template"),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := openDecided(&options, in, args[0])
			if err != nil {
				return err
			}
			return writeSheet(env.Stdout, p.way)
		},
	}
	pieceFlags(cmd, &options, &in)
	return cmd
}

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
		Example: "  fingerproof decisions enter op7-nocturne --by AB pencilled.txt\n  echo '12 r 3 5-4' | fingerproof decisions enter op7-nocturne --by AB",
		Args:    cobra.RangeArgs(1, 2),
		RunE: func(_ *cobra.Command, args []string) error {
			if by == "" {
				return fmt.Errorf("enter needs to know whose decisions these are\nhint: --by INITIALS")
			}
			p, err := openDecided(&options, in, args[0])
			if err != nil {
				return err
			}
			if now := sheetName(sheetPassages(p.way)); sheet != "" && sheet != now {
				return fmt.Errorf("the passages of %s are no longer numbered as on sheet %s: decisions, text or policy have changed since\nhint: name the places, as in: 12 r ok; or print the sheet anew, it is %s now", args[0], sheet, now)
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
			return enter(env, p, name, input, by)
		},
	}
	pieceFlags(cmd, &options, &in)
	cmd.Flags().StringVar(&by, "by", "", "initials of the editor")
	cmd.Flags().StringVar(&sheet, "sheet", "", "the sheet whose numbers the lines use, as it is named at its head")
	return cmd
}

func enter(env *environment, p *decidedPiece, name string, input io.Reader, by string) error {
	k, f := p.keying(by, p.job.Today), decision.NewFinder(p.way.Score)
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
	file := filepath.Join(p.job.Collection.Root, decision.Folder, p.way.Piece.ID+"."+by+".yaml")
	old, err := os.ReadFile(file)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("reading the editor's file: %w", err)
	}
	data, err := decision.Append(file, old, p.way.Piece.ID, by, add)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return fmt.Errorf("making the folder of decisions: %w", err)
	}
	if err := renameio.WriteFile(file, data, 0o644); err != nil {
		return fmt.Errorf("writing the decisions: %w", err)
	}
	notes := 0
	for i := range add {
		notes += len(add[i].Notes)
	}
	fmt.Fprintf(env.Stdout, "%s: %d decisions on %d notes added\n", asTyped(file), len(add), notes)
	return nil
}

func newDecisionsShow(env *environment) *cobra.Command {
	var options workOptions
	var in string
	cmd := &cobra.Command{
		Use:     "show PIECE",
		Short:   "Show what every editor decided on a piece, and where it stands now",
		Long:    "show lists the decisions on a piece by date, with the place at which each stands in the\nscore as it is now.\n" + exitStatusHelp,
		Example: "  fingerproof decisions show op7-nocturne",
		Args:    oneID("show"),
		RunE: func(_ *cobra.Command, args []string) error {
			p, err := openDecided(&options, in, args[0])
			if err != nil {
				return err
			}
			showDecisions(env.Stdout, p.way)
			return nil
		},
	}
	pieceFlags(cmd, &options, &in)
	return cmd
}

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
		if d.Until != "" {
			fmt.Fprintf(out, " until %s", d.Until)
		}
		if d.Why != "" {
			fmt.Fprintf(out, " (%s)", d.Why)
		}
		fmt.Fprintf(out, "  %s:%d\n", d.File, d.Line)
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
	}
	if len(ordered) == 0 {
		fmt.Fprintf(out, "%s: nothing is decided yet\n", w.Piece.ID)
	}
}

func oneID(command string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) != 1 {
			return fmt.Errorf("%s needs one piece, by its id\nhint: fingerproof decisions %s op7-nocturne", command, command)
		}
		return nil
	}
}
