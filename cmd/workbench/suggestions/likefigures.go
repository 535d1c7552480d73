package suggestions

import (
	"context"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/pipeline"
	"fingerproof/policies"
)

// likeFigures measures how far what an editor sees as the same is fingered alike: figures, keys struck again, octaves.
type likeFigures struct {
	policy      *policies.Policy
	every, fold int
	shared      string
	show        string
}

func likeFiguresCommand() *cobra.Command {
	m := &likeFigures{}
	policy := ""
	return measurement.Measurement{
		Use:   "like-figures [PATH...]",
		Short: "measure how far what a reader sees as the same has the same fingers, and print beside it",
		Long: `like-figures counts, class by class, what readers of our editions call out: a beat, half a measure or a measure that comes again
(the same keys, an octave off, or the same shape on keys of the same colours) with other fingers; the same two keys twice in a measure; a key
struck again by another finger, by tempo; that in one hand of an octave unison alone; octaves, broken and struck, without the thumb or the
fifth; the bass below a chord; one finger on three keys; octaves in a row on white and black; close triads; chords and double notes that
come again; a key beyond the grip before or after it.

It takes the fingered material through the whole program without its digits and with weights that have not seen the fold. "alike" is the share of
places where nothing differs; the next columns are of places where print has all digits that the class asks for (of a figure: pairs of notes
with both digits): print's share, and the program's at the same places. Places with a digit that stands are left out of the first
column. With folders or collections named it counts in these, with the shipped tables: the first column alone.
--show lists places of a class whose name begins so; shapes lists the close triads, print's fingers in brackets.`,
		Args: cobra.ArbitraryArgs,
		Flags: func(f *pflag.FlagSet) {
			f.StringVar(&policy, "policy", "default", "policy file or shipped style")
			opendata.FolderFlag(f, &m.shared)
			f.IntVar(&m.every, "every", 1, "take every n-th score")
			f.IntVar(&m.fold, "fold", -1, "of the fingered material take one fold alone")
			f.StringVar(&m.show, "show", "", "list the places of a class at which the program's fingers differ")
		},
		Run: func(_ context.Context, out io.Writer, args []string) (err error) {
			if m.policy, err = policies.Open(policy, "."); err != nil {
				return err
			}
			return m.measure(out, args)
		},
	}.Command()
}

// alikeCount counts the places of one class: those as they should be, and all; in the program's fingers everywhere, and in
// print and the program's where print tells.
type alikeCount struct{ everywhere, printed, ours [2]int }

// alikeCounts keeps classes in the order in which they are first named.
type alikeCounts struct {
	names []string
	of    map[string]*alikeCount
	shown []string
	clean [2]int
}

func (c *alikeCounts) at(name string) *alikeCount {
	if c.of == nil {
		c.of = map[string]*alikeCount{}
	}
	if c.of[name] == nil {
		c.of[name] = &alikeCount{}
		c.names = append(c.names, name)
	}
	return c.of[name]
}

func count(c *[2]int, right bool) {
	c[1]++
	if right {
		c[0]++
	}
}

func (c *alikeCounts) join(o *alikeCounts) {
	for _, name := range o.names {
		a, b := c.at(name), o.of[name]
		for i := range 2 {
			a.everywhere[i] += b.everywhere[i]
			a.printed[i] += b.printed[i]
			a.ours[i] += b.ours[i]
		}
	}
	for i := range 2 {
		c.clean[i] += o.clean[i]
	}
	c.shown = append(c.shown, o.shown...)
}

func (c *alikeCounts) print(out io.Writer) {
	for _, s := range c.shown {
		fmt.Fprintln(out, s)
	}
	t := figures.NewTable("class", "places", "alike", "with print", "print", "ours there")
	row := func(name string) {
		n := c.at(name)
		t.Row(name, n.everywhere[1], figures.Share(n.everywhere), n.printed[1], figures.Share(n.printed), figures.Share(n.ours))
	}
	for _, name := range slices.Concat(likeClasses, gripClasses) {
		row(name)
	}
	t.Print(out)
	if c.clean[1] > 0 {
		fmt.Fprintf(out, "clean digits that agree: %s of %d\n", figures.Share(c.clean), c.clean[1])
	}
}

func (m *likeFigures) measure(out io.Writer, paths []string) error {
	in := sample{policy: m.policy, shared: m.shared, every: m.every, fold: m.fold}
	sum, err := countIn(in, paths, func(w *pipeline.PieceRun) error { return programruns.UpTo(w, "suggest") },
		func(c *alikeCounts, p *opendata.Piece, w *pipeline.PieceRun) { c.piece(p, w, m.show) })
	if err != nil {
		return err
	}
	sum.print(out)
	return nil
}

// piece counts in every hand of a piece that has gone through the program; p has its printed digits, nil for none.
func (c *alikeCounts) piece(p *opendata.Piece, w *pipeline.PieceRun, show string) {
	var lines []*likeLine
	eachLikeLine(p, w, show, func(l *likeLine) {
		l.counts = c
		for s, printed := range l.print {
			if printed > 0 {
				count(&c.clean, l.ours[s] == printed)
			}
		}
		l.count()
		lines = append(lines, l)
	})
	for i, a := range lines {
		for _, b := range lines[i+1:] {
			if a.player == b.player {
				countUnison(a, b)
			}
		}
	}
}
