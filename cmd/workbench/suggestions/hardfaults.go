package suggestions

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/policies"
)

// hardFaults counts fingers of the program that an editor would print nowhere.
type hardFaults struct {
	policy      *policies.Policy
	every, fold int
	shared      string
	show        string
	fingers     bool
}

func hardFaultsCommand() *cobra.Command {
	m := &hardFaults{}
	policy := ""
	return measurement.Measurement{
		Use:   "hard-faults [PATH...]",
		Short: "count fingers of the program that no editor would print, and how often print has the like",
		Long: `hard-faults counts what readers of our editions call hard faults: what our own lint would warn of, did the suggestions stand in the
text; a finger on two keys of a joined line; fingers that cross without the thumb; a silent change on a short note, or to the finger of the
next; a key that comes back in its figure, or a grip in its measure, with other fingers; neighbouring measures that are the same otherwise;
far fingers on a step.

It takes the fingered material through the whole program without its digits and with weights that have not seen the fold; with folders or
collections named, these as they stand, with the shipped tables. "ours" counts places at which no digit stands, beside it in a thousand notes
of the program; "without doubt" are those of them that no passage asks about; "forced" are further places, with a digit of the text among the
notes. The last columns are of places where print has all the digits that the class asks for: how many in a thousand are faults in
print, and in the program's fingers there. --show lists the program's places of a class whose name begins so.`,
		Args: cobra.ArbitraryArgs,
		Flags: func(f *pflag.FlagSet) {
			f.StringVar(&policy, "policy", "default", "policy file or shipped style")
			opendata.FolderFlag(f, &m.shared)
			f.IntVar(&m.every, "every", 1, "take every n-th score")
			f.IntVar(&m.fold, "fold", -1, "of the fingered material take one fold alone")
			f.StringVar(&m.show, "show", "", "list the places of a class")
			f.BoolVar(&m.fingers, "fingers", false, "work out the fingers alone, faster: whether a passage asks about them is not known then")
		},
		Run: func(_ context.Context, out io.Writer, args []string) (err error) {
			if m.policy, err = policies.Open(policy, "."); err != nil {
				return err
			}
			return m.measure(out, args)
		},
	}.Command()
}

// faultCount counts the places of one class.
type faultCount struct{ ours, certain, forced, printed, inPrint, oursThere int }

// faultCounts keeps classes in the order in which they are first named.
type faultCounts struct {
	names []string
	of    map[string]*faultCount
	notes int // fingers of the program
	clean [2]int
	shown []string
}

func (c *faultCounts) at(name string) *faultCount {
	if c.of == nil {
		c.of = map[string]*faultCount{}
	}
	if c.of[name] == nil {
		c.of[name] = &faultCount{}
		c.names = append(c.names, name)
	}
	return c.of[name]
}

func (c *faultCounts) join(o *faultCounts) {
	for _, name := range o.names {
		a, b := c.at(name), o.of[name]
		a.ours, a.certain, a.forced = a.ours+b.ours, a.certain+b.certain, a.forced+b.forced
		a.printed, a.inPrint, a.oursThere = a.printed+b.printed, a.inPrint+b.inPrint, a.oursThere+b.oursThere
	}
	c.notes += o.notes
	for i := range 2 {
		c.clean[i] += o.clean[i]
	}
	c.shown = append(c.shown, o.shown...)
}

func (c *faultCounts) print(out io.Writer) {
	for _, s := range c.shown {
		fmt.Fprintln(out, s)
	}
	in1000 := func(n, of int) string {
		if of == 0 {
			return "-"
		}
		return fmt.Sprintf("%.2f", 1000*float64(n)/float64(of))
	}
	t := figures.NewTable("class", "ours", "in 1000", "without doubt", "forced", "with print", "print in 1000", "ours there")
	names := slices.Clone(c.names)
	slices.Sort(names)
	for _, name := range names {
		n := c.of[name]
		t.Row(name, n.ours, in1000(n.ours, c.notes), n.certain, n.forced, n.printed, in1000(n.inPrint, n.printed), in1000(n.oursThere, n.printed))
	}
	t.Print(out)
	fmt.Fprintf(out, "%d notes with a finger of the program\n", c.notes)
	if c.clean[1] > 0 {
		fmt.Fprintf(out, "clean digits that agree: %s of %d\n", figures.Share(c.clean), c.clean[1])
	}
}

func (m *hardFaults) measure(out io.Writer, paths []string) error {
	in := sample{policy: m.policy, shared: m.shared, every: m.every, fold: m.fold}
	sum, err := countIn(in, paths, m.run,
		func(c *faultCounts, p *opendata.Piece, w *pipeline.PieceRun) { c.piece(p, w, m) })
	if err != nil {
		return err
	}
	sum.print(out)
	return nil
}

func (m *hardFaults) run(w *pipeline.PieceRun) error {
	if m.fingers {
		err := programruns.UpTo(w, "suggest")
		if err == nil {
			w.Print = make([]bool, len(w.Score.Notes))
		}
		return err
	}
	return pipeline.RunPiece(w)
}

// piece counts in every hand of a piece that has gone through the program; p has its printed digits, nil for none.
func (c *faultCounts) piece(p *opendata.Piece, w *pipeline.PieceRun, m *hardFaults) {
	asked, show := map[int]bool{}, m.show
	var passages []review.Passage
	if !m.fingers {
		passages = review.All(w.ReviewInput())
	}
	for _, q := range passages {
		if !q.Firm {
			for _, n := range q.Doubts {
				asked[n] = true
			}
		}
	}
	for i := range w.Suggestion.Notes {
		s := &w.Suggestion.Notes[i]
		if s.Finger > 0 && s.Given == 0 && !s.Tied {
			c.notes++
		}
		if p != nil {
			if r := p.RowOf(i); r != nil && r.Clean {
				count(&c.clean, s.Finger == r.Finger)
			}
		}
	}
	c.warned(p, w, asked, show)
	eachLikeLine(p, w, show, func(l *likeLine) {
		(&faultLine{likeLine: l, asked: asked, faults: c}).countFaults()
	})
}

// warned counts what lint would warn of, were the suggestions the text's; where all notes of a finding have a digit in print it
// counts beside, too. What lint warns of in print itself is not known here: its digits are hidden.
func (c *faultCounts) warned(p *opendata.Piece, w *pipeline.PieceRun, asked map[int]bool, show string) {
	for _, f := range w.WarnedWereItText() {
		name := "lint: " + f.Rule
		n := c.at(name)
		certain, given := true, false
		for _, id := range f.Notes {
			certain = certain && !asked[id]
			given = given || w.Suggestion.Notes[id].Given > 0
		}
		if given {
			n.forced++
			if !certain || show == "" || !strings.HasPrefix(name, show) {
				continue
			}
		} else {
			n.ours++
			if certain {
				n.certain++
			}
		}
		if show != "" && strings.HasPrefix(name, show) {
			c.shown = append(c.shown, fmt.Sprintf("%s, m. %s, %s: %s%s", w.Piece.ID, w.Score.Measures[w.Score.Notes[f.Notes[0]].Measure].Number,
				w.Playing.Hand(f.Notes[0]), f.Message, map[bool]string{true: " (without doubt)"}[certain]))
		}
	}
}
