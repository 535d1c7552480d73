package edition

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/outsidechecks"
	"fingerproof/corpus"
	"fingerproof/corpus/source"
	"fingerproof/pipeline"
	"fingerproof/policies"
)

// marksCommand marks scores in every style and looks whether marking keeps its promises.
func marksCommand() *cobra.Command {
	var shared string
	var every, styles int
	c := &cobra.Command{
		Use:   "marks",
		Short: "mark scores in every shipped style: marked twice is marked once, there and back, untouched, valid",
		Long: `marks takes a sample of the fingered, engraved, repertoire and witness material and marks each score in every shipped
style. It looks whether an edition marked again gives the same bytes; whether one marked in the next style and then in its
own again gives the same bytes; whether the edits taken back give the score; and with xmllint and python3 whether it is
valid MusicXML 4.0 (where the score is) and its text untouched.

EXIT STATUS
  0  all promises kept
  1  some broken
  2  the work could not be done`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			m := &marking{styles: styles, Checks: outsidechecks.Checks{Shared: shared, Out: func(format string, a ...any) { fmt.Fprintf(cmd.OutOrStdout(), format+"\n", a...) }}}
			for _, kind := range []string{"fingered", "engraved", "repertoire", "witnesses"} {
				c, err := corpus.Open(filepath.Join(shared, "data", kind))
				if err != nil {
					return err
				}
				for i := range c.Pieces {
					if i%every == 0 {
						if err := m.piece(c, &c.Pieces[i]); err != nil {
							return err
						}
					}
				}
			}
			m.Out("%d scores, %d editions: marked again the same bytes %d, there and back %d, taken back %d, untouched %d of %d, valid %d of %d whose score is; %d scores left out",
				m.scores, m.editions, m.again, m.back, m.taken, m.untouched, m.editions, m.valid, m.validScores, m.leftOut)
			if m.again < m.editions || m.back < m.editions || m.taken < m.editions || m.untouched < m.editions || m.valid < m.validScores {
				return fmt.Errorf("some promises are broken")
			}
			return nil
		},
	}
	c.Flags().StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	c.Flags().IntVar(&every, "every", 40, "take every so many-th score")
	c.Flags().IntVar(&styles, "styles", 0, "only about so many styles a score, in turn; 0 for all")
	return c
}

type marking struct {
	outsidechecks.Checks
	styles                                        int
	scores, leftOut, editions, again, back, taken int
	untouched, valid, validScores                 int
}

// editionOf marks a score's bytes in a style.
func editionOf(p *corpus.Piece, data []byte, style string) (*pipeline.PieceRun, error) {
	policy, err := policies.ByName(style)
	if err != nil {
		return nil, err
	}
	w := &pipeline.PieceRun{Piece: p, Data: data, Policy: policy, Weights: pipeline.ShippedWeights(), Edition: filepath.Base(p.Score)}
	return w, pipeline.RunPiece(w)
}

func (m *marking) piece(c *corpus.Collection, p *corpus.Piece) error {
	data, err := os.ReadFile(c.Path(p.Score))
	if err != nil {
		return err
	}
	styles := policies.Shipped()
	dir, err := os.MkdirTemp("", "marks")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	sourceValid := false
	for k, style := range styles {
		if k != 0 && m.styles > 0 && (m.scores+k)%len(styles) >= m.styles {
			continue // another few styles with the next score
		}
		w, err := editionOf(p, data, style)
		if err != nil {
			m.leftOut++
			m.Out("left out: %v", err)
			return nil
		}
		if k == 0 {
			m.scores++
			sourceValid = m.Xsd(dir, data)
		}
		m.editions++
		x := w.EditionData
		again, err := editionOf(p, x, style)
		m.count(&m.again, err == nil && bytes.Equal(again.EditionData, x), "%s, %s: marked again, other bytes", p.Score, style)
		there, err := editionOf(p, x, styles[(k+1)%len(styles)])
		if err == nil {
			there, err = editionOf(p, there.EditionData, style)
		}
		m.count(&m.back, err == nil && bytes.Equal(there.EditionData, x), "%s, %s: there and back, other bytes", p.Score, style)
		taken, err := source.TakeBack(x, w.Record, source.DefaultLimits())
		m.count(&m.taken, err == nil && bytes.Equal(taken, data), "%s, %s: taken back, other bytes (%v)", p.Score, style, err)
		m.count(&m.untouched, m.IsUntouched(dir, p, data, x), "%s, %s: text touched", p.Score, style)
		if sourceValid {
			m.validScores++
			m.count(&m.valid, m.Xsd(dir, x), "%s, %s: not valid", p.Score, style)
		}
	}
	return nil
}

func (m *marking) count(n *int, good bool, format string, a ...any) {
	if good {
		*n++
		return
	}
	m.Out(format, a...)
}
