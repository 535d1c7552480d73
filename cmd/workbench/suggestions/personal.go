package suggestions

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/cmd/workbench/training"
	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/weighing"
	"fingerproof/policies"
)

// personal plants an editor's personal fingerings among printed digits and counts what is said of them.
type personal struct {
	folder, rows, printed, plants string
	pieces                        int
	half                          string
	fold                          int
	weights                       *pipeline.Weights // those without the fold; nil: the shipped ones
	seed                          uint64
}

func personalCommand() *cobra.Command {
	m := &personal{}
	return measurement.Measurement{
		Use:   "personal",
		Short: "plant fingerings that suit their maker among printed digits, and count what is said of them and of print",
		Long: `personal takes pieces of the fingered scores with their printed digits as an editor's draft. In each it plants
passages of three kinds, every note of them with its digit: the best fingering for a supple tenth hand, where it
goes beyond the ease of a ninth; one that costs more in every aim, by the program's own prices and by those of the
published ergonomic model (FACTS §1.1); and one that gains at the tempo and costs more in practice. It counts how
many of each are told as what they are, and of how many passages of the editions' own anything is told.

The pieces are halved by whole composers: thresholds are chosen on the half "choose" and measured on "measure". The
shipped weights are fitted to all of these scores: of the printed digits the habit of editors is known. With --fold
the pieces of a fold are weighed by weights that were fitted without it.`,
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.folder)
			f.IntVar(&m.pieces, "pieces", 60, "pieces, taken evenly")
			f.StringVar(&m.half, "half", "measure", "choose, measure or both")
			f.Uint64Var(&m.seed, "seed", 1, "source of choices")
			f.IntVar(&m.fold, "fold", -1, "take the pieces of this fold alone, 0 to 4, with weights fitted without it; -1: all, with the shipped weights")
			f.StringVar(&m.rows, "rows", "", "write the figures of every passage into this CSV file")
			f.StringVar(&m.plants, "plants", "", "write the plants of each piece as a file of decisions into this folder")
			f.StringVar(&m.printed, "printed", "", "write what is told of printed passages, with the music, into this file")
		},
		Run: m.run,
	}.Command()
}

func (m *personal) run(_ context.Context, out io.Writer, _ []string) error {
	dir := opendata.Place(m.folder, "fingered")
	pieces, err := m.choose(dir)
	if err != nil {
		return err
	}
	if m.fold >= 0 {
		if pieces, m.weights, err = withoutFold(dir, pieces, m.fold); err != nil {
			return err
		}
	}
	count := personalCount{}
	if m.rows != "" {
		f, err := os.Create(m.rows)
		if err != nil {
			return err
		}
		defer f.Close()
		count.rows = csv.NewWriter(f)
		defer count.rows.Flush()
	}
	if m.printed != "" {
		f, err := os.Create(m.printed)
		if err != nil {
			return err
		}
		defer f.Close()
		count.printed = f
	}
	for _, p := range pieces {
		if err := m.piece(dir, p, &count); err != nil {
			fmt.Fprintf(out, "left out: %s: %v\n", p, err)
		}
	}
	count.write(out)
	return nil
}

// choose lists the pieces of a half, by name.
func (m *personal) choose(dir string) (out []string, err error) {
	rows, err := opendata.ReadTable(filepath.Join(dir, "INDEX.tsv"))
	if err != nil {
		return nil, err
	}
	slices.SortFunc(rows, func(a, b map[string]string) int {
		if a["piece"] < b["piece"] {
			return -1
		}
		return 1
	})
	each := map[string]int{} // pieces by composer
	var sample []map[string]string
	for k := range m.pieces {
		r := rows[k*len(rows)/m.pieces]
		sample = append(sample, r)
		each[r["composer"]]++
	}
	var composers []string
	for c := range each {
		composers = append(composers, c)
	}
	slices.SortFunc(composers, func(a, b string) int {
		if each[a] != each[b] {
			return each[b] - each[a]
		}
		if a < b {
			return -1
		}
		return 1
	})
	sums, half := [2]int{}, map[string]int{} // the larger first, each to the half that has fewer
	for _, c := range composers {
		h := 0
		if sums[1] < sums[0] {
			h = 1
		}
		half[c] = h
		sums[h] += each[c]
	}
	for _, r := range sample {
		if m.half == "both" || (m.half == "choose") == (half[r["composer"]] == 0) {
			out = append(out, r["piece"])
		}
	}
	return out, nil
}

// personalCount counts what is told.
type personalCount struct {
	rows     *csv.Writer
	printed  io.Writer
	measures int // of a hand, in which a printed digit stands
	own      [5]int
	passages int
	kinds    [kinds]struct{ planted, told int }
	as       [kinds][5]int
}

