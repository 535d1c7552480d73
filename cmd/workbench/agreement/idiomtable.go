package agreement

import (
	"fmt"
	"io"
	"path/filepath"
	"runtime"
	"slices"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/cmd/workbench/training"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/parallel"
)

func idiomsCommand() *cobra.Command {
	var shared, policy, show string
	var every, fold int
	c := &cobra.Command{
		Use:   "idioms [PATH...]",
		Short: "count patterns of fingers in what the program suggests and in print, at the same places",
		Long: `idioms takes the fingered material through the whole program, without its digits and with weights that have not seen the fold, and counts
some two dozen patterns of fingers: one finger on two keys, crossings, thumbs on black, keys struck again, chords, figures that come again. The
first two columns count everywhere; the next two only where print has all the digits that the pattern asks for (of a stroke that comes again, those
of its first time: a digit left out then says the same finger). The last is the program's count there over print's.

With folders or collections named it counts in what the shipped tables give their scores, digits that stand there bound: the first two columns alone.
--show lists the places where the program's fingers show a pattern.

EXIT STATUS
  0  counted
  2  the work could not be done`,
		Args: cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			p, err := policies.Open(policy, ".")
			if err != nil {
				return err
			}
			var t *idiomTable
			if len(args) > 0 {
				t, err = idiomsOfScores(args, every, p, show)
			} else {
				var pieces []*opendata.Piece
				if pieces, err = opendata.ReadPieces(filepath.Join(shared, "data", "fingered")); err == nil {
					t, err = countIdioms(pieces, fold, p, show)
				}
			}
			if err != nil {
				return err
			}
			t.print(cmd.OutOrStdout())
			return nil
		},
	}
	c.Flags().IntVar(&every, "every", 1, "take every n-th score of the folders")
	c.Flags().IntVar(&fold, "fold", -1, "of the fingered material take one fold alone")
	c.Flags().StringVar(&show, "show", "", "list the places of the pattern of this name")
	c.Flags().StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	c.Flags().StringVar(&policy, "policy", "default", "policy file or shipped style")
	return c
}

// idiomCount counts one idiom: how often the music asks and the fingers show it, everywhere, and where print tells.
type idiomCount struct {
	asked, shown        int // everywhere, in the program's fingers
	told, printed, ours int // where print tells: places, print's and the program's

}

// idiomTable counts all idioms, and figures that come again: on the same keys and on like ones.
type idiomTable struct {
	idioms []idiomCount
	again  [2]idiomCount
	alike  [2]idiomCount // of those, where nothing about the figure asks for other fingers
	apart  [2]idiomCount // and those that are no parts of a sequence
	agree  [2]int        // clean digits that agree, and all
	rows   [2]int        // signs that stand for more notes: those with one finger on two of them in a row, and all

	show   string // the pattern whose places are listed
	places []string
}

func countIdioms(programs []*opendata.Piece, only int, policy *policies.Policy, show string) (*idiomTable, error) {
	var folds [5]idiomTable
	for f := range folds {
		folds[f].show = show
	}
	count := func(fold int, delivered *effort.Weights) error {
		for _, p := range programs {
			if p.Fold != fold {
				continue
			}
			w := p.Prepare(p.Without(-1), policy, delivered)
			if err := programruns.UpTo(w, "suggest"); err != nil {
				return err
			}
			folds[fold].addPiece(p, p.Name, w)
		}
		return nil
	}
	var err error
	if only >= 0 && only < len(folds) {
		err = count(only, training.Delivered(programs, only))
	} else {
		err = training.EachFold(programs, len(folds), count)
	}
	var all idiomTable
	for f := range folds {
		all.join(&folds[f])
	}
	return &all, err
}

// idiomsOfScores counts in every so many-th score of folders and collections.
func idiomsOfScores(paths []string, every int, policy *policies.Policy, show string) (*idiomTable, error) {
	var runs []*pipeline.PieceRun
	for _, path := range paths {
		c, err := opendata.EveryNth(path, every)
		if err != nil {
			return nil, err
		}
		for i := range c.Pieces {
			runs = append(runs, programruns.OfFile(c.Path(c.Pieces[i].Score), policy))
		}
	}
	tables := make([]idiomTable, len(runs))
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i, w := range runs {
		g.Go(func() error {
			if w.Piece.Fault != nil || programruns.UpTo(w, "suggest") != nil {
				return nil // one that cannot be read has nothing to count
			}
			tables[i].show = show
			tables[i].addPiece(nil, w.Piece.ID, w)
			runs[i] = nil
			return nil
		})
	}
	if err := g.Wait(); err != nil {
		return nil, err
	}
	var all idiomTable
	for i := range tables {
		all.join(&tables[i])
	}
	return &all, nil
}

