package findings

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/beevik/etree"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus"
	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/source"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/policies"
	"fingerproof/rules/lint"
)

// sameMusicCommand lints editions as they may come back from other programs.
func sameMusicCommand() *cobra.Command {
	t := &sameMusicTally{}
	every, from := 1, 0
	return measurement.Measurement{
		Use:   "same-music PATH...",
		Short: "lint editions whose record is whole, stale or lost, and saved again: the findings must be the same",
		Long: `same-music makes the edition of every score of some folders or collections and lints it as it was written, with
its record made stale by one newline, with everything that it says of itself taken out but how many digits it prints, and saved again by a
general-purpose writer of XML, with other line breaks. The source is saved again, too. The same music must give
the same findings: rule, severity, notes, words and fix, but not the line.`,
		Args:  cobra.MinimumNArgs(1),
		Fails: "the same music gave other findings",
		Flags: func(f *pflag.FlagSet) {
			f.IntVar(&every, "every", 1, "take every so many-th score")
			f.IntVar(&from, "from", 0, "the first of them, counted from 0: one of --every slices of the whole")
			f.BoolVar(&t.list, "list", false, "list every finding that only some versions have")
		},
		Run: func(_ context.Context, out io.Writer, args []string) error {
			t.out = out
			table := figures.NewTable("folder", "editions", "findings", "stale", "lost", "saved again", "source saved again")
			for _, path := range args {
				c, err := opendata.Slice(path, every, from)
				if err != nil {
					return err
				}
				if err := t.collection(c); err != nil {
					return err
				}
				row := []any{path, t.editions, t.findings}
				for _, n := range t.differ {
					row = append(row, fmt.Sprintf("%d other", n))
				}
				table.Row(row...)
				t.total += t.differ[0] + t.differ[1] + t.differ[2] + t.differ[3]
				t.editions, t.findings, t.differ = 0, 0, [4]int{}
			}
			table.Print(out)
			if t.total > 0 {
				return measurement.Failed("the same music gave other findings")
			}
			return nil
		},
	}.Command()
}

// sameMusicTally counts findings that not every version of a page has.
type sameMusicTally struct {
	editions, findings, total int
	differ                    [4]int // by version: findings that only one of the two has
	out                       io.Writer
	list                      bool
}

// collection makes and compares the editions of a collection.
func (t *sameMusicTally) collection(c *corpus.Collection) error {
	for i := range c.Pieces {
		w, err := programruns.OfPiece(c, &c.Pieces[i], policies.Default())
		if err != nil {
			return err
		}
		if err := t.piece(w); err != nil {
			return fmt.Errorf("%s: %w", w.Piece.ID, err)
		}
	}
	return nil
}

func (t *sameMusicTally) piece(w *pipeline.PieceRun) error {
	w.Edition = pipeline.EditionName(w.Piece)
	if err := pipeline.RunPiece(w); err != nil {
		return err
	}
	written, err := textOf(w.Piece.Score, w.EditionData)
	if err != nil {
		return err
	}
	first, err := lintText(w.Piece, written)
	if err != nil {
		return err
	}
	t.editions++
	t.findings += len(first)
	lost, err := withoutRecord(written)
	if err != nil {
		return err
	}
	again, err := savedAgain(written)
	if err != nil {
		return err
	}
	for v, text := range []string{written + "\n", lost, again} {
		if err := t.version(w.Piece, v, first, text); err != nil {
			return err
		}
	}
	if again, err = savedAgain(w.Document.Text); err != nil {
		return err
	}
	return t.version(w.Piece, 3, keysOf(w.Remaining), again)
}

// version lints one version of a page and counts what is not as it was.
func (t *sameMusicTally) version(piece *corpus.Piece, v int, first []string, text string) error {
	found, err := lintText(piece, text)
	if err != nil {
		return err
	}
	for _, pair := range [][2][]string{{first, found}, {found, first}} {
		left := slices.Clone(pair[1])
		for _, key := range pair[0] {
			if k := slices.Index(left, key); k >= 0 {
				left = slices.Delete(left, k, k+1)
				continue
			}
			t.differ[v]++
			if t.list {
				fmt.Fprintf(t.out, "%s, version %d: only one has %s\n", piece.ID, v+1, key)
			}
		}
	}
	return nil
}

// lintText lints the text of a score.
func lintText(piece *corpus.Piece, text string) ([]string, error) {
	alone := *piece
	alone.Score = strings.TrimSuffix(alone.Score, ".mxl")
	w := &pipeline.PieceRun{
		Piece: &alone, Data: []byte(text), Policy: policies.Default(), Weights: pipeline.ShippedWeights(),
	}
	if err := pipeline.RunPiece(w); err != nil {
		return nil, err
	}
	return keysOf(w.Remaining), nil
}

// keysOf gives findings without the line at which they stand.
func keysOf(found []lint.Finding) (out []string) {
	for _, f := range found {
		out = append(out, fmt.Sprintf("%s %s %v measure %d at %s: %s; %s", f.Severity, f.Rule, f.Notes, f.Measure, f.Onset,
			f.Message, f.Fix))
	}
	return out
}

// textOf gives the text of a score's file in UTF-8, whatever says so.
func textOf(name string, data []byte) (string, error) {
	doc, err := source.Open(name, data, source.DefaultLimits())
	if err != nil {
		return "", fmt.Errorf("opening an edition: %w", err)
	}
	return doc.Text, nil
}

// withoutRecord takes out all that an edition says of itself, but how many digits it prints: by that it is read.
func withoutRecord(text string) (string, error) {
	doc := etree.NewDocument()
	if err := doc.ReadFromString(text); err != nil {
		return "", fmt.Errorf("reading an edition: %w", err)
	}
	for _, f := range doc.FindElements("//miscellaneous-field") {
		name := f.SelectAttrValue("name", "")
		if strings.HasPrefix(name, musicxml.FieldPrefix) && name != musicxml.FieldPrefix+thin.DigitsField { // without that it is no page with a preface
			f.Parent().RemoveChild(f)
		}
	}
	return doc.WriteToString()
}

// savedAgain writes a score as a general-purpose writer does.
func savedAgain(text string) (string, error) {
	doc := etree.NewDocument()
	if err := doc.ReadFromString(text); err != nil {
		return "", fmt.Errorf("reading a score: %w", err)
	}
	doc.Indent(4)
	return doc.WriteToString()
}
