package agreement

import (
	"bufio"
	"context"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/cmd/workbench/training"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/learned"
)

// learnedData writes what the learned habit is trained on.
type learnedData struct {
	shared, folder string
	every          int
}

func learnedDataCommand() *cobra.Command {
	m := &learnedData{}
	return measurement.Measurement{
		Use:   "learned-data",
		Short: "write what the network of the learned habit is trained on",
		Long: `learned-data writes every line of the fingered, repertoire and engraved scores as the network sees it: the
columns that it looks up of each strike, printed digits, and how likely the engine holds each finger with the tables fitted
without each fold, and with the shipped one. cmd/workbench/training/learned trains on these files.`,
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.StringVar(&m.folder, "out", "learned-data", "folder to write to")
			f.IntVar(&m.every, "every", 1, "take every so many-th score only, to try the scripts")
		},
		Run: m.run,
	}.Command()
}

// dataLine is one hand of one score.
type dataLine struct {
	set, fold, piece int // set 0: fingered, 1: repertoire, 2: engraved; fold −1: none
	hand             fingering.Hand
	notes            []fingering.Note
	row              func(id int) *opendata.Row

	columns, labels []uint8
	shares          [6][]uint8 // strike × finger, in 255ths
}

func (m *learnedData) run(_ context.Context, out io.Writer, _ []string) error {
	pieces, err := opendata.ReadPieces(opendata.Place(m.shared, "fingered"))
	if err != nil {
		return err
	}
	var tables [6]*effort.Weights
	if err := training.EachFold(pieces, 5, func(fold int, delivered *effort.Weights) error {
		tables[fold] = delivered
		return nil
	}); err != nil {
		return err
	}
	tables[5] = effort.Delivered()
	var lines []*dataLine
	for p, piece := range pieces {
		if p%m.every != 0 {
			continue
		}
		for h := range piece.Lines {
			lines = append(lines, &dataLine{fold: piece.Fold, piece: p, hand: fingering.Hand(h), notes: piece.Lines[h], row: piece.Row})
		}
	}
	at := len(pieces)
	for set, collection := range []string{"repertoire", "engraved"} {
		more, n, err := m.unlabelled(out, collection, set+1, at)
		if err != nil {
			return err
		}
		lines, at = append(lines, more...), at+n
	}
	lines = slices.DeleteFunc(lines, func(l *dataLine) bool { return len(l.notes) == 0 })
	aims := suggest.AimsOf(policies.Default())
	aims.NoLearned = true
	var work errgroup.Group
	work.SetLimit(runtime.GOMAXPROCS(0))
	for part := range 16 {
		work.Go(func() error {
			var worker engine.Worker
			for i := part; i < len(lines); i += 16 {
				lines[i].look(&worker, &tables, aims)
			}
			return nil
		})
	}
	if err := work.Wait(); err != nil {
		return err
	}
	return m.write(out, lines, append(attribution(pieces),
		"Taught first by this program's own fingering of scores without digits: CC BY 4.0, The Fryderyk Chopin Institute "+
			"(humdrum-polish-scores); CC0, OpenScore Lieder."))
}

// unlabelled gives the lines of the scores of a folder, without digits.
func (m *learnedData) unlabelled(out io.Writer, collection string, set, first int) ([]*dataLine, int, error) {
	files, err := filepath.Glob(filepath.Join(opendata.Place(m.shared, collection), "*.mxl"))
	if err != nil {
		return nil, 0, err
	}
	slices.Sort(files)
	of := make([][]*dataLine, len(files))
	failed := make([]error, len(files))
	var work errgroup.Group
	work.SetLimit(runtime.GOMAXPROCS(0))
	for i, file := range files {
		if i%m.every != 0 {
			continue
		}
		work.Go(func() error {
			w := programruns.OfFile(file, policies.Default())
			if failed[i] = programruns.UpTo(w, "bind"); failed[i] != nil {
				return nil
			}
			in := w.SuggestInput()
			in.Free = true
			suggest.EachLine(in, func(_ int, h score.Hand, notes []fingering.Note) {
				for n := range notes {
					notes[n].Allowed, notes[n].Then = 0, 0
				}
				of[i] = append(of[i], &dataLine{set: set, fold: -1, piece: first + i, hand: fingering.HandOf(h), notes: notes})
			})
			return nil
		})
	}
	if err := work.Wait(); err != nil {
		return nil, 0, err
	}
	var lines []*dataLine
	for i := range of {
		if failed[i] != nil {
			fmt.Fprintf(out, "left out: %v\n", failed[i])
		}
		lines = append(lines, of[i]...)
	}
	return lines, len(files), nil
}

