package agreement

import (
	"fmt"
	"io"
	"path/filepath"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/opendata"
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
	var shared, policy string
	c := &cobra.Command{
		Use:   "idioms",
		Short: "count patterns of fingers in what the program suggests and in print, at the same places",
		Long: `idioms takes the fingered material through the whole program, without its digits and with weights that have not seen the fold, and counts
some two dozen patterns of fingers: one finger on two keys, crossings, thumbs on black, keys struck again, chords, figures that come again. The
first two columns count everywhere; the next two only where print has all the digits that the pattern asks for. The last is the program's
count there over print's.

EXIT STATUS
  0  counted
  2  the work could not be done`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			dir := filepath.Join(shared, "data", "fingered")
			pieces, err := opendata.ReadPieces(dir)
			if err != nil {
				return err
			}
			p, err := policies.Open(policy, ".")
			if err != nil {
				return err
			}
			t, err := countIdioms(pieces, p)
			if err != nil {
				return err
			}
			t.print(cmd.OutOrStdout())
			return nil
		},
	}
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
}

func countIdioms(programs []*opendata.Piece, policy *policies.Policy) (*idiomTable, error) {
	var folds [5]idiomTable
	err := training.EachFold(programs, 5, func(fold int, delivered *effort.Weights) error {
		for _, p := range programs {
			if p.Fold != fold {
				continue
			}
			w, err := p.Run(p.Without(-1), policy, delivered)
			if err != nil {
				return err
			}
			folds[fold].addPiece(p, w)
		}
		return nil
	})
	var all idiomTable
	for f := range folds {
		all.join(&folds[f])
	}
	return &all, err
}

// addPiece counts in every hand of a piece that has gone through the program.
func (t *idiomTable) addPiece(p *opendata.Piece, w *pipeline.PieceRun) {
	suggest.EachLine(w.SuggestInput(), func(_ int, h score.Hand, notes []fingering.Note) {
		line := fingering.NewLine(fingering.HandOf(h), notes, w.Profile.Fits)
		ours, print := make([]fingering.Finger, len(line.Strikes)), make([]fingering.Finger, len(line.Strikes))
		for s := range line.Strikes {
			id := line.Strikes[s].IDs[0]
			if id < len(w.Suggestion.Notes) {
				ours[s] = w.Suggestion.Notes[id].Finger
			}
			if r := p.RowOf(id); r != nil && r.Clean {
				print[s] = r.Finger
				t.agree[1]++
				t.agree[0] += one(ours[s] == r.Finger)
			}
		}
		t.addLine(line, ours, print)
	})
}

func (t *idiomTable) addLine(line *fingering.Line, ours, print []fingering.Finger) {
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
	for i := range o.again {
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
	fmt.Fprintf(out, "clean digits that agree: %s of %d\n", figures.Share(t.agree), t.agree[1])
}
