package suggestions

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
)

// ownFindings counts what lint says of the program's own fingers.
type ownFindings struct {
	every  int
	shared string
	list   string

	counts map[ownFinding]int
	shown  []string
}

// ownFinding is what findings are counted under.
type ownFinding struct{ rule, severity string }

func ownFindingsCommand() *cobra.Command {
	m := &ownFindings{}
	return measurement.Measurement{
		Use:   "own-findings [PATH...]",
		Short: "count what lint says of the program's own fingers, by rule",
		Long: `own-findings works out scores and counts the warnings and errors of rules of the fingering that come from what the program
suggests: those of a run at notes that have no digit, and those that lint would have besides, were everything taken as suggested.

It takes the fingered material without its digits, then the repertoire as it is; or the folders and collections named. --list
tells the places of one rule, or of all.`,
		Args: cobra.ArbitraryArgs,
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.IntVar(&m.every, "every", 1, "take every n-th score")
			f.StringVar(&m.list, "list", "", "list the places of the rule of this name; all: of every rule")
		},
		Run: m.run,
	}.Command()
}

func (m *ownFindings) run(_ context.Context, out io.Writer, paths []string) error {
	if len(paths) > 0 {
		for _, path := range paths {
			if err := m.folder(out, path); err != nil {
				return err
			}
		}
		return nil
	}
	pieces, err := opendata.ReadPieces(opendata.Place(m.shared, "fingered"))
	if err != nil {
		return err
	}
	m.all(out, "fingered, without digits", (len(pieces)+m.every-1)/m.every, func(i int) *pipeline.PieceRun {
		p := pieces[i*m.every]
		return p.Prepare(p.Without(-1), policies.Default(), effort.Delivered())
	})
	return m.folder(out, opendata.Place(m.shared, "repertoire"))
}

func (m *ownFindings) folder(out io.Writer, path string) error {
	c, err := opendata.EveryNth(path, m.every)
	if err != nil {
		return err
	}
	m.all(out, path, len(c.Pieces), func(i int) *pipeline.PieceRun {
		w, err := programruns.OfPiece(c, &c.Pieces[i], policies.Default())
		if err != nil {
			return &pipeline.PieceRun{Piece: &c.Pieces[i], Policy: policies.Default()}
		}
		return w
	})
	return nil
}

// ownOfPiece is what one score gives.
type ownOfPiece struct {
	found []lint.Finding
	said  []string // the severity of each
	where []string
	notes int // fingers of the program
	err   error
}

func (m *ownFindings) all(out io.Writer, name string, n int, open func(i int) *pipeline.PieceRun) {
	m.counts, m.shown = map[ownFinding]int{}, nil
	read, notes := 0, 0
	programruns.InOrder(n, func(i int) ownOfPiece { return ownOf(open(i)) }, func(got ownOfPiece) {
		if got.err != nil {
			fmt.Fprintln(out, "left out:", got.err)
			return
		}
		read++
		notes += got.notes
		for i, f := range got.found {
			m.counts[ownFinding{f.Rule, got.said[i]}]++
			if m.list == "all" || m.list == f.Rule {
				m.shown = append(m.shown, fmt.Sprintf("%s: %s: %s [%s]", got.where[i], got.said[i], f.Message, f.Rule))
			}
		}
	})
	total := 0
	var rows []ownFinding
	for row, n := range m.counts {
		total += n
		rows = append(rows, row)
	}
	slices.SortFunc(rows, func(a, b ownFinding) int {
		return cmp.Or(cmp.Compare(m.counts[b], m.counts[a]), cmp.Compare(a.rule, b.rule), cmp.Compare(a.severity, b.severity))
	})
	fmt.Fprintf(out, "%s: %d scores, %d fingers of the program, %d findings of them\n", name, read, notes, total)
	for _, row := range rows {
		fmt.Fprintf(out, "  %5d %s %s\n", m.counts[row], row.severity, row.rule)
	}
	for _, s := range m.shown {
		fmt.Fprintln(out, s)
	}
}

// ownOf gathers the findings of one score.
func ownOf(w *pipeline.PieceRun) (out ownOfPiece) {
	if out.err = pipeline.RunPiece(w); out.err != nil {
		return out
	}
	for i := range w.Suggestion.Notes {
		if s := &w.Suggestion.Notes[i]; s.Finger > 0 && s.Given == 0 && !s.Tied {
			out.notes++
		}
	}
	add := func(f lint.Finding, severity string) {
		n := f.Notes[0]
		out.found, out.said = append(out.found, f), append(out.said, severity)
		out.where = append(out.where, fmt.Sprintf("%s, m. %s, %s", w.Piece.ID, w.Score.Measures[w.Score.Notes[n].Measure].Number,
			w.Playing.Hand(n)))
	}
	own := func(f lint.Finding) bool {
		r := all.Rule(f.Rule)
		return r != nil && !r.Text && len(f.Notes) > 0 &&
			!slices.ContainsFunc(f.Notes, func(n int) bool { return w.Suggestion.Notes[n].Given > 0 })
	}
	for _, f := range w.Findings {
		if f.Severity >= lint.Warning && own(f) {
			add(f, f.Severity.String())
		}
	}
	for _, f := range w.ReviewInput().IfTaken {
		if f.InText {
			f.Severity += " (of digits of the text)"
		}
		g := lint.Finding{Rule: f.Rule, Message: f.Message, Notes: f.Notes}
		if f.Severity != lint.Note.String() && own(g) {
			add(g, "taken: "+f.Severity)
		}
	}
	return out
}
