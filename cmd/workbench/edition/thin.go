package edition

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/cmd/workbench/training"
	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/pipeline/4_stages/13_credit"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/policies"
	"fingerproof/rules/places"
)

// thinCommand measures how many digits each density prints, whether the fingering comes back, and what that costs.
func thinCommand() *cobra.Command {
	var shared, data, models, sheets string
	var only []string
	var every int
	var bound, list, habits, why bool
	return measurement.Measurement{
		Use:   "thin",
		Short: "how many digits are printed at each density, and whether the whole fingering comes back from them",
		Long: `thin fingers every score of the fingered material (or of another shared collection), as if no digit
stood in it, and chooses the printed digits at each density. It gives the share of struck notes that get
a digit (median and quartiles over the pieces, and pooled), the share of notes whose finger the reader
gets back, how many of the places where the edition prints a digit get one here, beside what as many
digits strewn at random would hit (all pieces, and those that print at 5 to 60 notes in a hundred; of these also at just the
densities that the model was asked for: what editors want most alone, with what reading back needs first, and with sparse first),
how often what
no editor would do is done, how often the page, read by its preface to the letter, gives another finger than the fingering
(by sentences; 15_thin asks the same reader, so this says that it keeps its promise, not that the promise is enough) or has
its digit on the wrong note, and the time of thinning in percent of that of the
search, where one is made. With --models the places
are wanted by models that have not seen the piece, and read by readers that have not (workbench places --keep, then
reader --models, --keep). The fingers are the program's own; with --bound print's wherever it has any.`,
		Fails: "some fingering did not come back whole",
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &shared)
			f.StringVar(&data, "data", "fingered", "which of the shared collections: "+
				"the memories of the reader were chosen on fingered, the others were never looked at")
			f.IntVar(&every, "every", 1, "take every so many-th piece only")
			f.StringVar(&models, "models", "", "folder of the models and the readers of the folds; none for the shipped ones")
			f.StringVar(&sheets, "sheets", "", "lay the pieces of --only beside the edition's digits, as text in this folder")
			f.StringSliceVar(&only, "only", nil, "these pieces alone")
			f.BoolVar(&list, "places", false, "list the places that a player who goes by the preface reads otherwise")
			f.BoolVar(&habits, "habits", false, "lay beside print, by how many digits an edition has, what it and we print at leaps and in chords; "+
				"and count the strokes whose fingers neither digits nor the preface tell")
			f.BoolVar(&why, "why", false, "count for which reasons digits stand, in editions of 5 to 60 %")
			f.BoolVar(&bound, "bound", false, "finger with the digits of the edition given, as print has it; none counts "+
				"as standing on the page")
		},
		Run: func(ctx context.Context, out io.Writer, _ []string) error {
			c, err := opendata.EveryNth(opendata.Place(shared, data), every)
			if err != nil {
				return err
			}
			m := newThinning()
			m.bound, m.list, m.sheets, m.why = bound, list, sheets, why
			if len(only) > 0 {
				c.Pieces = slices.DeleteFunc(c.Pieces, func(p corpus.Piece) bool { return !slices.Contains(only, p.ID) })
			}
			if err := m.readModels(models, opendata.Place(shared, data)); err != nil {
				return err
			}
			programruns.InOrder(len(c.Pieces), func(i int) thinned { return m.thin(c, &c.Pieces[i]) }, func(t thinned) {
				if t.failed != nil {
					fmt.Fprintf(out, "left out: %v\n", t.failed)
				} else if ctx.Err() == nil {
					m.add(&t)
				}
			})
			if err := ctx.Err(); err != nil {
				return err
			}
			if m.failed != nil {
				return m.failed
			}
			for _, line := range m.lines() {
				fmt.Fprintln(out, line)
			}
			m.coverage(out)
			if why {
				for _, d := range m.densities {
					fmt.Fprintf(out, "\nwhy digits stand, %s\n", d.name)
					for _, line := range d.reasons.lines() {
						fmt.Fprintln(out, line)
					}
				}
			}
			if habits {
				all, untold := m.print, []*untold{}
				for _, d := range m.densities {
					all, untold = append(all, d.habits), append(untold, d.untold)
				}
				printHabits(out, all)
				printUntold(out, untold)
			}
			if m.lost > 0 {
				return measurement.Failed("%d fingers did not come back", m.lost)
			}
			return nil
		},
	}.Command()
}

// density is what is counted at one density.
type density struct {
	name                  string
	policy                *policies.Policy
	shares                []float64
	printed, struck, back int
	all, chosen           hits
	asked                 float64 // the density at which the wanted places alone are counted, in percent
	wanted                hits    // the places that the model wants most, in editions of 5 to 60 %, nothing added
	barest, filled        *filled // likewise, beside what reading back needs, and beside what sparse prints
	reasons               *reasons
	never                 never
	misread               misread
	untold                *untold
	habits                *habits // in editions of 5 to 60 %
	thinning              time.Duration
}

