package edition

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/cmd/workbench/training"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/13_credit"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/policies"
	"fingerproof/rules/places"
)

// reading teaches the reader of printed pages what is usual, or measures it on folds.
type reading struct {
	shared, models, fit, keep string
	every                     int
	pieces                    []*readPiece
	printed                   []*training.Printed
	folds                     map[string]int
}

// readPiece is a piece as print has it, free of its digits, with the rank of each note among those that want a digit, in
// thousandths.
type readPiece struct {
	fold   int
	in     thin.Fingered
	lesson *thin.Lesson
	rank   []int
}

func readerCommand() *cobra.Command {
	m := &reading{}
	return measurement.Measurement{
		Use:   "reader",
		Short: "how much a reader finds from some of the digits; --fit teaches the shipped reader what is usual",
		Long: `reader takes the scores of the fingered material, with the fingers of the program where the edition prints none,
and has the reader of 15_thin find all of them from the digits at the notes that want one most, at several densities: one
that goes by the spans alone, and one that has learned what is usual from the editions of the other folds. It says which
share of the other notes each finds.`,
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.StringVar(&m.models, "models", "", "folder of the models of the folds (places --keep); none for the shipped model")
			f.StringVar(&m.fit, "fit", "", "teach one reader by everything and write it to this file "+
				"(pipeline/4_stages/15_thin/usual.json)")
			f.StringVar(&m.keep, "keep", "", "keep the readers of the folds in this folder, for thin --models")
			f.IntVar(&m.every, "every", 1, "take every so many-th piece only")
		},
		Run: m.run,
	}.Command()
}

func (m *reading) run(ctx context.Context, out io.Writer, _ []string) error {
	dir := opendata.Place(m.shared, "fingered")
	c, err := opendata.EveryNth(dir, m.every)
	if err != nil {
		return err
	}
	if m.folds, err = opendata.Folds(dir); err != nil {
		return err
	}
	models := [5]*places.Model{}
	if m.models != "" {
		if models, err = modelsOfFolds(m.models); err != nil {
			return err
		}
	}
	if err := programruns.OfCollection(ctx, out, c, policies.Default(), func(w *pipeline.PieceRun) { m.add(w, &models) }); err != nil {
		return err
	}
	if m.fit != "" {
		if err := m.write(out, dir); err != nil || m.keep == "" {
			return err
		}
	}
	t := figures.NewTable("digits known", "found by the spans alone", "having learned", "notes")
	sums := make([][3]int, len(learnedFrom))
	for fold := range models {
		u := m.taught(fold)
		if m.keep != "" {
			if err := os.WriteFile(foldUsual(m.keep, fold), u.File("the editions of the other folds", nil), 0o600); err != nil {
				return fmt.Errorf("keeping a reader: %w", err)
			}
		}
		for _, p := range m.pieces {
			if p.fold == fold {
				for k, density := range learnedFrom {
					p.add(&sums[k], density, u)
				}
			}
		}
	}
	for k, density := range learnedFrom {
		s := &sums[k]
		t.Row(percent(density, 1000), percent(s[0], s[2]), percent(s[1], s[2]), s[2])
	}
	t.Print(out)
	return nil
}

func (m *reading) add(w *pipeline.PieceRun, models *[5]*places.Model) {
	m.printed = append(m.printed, training.PrintedOf(w, m.folds[w.Piece.ID]))
	free := *w
	var err error
	if free.Policy, err = policies.ByName("performance"); err != nil {
		panic(err) // shipped, and tested
	}
	free.Score = w.Score.WithoutDigits()
	free.Credited = credit.Digits(free.CreditInput())
	p := &readPiece{fold: m.folds[w.Piece.ID], in: thin.FingeredOf(free.ThinInput())}
	p.in.Model = models[p.fold]
	p.lesson, p.rank = thin.NewLesson(p.in), ranks(&p.in)
	m.pieces = append(m.pieces, p)
}

// learnedFrom are the shares of digits, in thousandths, that are known where the reader learns, one after the other.
var learnedFrom = []int{100, 160, 240, 330}

// lessons is how often the reader goes over all pieces.
const lessons = 8

// taught is what a reader has learned from all pieces but those of a fold; −1 leaves none out.
func (m *reading) taught(without int) *thin.Usual {
	l := thin.NewLearner()
	for round := range lessons {
		for i, p := range m.pieces {
			if p.fold == without {
				continue
			}
			density := learnedFrom[(i+round)%len(learnedFrom)]
			l.Read(p.lesson, func(note int) bool { return p.rank[note] < density })
		}
	}
	return l.Usual()
}

// add counts what is found of the notes whose digits are not known: by the spans alone, having learned, and of how many.
func (p *readPiece) add(sum *[3]int, density int, u *thin.Usual) {
	known := make([]bool, len(p.rank))
	for i, r := range p.rank {
		known[i] = r < density && p.in.Finger[i] > 0
	}
	for k, usual := range []*thin.Usual{thin.BySpans(), u} {
		in := p.in
		in.Usual = usual
		for i, f := range thin.Read(in, known) {
			if p.in.Finger[i] > 0 && !known[i] && p.in.Playing.Plays(i) && p.in.Score.Notes[i].TiedFrom < 0 && f == p.in.Finger[i] {
				sum[k]++
			}
		}
	}
	for i, f := range p.in.Finger {
		if f > 0 && !known[i] && p.in.Playing.Plays(i) && p.in.Score.Notes[i].TiedFrom < 0 {
			sum[2]++
		}
	}
}

// ranks gives of each note how many in a thousand of a piece want a digit more.
func ranks(in *thin.Fingered) []int {
	type wanted struct{ note, worth int }
	var all []wanted
	model := in.Model
	if model == nil {
		model = places.Shipped()
	}
	for l := range in.Playing.Lines {
		events := places.Events(in.Score, &in.Playing.Lines[l], in.Finger)
		worth := model.Line(events, in.Style.Density).Wanted()
		for e := range events {
			for k, i := range events[e].Notes {
				all = append(all, wanted{i, worth[e][k]})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b wanted) int { return cmp.Compare(b.worth, a.worth) })
	out := make([]int, len(in.Score.Notes))
	for rank, w := range all {
		out[w.note] = rank * 1000 / len(all)
	}
	return out
}

// modelsOfFolds reads the models of printed places that have not seen a fold.
func modelsOfFolds(folder string) (models [5]*places.Model, err error) {
	for fold := range models {
		file, err := os.ReadFile(foldModel(folder, fold))
		if err != nil {
			return models, fmt.Errorf("reading the models of the folds: %w\nhint: workbench places --keep %s", err, folder)
		}
		if models[fold], err = places.ReadModel(file); err != nil {
			return models, err
		}
	}
	return models, nil
}

// foldUsual is the file of what the reader takes for usual who has not seen a fold.
func foldUsual(folder string, fold int) string {
	return filepath.Join(folder, fmt.Sprintf("usual-without-%d.json", fold))
}

// write teaches one reader by everything.
func (m *reading) write(out io.Writer, dir string) error {
	source, err := training.ReaderSource(dir, m.printed)
	if err != nil {
		return err
	}
	data := m.taught(-1).File(source.Provenance, source.Attribution)
	if err := os.WriteFile(m.fit, data, 0o600); err != nil {
		return fmt.Errorf("writing what the reader takes for usual: %w", err)
	}
	fmt.Fprintf(out, "%s: %d bytes\n%s\n", m.fit, len(data), source.Provenance)
	return nil
}
