package edition

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/outsidechecks"
	"fingerproof/corpus"
	"fingerproof/corpus/source"
	"fingerproof/pipeline"
	"fingerproof/policies"
)

// marking marks scores in every style and looks whether marking keeps its promises.
type marking struct {
	*outsidechecks.Checks
	shared        string
	every, styles int

	scores, leftOut, editions, again, back, taken int
	untouched, valid, validScores                 int
}

func marksCommand() *cobra.Command {
	m := &marking{}
	return measurement.Measurement{
		Use:   "marks",
		Short: "mark scores in every shipped style: marked twice is marked once, there and back, untouched, valid",
		Long: `marks takes a sample of the fingered, engraved, repertoire and witness material and marks each score in
every shipped style. It looks whether an edition marked again gives the same bytes; whether one marked
in the next style and then in its own again gives the same bytes; whether the edits taken back give the
score; and with xmllint and python3 whether it is valid MusicXML 4.0 (where the score is) and its text
untouched.`,
		Fails: "a promise is broken",
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.IntVar(&m.every, "every", 40, "take every so many-th score")
			f.IntVar(&m.styles, "styles", 0, "only about so many styles a score, in turn; 0 for all")
		},
		Run: m.run,
	}.Command()
}

func (m *marking) run(_ context.Context, out io.Writer, _ []string) (err error) {
	if m.Checks, err = outsidechecks.Open(m.shared, out); err != nil {
		return err
	}
	defer m.Close()
	for _, kind := range []string{"fingered", "engraved", "repertoire", "witnesses"} {
		c, err := opendata.EveryNth(opendata.Place(m.shared, kind), m.every)
		if err != nil {
			return err
		}
		for i := range c.Pieces {
			if err := m.piece(c, &c.Pieces[i]); err != nil {
				return err
			}
		}
	}
	m.Say("%d scores, %d editions: marked again the same bytes %d, there and back %d, taken back %d, "+
		"untouched %d of %d, valid %d of %d whose score is; %d scores left out",
		m.scores, m.editions, m.again, m.back, m.taken, m.untouched, m.editions, m.valid, m.validScores, m.leftOut)
	if min(m.again, m.back, m.taken, m.untouched) < m.editions || m.valid < m.validScores {
		return measurement.Failed("some promises are broken")
	}
	return nil
}

// editionOf marks a score's bytes in a style.
func editionOf(p *corpus.Piece, data []byte, style string) (*pipeline.PieceRun, error) {
	policy, err := policies.ByName(style)
	if err != nil {
		return nil, err
	}
	w := &pipeline.PieceRun{Piece: p, Data: data, Policy: policy, Weights: pipeline.ShippedWeights()}
	w.Edition = filepath.Base(p.Score)
	return w, pipeline.RunPiece(w)
}

func (m *marking) piece(c *corpus.Collection, p *corpus.Piece) error {
	data, err := os.ReadFile(c.Path(p.Score))
	if err != nil {
		return err
	}
	styles := policies.Shipped()
	sourceValid := false
	for k, style := range styles {
		if k != 0 && m.styles > 0 && (m.scores+k)%len(styles) >= m.styles {
			continue // another few styles with the next score
		}
		w, err := editionOf(p, data, style)
		if err != nil {
			m.leftOut++
			m.Say("left out: %v", err)
			return nil
		}
		if k == 0 {
			m.scores++
			sourceValid = m.IsValid(data)
		}
		m.editions++
		x := w.EditionData
		again, err := editionOf(p, x, style)
		m.count(&m.again, err == nil && bytes.Equal(again.EditionData, x),
			"%s, %s: marked again, other bytes", p.Score, style)
		there, err := editionOf(p, x, styles[(k+1)%len(styles)])
		if err == nil {
			there, err = editionOf(p, there.EditionData, style)
		}
		m.count(&m.back, err == nil && bytes.Equal(there.EditionData, x),
			"%s, %s: there and back, other bytes", p.Score, style)
		taken, err := source.TakeBack(x, w.Record, source.DefaultLimits())
		m.count(&m.taken, err == nil && bytes.Equal(taken, data),
			"%s, %s: taken back, other bytes (%v)", p.Score, style, err)
		m.count(&m.untouched, m.IsUntouched(p, data, x), "%s, %s: text touched", p.Score, style)
		if sourceValid {
			m.validScores++
			m.count(&m.valid, m.IsValid(x), "%s, %s: not valid", p.Score, style)
		}
	}
	return nil
}

// count counts a promise that is kept, and says which is not.
func (m *marking) count(n *int, kept bool, format string, a ...any) {
	if kept {
		*n++
		return
	}
	m.Say(format, a...)
}