// hits counts the places where editions print.
type hits struct {
	places, hit, printed, struck int
	expected                     float64 // places hit by as many digits strewn over the piece
}

func (h *hits) add(places, hit, printed, struck int) {
	h.places, h.hit, h.printed, h.struck = h.places+places, h.hit+hit, h.printed+printed, h.struck+struck
	h.expected += float64(places) * float64(printed) / float64(struck)
}

func (h *hits) String() string {
	return fmt.Sprintf("%d of %d (%s, at random %s, lift %.2f) at a density of %s", h.hit, h.places,
		percent(h.hit, h.places), percentOf(h.expected/float64(max(h.places, 1))), float64(h.hit)/max(h.expected, 1),
		percent(h.printed, h.struck))
}

// thinning counts at all densities.
type thinning struct {
	bound      bool
	why        bool   // the reasons are counted
	list       bool   // the places that are read otherwise, one by one
	sheets     string // folder for sheets; empty: none
	sheetsDone map[string]bool
	failed     error
	folds      map[string]int
	models     [5]*places.Model // of the folds; nil for the shipped one
	usual      [5]*thin.Usual   // and the readers; nil for the shipped one
	densities  []*density
	print      []*habits // of the editions, by how many digits they print
	editors    []float64 // share printed by the editions
	search     time.Duration
	pieces     int
	lost       int
}

func newThinning() *thinning {
	m := &thinning{sheetsDone: map[string]bool{}, print: newPrintHabits()}
	for k, name := range []string{"study", "performance", "sparse"} {
		p, err := policies.ByName(name)
		if err != nil {
			panic(err) // shipped, and tested
		}
		m.densities = append(m.densities, &density{name: name, policy: p, asked: wantedAt[k], barest: &filled{first: "needed", asked: wantedAt[k]},
			filled: &filled{first: "sparse", asked: wantedAt[k]}, reasons: newReasons(), habits: &habits{title: "ours, " + name},
			untold: &untold{title: "ours, " + name}})
	}
	return m
}

// readModels reads the models of the folds.
func (m *thinning) readModels(folder, data string) (err error) {
	if folder == "" {
		return nil
	}
	if m.folds, err = opendata.Folds(data); err != nil {
		return err
	}
	if m.models, err = modelsOfFolds(folder); err != nil {
		return err
	}
	for fold := range m.usual {
		file, err := os.ReadFile(foldUsual(folder, fold))
		if err != nil {
			return fmt.Errorf("reading the readers of the folds: %w\nhint: workbench reader --keep %s", err, folder)
		}
		if m.usual[fold], err = thin.ReadUsual(file); err != nil {
			return err
		}
	}
	return nil
}

// thinned is a piece with what is printed of it at each density, and what a reader reads from that.
type thinned struct {
	*pipeline.PieceRun
	search time.Duration
	pages  []printedPage
	barest []bool // what reading back needs
	failed error
}

type printedPage struct {
	in      thin.Fingered
	printed []bool
	read    []int
	took    time.Duration
}

// thin chooses the printed digits of a piece. Those that it has count as the edition's choice of places and as nothing else:
// the fingering that is thinned is free of them.
func (m *thinning) thin(c *corpus.Collection, piece *corpus.Piece) (t thinned) {
	if t.PieceRun, t.failed = programruns.OfPiece(c, piece, policies.Default()); t.failed != nil {
		return t
	}
	if t.failed = programruns.UpTo(t.PieceRun, "credit"); t.failed != nil {
		return t
	}
	free := *t.PieceRun
	free.Policy = m.densities[0].policy
	free.Score = t.Score.WithoutDigits()
	start := time.Now()
	if !m.bound {
		free.Suggestion = suggest.Suggest(free.SuggestInput())
	}
	t.search = time.Since(start)
	free.Credited = credit.Digits(free.CreditInput())
	for _, d := range m.densities {
		free.Policy = d.policy
		in := thin.FingeredOf(free.ThinInput())
		in.Model, in.Usual = m.models[m.folds[piece.ID]], m.usual[m.folds[piece.ID]]
		start := time.Now()
		printed := thin.Plan(in)
		t.pages = append(t.pages, printedPage{in, printed, nil, time.Since(start)})
		t.pages[len(t.pages)-1].read = thin.Read(in, printed)
	}
	t.barest = thin.Barest(t.pages[0].in)
	return t
}