// look fills in what the network sees, what is printed, and what the engine holds for likely.
func (l *dataLine) look(worker *engine.Worker, tables *[6]*effort.Weights, aims effort.Aims) {
	line := fingering.NewLine(l.hand, l.notes, training.Hand.Fits)
	l.columns = learned.Look(line, nil)
	strikes := len(line.Strikes)
	l.labels = make([]uint8, 3*strikes)
	place := map[int]int{}
	for i := range l.notes {
		place[l.notes[i].ID] = i
	}
	for s := range line.Strikes {
		label := l.labels[3*s:][:3]
		label[2] = 255
		for _, id := range line.Strikes[s].IDs {
			if l.row == nil {
				break
			}
			r := l.row(id)
			if r.Given {
				label[1] = uint8(r.Finger)
			}
			if r.Clean && label[0] == 0 {
				label[0] = uint8(r.Finger)
				label[2] = uint8(slices.Index(r.Hidden[:], true))
			}
		}
	}
	for t, table := range tables {
		l.shares[t] = make([]uint8, fingering.Fingers*strikes)
		notes := worker.Finger(l.hand, training.Hand, table, l.notes, engine.Options{Aims: aims}).Notes
		for s := range line.Strikes {
			for f, share := range notes[place[line.Strikes[s].IDs[0]]].Shares {
				l.shares[t][fingering.Fingers*s+f] = uint8((share*255 + 5000) / 10000)
			}
		}
	}
}

// write lays the lines down: meta.json tells the columns, lines.i32 six numbers a line (first strike, strikes, set,
// fold, hand, piece), columns.u8, labels.u8 (clean digit, any digit, the fifth that hides it) and shares-N.u8 follow the
// strikes.
func (m *learnedData) write(out io.Writer, lines []*dataLine, attribution []string) error {
	if err := os.MkdirAll(m.folder, 0o755); err != nil {
		return err
	}
	var index []byte
	at := 0
	for _, l := range lines {
		n := len(l.labels) / 3
		for _, v := range []int{at, n, l.set, l.fold, int(l.hand), l.piece} {
			index = binary.LittleEndian.AppendUint32(index, uint32(int32(v)))
		}
		at += n
	}
	meta, err := json.Marshal(map[string]any{
		"columns": learned.Columns(), "strikes": at, "lines": len(lines), "attribution": attribution,
	})
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(m.folder, "meta.json"), meta, 0o644); err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(m.folder, "lines.i32"), index, 0o644); err != nil {
		return err
	}
	parts := map[string]func(l *dataLine) []uint8{
		"columns.u8": func(l *dataLine) []uint8 { return l.columns },
		"labels.u8":  func(l *dataLine) []uint8 { return l.labels },
	}
	for t := range 6 {
		parts[fmt.Sprintf("shares-%d.u8", t)] = func(l *dataLine) []uint8 { return l.shares[t] }
	}
	for name, of := range parts {
		if err := writeParts(filepath.Join(m.folder, name), lines, of); err != nil {
			return err
		}
	}
	fmt.Fprintf(out, "%d strikes in %d lines written to %s\n", at, len(lines), m.folder)
	return nil
}

func writeParts(path string, lines []*dataLine, of func(l *dataLine) []uint8) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	b := bufio.NewWriter(f)
	for _, l := range lines {
		if _, err := b.Write(of(l)); err != nil {
			f.Close()
			return err
		}
	}
	if err := b.Flush(); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