// addPiece counts in every hand of a piece that has gone through the program; p has its printed digits, nil for none.
func (t *idiomTable) addPiece(p *opendata.Piece, name string, w *pipeline.PieceRun) {
	for i := range w.Suggestion.Notes {
		if row := w.Suggestion.Notes[i].Row; len(row) > 1 {
			t.rows[1]++
			t.rows[0] += one(len(slices.Compact(slices.Clone(row))) < len(row))
		}
	}
	suggest.EachLine(w.SuggestInput(), func(_ int, h score.Hand, notes []fingering.Note) {
		line := fingering.NewLine(fingering.HandOf(h), notes, w.Profile.Fits)
		ours, print := make([]fingering.Finger, len(line.Strikes)), make([]fingering.Finger, len(line.Strikes))
		for s := range line.Strikes {
			id := line.Strikes[s].IDs[0]
			if id < len(w.Suggestion.Notes) {
				ours[s] = w.Suggestion.Notes[id].Finger
			} else {
				ours[s] = w.Suggestion.Added[id].Finger
			}
			if p == nil {
				continue
			}
			if r := p.RowOf(id); r != nil && r.Clean {
				print[s] = r.Finger
				t.agree[1]++
				t.agree[0] += one(ours[s] == r.Finger)
			}
		}
		t.addLine(line, ours, print, func(e int) string {
			s := &line.Strikes[line.Events[e].Keys[0].Strike]
			if id := s.IDs[0]; id < len(w.Score.Notes) {
				return fmt.Sprintf("%s, m. %s, %s hand", name, w.Score.Measures[w.Score.Notes[id].Measure].Number, h)
			}
			return name
		})
	})
}

// fingersAt writes the fingers of the events up to e.
func fingersAt(line *fingering.Line, of []fingering.Finger, e int) (out string) {
	for o := max(0, e-2); o <= e; o++ {
		for i, k := range line.Events[o].Keys {
			out += fmt.Sprint([]string{" ", "-"}[one(i > 0)], of[k.Strike])
		}
	}
	return out
}

func (t *idiomTable) addLine(line *fingering.Line, ours, print []fingering.Finger, at func(e int) string) {
	if t.idioms == nil {
		t.idioms = make([]idiomCount, len(idioms))
	}
	a, b := &digits{line, ours}, &digits{line, print}
	for i, idiom := range idioms {
		c := &t.idioms[i]
		for e := range line.Events {
			asked, shown := idiom.at(a, e)
			c.asked += one(asked)
			c.shown += one(asked && shown)
			if asked && shown && idiom.name == t.show {
				t.places = append(t.places, at(e)+": "+fingersAt(line, ours, e)+"; print"+fingersAt(line, print, e))
			}
			if told, printed := idiom.at(b, e); told {
				c.told++
				c.printed += one(printed)
				c.ours += one(asked && shown)
			}
		}
	}
	for like := range t.again {
		figuresAgain(line, like == 1, func(before, now [figureStrokes]int) {
			t.again[like].addFigure(ours, print, before, now)
			if !parallel.InSequence(line, line.Strikes[before[0]].Event, line.Strikes[now[0]].Event, figureStrokes) {
				t.apart[like].addFigure(ours, print, before, now)
			}
			if alike(line, before, now) {
				t.alike[like].addFigure(ours, print, before, now)
			}
		})
	}
}

// addFigure counts a figure and its last time nearby: whether the fingers differ.
func (c *idiomCount) addFigure(ours, print []fingering.Finger, before, now [figureStrokes]int) {
	c.asked++
	c.shown += one(differ(ours, before, now))
	for i := range before {
		if print[before[i]] == 0 || print[now[i]] == 0 {
			return
		}
	}
	c.told++
	c.printed += one(differ(print, before, now))
	c.ours += one(differ(ours, before, now))
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

func differ(of []fingering.Finger, before, now [figureStrokes]int) bool {
	for i := range before {
		if of[before[i]] != of[now[i]] {
			return true
		}
	}
	return false
}

func (c *idiomCount) join(o *idiomCount) {
	c.asked, c.shown, c.told, c.printed, c.ours = c.asked+o.asked, c.shown+o.shown, c.told+o.told, c.printed+o.printed, c.ours+o.ours
}

func (t *idiomTable) join(o *idiomTable) {
	if t.idioms == nil {
		t.idioms = make([]idiomCount, len(idioms))
	}
	for i := range o.idioms {
		t.idioms[i].join(&o.idioms[i])
	}
	t.places = append(t.places, o.places...)
	for i := range o.again {
		t.rows[i] += o.rows[i]
		t.again[i].join(&o.again[i])
		t.alike[i].join(&o.alike[i])
		t.apart[i].join(&o.apart[i])
		t.agree[i] += o.agree[i]
	}
}

func (t *idiomTable) print(out io.Writer) {
	fmt.Fprintf(out, "%-46s %9s %7s   %9s %7s %7s  %s\n", "", "places", "rate", "with print", "print", "ours", "ours/print")
	row := func(name string, c *idiomCount) {
		ratio := "–"
		if c.printed > 0 {
			ratio = fmt.Sprintf("%.2f", figures.Quotient(c.ours, c.printed))
		}
		fmt.Fprintf(out, "%-46s %9d  %s   %9d %7d %7d  %s\n", name, c.asked, figures.Share([2]int{c.shown, c.asked}), c.told, c.printed, c.ours, ratio)
	}
	for i, idiom := range idioms {
		row(idiom.name, &t.idioms[i])
	}
	row("figure again within two measures, otherwise", &t.again[0])
	row("like figure within two measures, otherwise", &t.again[1])
	row("figure again, sequences left out, otherwise", &t.apart[0])
	row("like figure, sequences left out, otherwise", &t.apart[1])
	row("figure again, all about it alike, otherwise", &t.alike[0])
	row("like figure, all about it alike, otherwise", &t.alike[1])
	fmt.Fprintf(out, "signs with one finger on two notes in a row: %d of %d\n", t.rows[0], t.rows[1])
	for _, p := range t.places {
		fmt.Fprintln(out, p)
	}
	if t.agree[1] == 0 {
		return
	}
	fmt.Fprintf(out, "clean digits that agree: %s of %d\n", figures.Share(t.agree), t.agree[1])
}