// add counts a piece.
func (m *thinning) add(w *thinned) {
	m.search += w.search
	m.pieces++
	given := training.Digits(w.PieceRun)
	for k, d := range m.densities {
		in, printed, read := w.pages[k].in, w.pages[k].printed, w.pages[k].read
		d.thinning += w.pages[k].took
		struck, count, places, hit := 0, 0, 0, 0
		for i := range printed {
			if !w.Playing.Plays(i) || w.Score.Notes[i].TiedFrom >= 0 || in.Finger[i] == 0 {
				continue
			}
			struck++
			if printed[i] {
				count++
			}
			if given[i] {
				places++
				if printed[i] {
					hit++
				}
			}
			if read[i] == in.Finger[i] {
				d.back++
			} else {
				m.lost++
			}
		}
		if struck == 0 {
			continue
		}
		d.struck += struck
		d.printed += count
		d.all.add(places, hit, count, struck)
		if share := 100 * places / struck; share >= 5 && share <= 60 {
			d.chosen.add(places, hit, count, struck)
			d.addWanted(&in, m.models[m.folds[w.Piece.ID]], given)
			d.barest.add(&in, m.models[m.folds[w.Piece.ID]], w.barest, given)
			d.filled.add(&in, m.models[m.folds[w.Piece.ID]], w.pages[len(w.pages)-1].printed, given)
			if m.why {
				d.reasons.add(&in, given)
			}
			d.habits.add(&in, func(i int) bool { return printed[i] || in.Stands[i] })
		}
		if band := bandOf(100 * places / struck); k == 0 && band >= 0 {
			m.print[band].add(&in, func(i int) bool { return given[i] })
		}
		d.never.add(&in, printed)
		d.misread.title, d.misread.list = w.Piece.ID+", "+d.name, m.list
		d.misread.add(&in, printed)
		d.untold.of, d.untold.list = d.misread.title, m.list
		d.untold.add(&in, printed)
		if m.sheets != "" {
			m.failed = cmp.Or(m.failed, m.writeSheet(w.Piece.ID, d.name, 100*places/struck, &in, given, printed))
		}
		d.shares = append(d.shares, float64(count)/float64(struck))
		if k == 0 {
			m.editors = append(m.editors, float64(places)/float64(struck))
		}
	}
}

// addWanted counts the places that the model wants most, as many of a piece as the density asks for.
func (d *density) addWanted(in *thin.Fingered, model *places.Model, given []bool) {
	if model == nil {
		model = places.Shipped()
	}
	var lines [][]places.Event
	var yes []bool
	for l := range in.Playing.Lines {
		events := places.Events(in.Score, &in.Playing.Lines[l], in.Finger)
		lines = append(lines, events)
		for e := range events {
			for _, i := range events[e].Notes {
				yes = append(yes, given[i])
			}
		}
	}
	k := max(1, int(d.asked*float64(len(yes))/100+0.5))
	d.wanted.add(count(yes, nil), count(yes, most(model, lines, int(d.asked+0.5), k)), k, max(len(yes), 1))
}

// coverage is how many of the places where editions print are wanted most, and how many of them the page has.
func (m *thinning) coverage(out io.Writer) {
	t := figures.NewTable("editions of 5 to 60 %", "digits asked for", "wanted alone", "needed and then wanted", "sparse and then wanted", "digits on the page", "the page", "back")
	for _, d := range m.densities {
		t.Row(d.name, percentOf(d.asked/100), percent(d.wanted.hit, d.wanted.places), d.barest, d.filled, percent(d.chosen.printed, d.chosen.struck),
			percent(d.chosen.hit, d.chosen.places), fmt.Sprintf("%d of %d", d.back, d.struck))
	}
	t.Print(out)
}

func (m *thinning) lines() []string {
	out := []string{fmt.Sprintf("%d pieces; the editions print %s", m.pieces, quartiles(m.editors))}
	for _, d := range m.densities {
		line := fmt.Sprintf("%-12s %s, pooled %s; back %d of %d (%s)",
			d.name, quartiles(d.shares), percent(d.printed, d.struck), d.back, d.struck, percent(d.back, d.struck))
		line += fmt.Sprintf("; editors' places also here %s; of editions of 5 to 60 %% %s", &d.all, &d.chosen)
		line += "; " + d.never.String() + "; " + d.misread.String()
		if !m.bound { // with the printed digits nothing is searched for
			line += fmt.Sprintf("; time %.1f %% of the search", 100*d.thinning.Seconds()/max(m.search.Seconds(), 1e-9))
		}
		out = append(out, line)
	}
	for _, d := range m.densities {
		out = append(out, d.misread.places...)
	}
	return out
}

func quartiles(shares []float64) string {
	s := slices.Sorted(slices.Values(shares))
	if len(s) == 0 {
		return "nothing"
	}
	at := func(q int) string { return percentOf(s[min(q*len(s)/4, len(s)-1)]) }
	return fmt.Sprintf("median %s (quartiles %s and %s)", at(2), at(1), at(3))
}

func percent(n, of int) string { return percentOf(float64(n) / float64(max(of, 1))) }

func percentOf(share float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(100*share, 'f', 1, 64), ".0") + " %"
}