func (m *personal) piece(dir, name string, count *personalCount) error {
	data, err := os.ReadFile(filepath.Join(dir, name+".mxl"))
	if err != nil {
		return err
	}
	w := programruns.Of(name+".mxl", data, policies.Default())
	w.Piece.Draft, w.DraftData = &corpus.Draft{By: "ED"}, data
	if m.weights != nil {
		w.Weights = m.weights
	}
	if err := programruns.UpTo(w, "suggest"); err != nil {
		return err
	}
	in := weighInput(w)
	in.Free = weighing.Free(in.Suggest)
	found := weighing.Passages(in)
	count.passages += len(found)
	count.measures += measuresWithDigits(w)
	for i := range found {
		p := &found[i]
		count.own[p.Verdict]++
		count.row(name, "printed", w, p)
		if count.printed != nil && p.Verdict != weighing.Usual {
			fmt.Fprint(count.printed, drawnPassage(name, w, p))
		}
	}
	if err := m.plant(name, w, in, forTenthHand, count); err != nil {
		return err
	}
	// what speed makes easier is planted at a quick tempo, which many of the scores do not name
	quick := programruns.Of(name+".mxl", data, policies.Default())
	quick.Piece.Draft, quick.DraftData, quick.Piece.Tempo = w.Piece.Draft, data, corpus.Tempo{Low: quickTempo, High: quickTempo}
	quick.Weights = w.Weights
	if err := programruns.UpTo(quick, "suggest"); err != nil {
		return err
	}
	in = weighInput(quick)
	in.Free = weighing.Free(in.Suggest)
	return m.plant(name, quick, in, atTempoOnly, count)
}

// quickTempo is in felt beats a minute.
const quickTempo = 152

// withoutFold keeps the pieces of a fold, and gives the weights that were fitted without it.
func withoutFold(dir string, chosen []string, fold int) (out []string, w *pipeline.Weights, err error) {
	pieces, err := opendata.ReadPieces(dir)
	if err != nil {
		return nil, nil, err
	}
	for _, p := range pieces {
		if p.Fold == fold && slices.Contains(chosen, p.Name) {
			out = append(out, p.Name)
		}
	}
	table := training.Without(pieces, fold, training.HabitSettings(), "delivered", training.Prune)
	return out, pipeline.NewWeights(table, ""), nil
}

// weighInput is what is weighed of a run.
func weighInput(w *pipeline.PieceRun) weighing.Input {
	return weighing.Input{Suggest: w.SuggestInput(), Suggestion: w.Suggestion, Bound: w.Bound, Limits: weighing.LimitsOf(w.Policy)}
}

func measuresWithDigits(w *pipeline.PieceRun) int {
	seen := map[[2]int]bool{}
	for n, f := range w.Draft.Fingers {
		if len(f) > 0 && w.Playing.Plays(n) {
			seen[[2]int{w.Score.Notes[n].Measure, int(w.Playing.Hand(n))}] = true
		}
	}
	return len(seen)
}

var verdictWords = [5]string{"usual", "costs", "larger", "unusual", "reasoned"}

// row writes the figures of a passage.
func (c *personalCount) row(piece, kind string, w *pipeline.PieceRun, p *weighing.Passage) {
	if c.rows == nil {
		return
	}
	a, b := p.Full, p.Practice
	cells := []string{piece, kind, w.Score.Measures[w.Score.Notes[p.Notes[0]].Measure].Number, verdictWords[p.Verdict]}
	for _, v := range []int{
		len(p.Notes), len(p.Theirs), a.Comfort, a.Line, a.Memory, a.Tempo, a.Reach, a.Sum(), b.Tempo, b.Sum(), p.Habit, p.Share[0],
		p.Share[1], p.Reach[0], p.Reach[1], p.Needs[0].Size, p.Needs[1].Size, int(p.Needs[0].Beyond), int(p.Needs[1].Beyond), map[bool]int{true: 1}[p.Impossible], map[bool]int{true: 1}[p.Beyond],
		p.Differing(), p.Meant(), p.MoreFor,
	} {
		cells = append(cells, strconv.Itoa(v))
	}
	_ = c.rows.Write(cells) // the writer keeps its error
}

func (c *personalCount) write(out io.Writer) {
	fmt.Fprintf(out, "printed: %d passages fingered otherwise than for the many, in %d measures of a hand with digits\n",
		c.passages, c.measures)
	told := c.own[weighing.Costs] + c.own[weighing.Larger]
	fmt.Fprintf(out, "  told as personal: %s of passages, %s of measures; unusual, and why: %s of passages\n",
		figures.Share([2]int{told, c.passages}), figures.Share([2]int{told, c.measures}), figures.Share([2]int{c.own[weighing.Unusual], c.passages}))
	for k, words := range kindWords {
		fmt.Fprintf(out, "planted, %s: %d, told as it is: %s;", words, c.kinds[k].planted,
			figures.Share([2]int{c.kinds[k].told, c.kinds[k].planted}))
		for v, n := range c.as[k] {
			if n > 0 {
				fmt.Fprintf(out, " %s %d", verdictWords[v], n)
			}
		}
		fmt.Fprintln(out)
	}
}

func (m *personal) random(name string) *rand.Rand {
	h := m.seed
	for _, b := range []byte(name) {
		h = h*1099511628211 + uint64(b)
	}
	return rand.New(rand.NewPCG(m.seed, h))
}
