package formats

import (
	"context"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/beevik/etree"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/reports/engrave"
)

// timing holds both readers against Verovio's timemap.
type timing struct {
	every, from int
	list        bool
	only        string // a part of the name of the scores to look at
	keep        string // folder for both versions of each score
	converter   *converter
	out         io.Writer
	table       *figures.Table
	sum         timed
	reasons     map[string]int
	causes      map[string]*[2]int // what differs with its cause → how often, in MusicXML and in MEI
	written     *written           // the piece at hand
}

// timed is what was compared in a folder; each pair of figures is of MusicXML and of MEI.
type timed struct {
	scores, failed  int
	onsets, late    [2]int // compared, and of them other than Verovio's
	lengths, longer [2]int
	ties, untied    [2]int
	bars, longBars  [2]int
	order           int    // scores with signs of repetition
	reordered       [2]int // those that Verovio plays in another order
	skipped         [2]int // struck beside grace notes or rolled
	unplaced        [2]int // measures whose begin or end the timemap does not have
	lost            [2]int // notes in such measures
}

func timemapCommand() *cobra.Command {
	t := &timing{}
	return measurement.Measurement{
		Use:   "timemap PATH...",
		Short: "hold onsets, lengths, ties and repeats of both readers against Verovio's timemap",
		Long: `timemap converts each score of some folders to MEI with Verovio, and compares when each note begins and ends,
as the readers of MusicXML and of MEI have it, with Verovio's timemap of the same score. Grace notes have no
time of their own there, and the keys of a rolled chord one after the other: what is struck at such a
moment is left out, and counted. The order of playing that signs of repetition ask for is compared with Verovio's
expansion. Times are compared within a fiftieth of a quarter.

Each difference is counted by its cause. A cause is shown, not guessed: where Verovio's own MEI, read here a second time and
otherwise, has our time in its ticks and the timemap's in its values, the two disagree in the file; what only the playing
moves has a grace note, a roll or a bracket in its measure. What nothing shows is listed and counted as unexplained.`,
		Args: cobra.MinimumNArgs(1),
		Flags: func(f *pflag.FlagSet) {
			f.IntVar(&t.every, "every", 1, "take every so many-th score")
			f.IntVar(&t.from, "from", 0, "the first of them, counted from 0")
			f.BoolVar(&t.list, "list", false, "list every note whose time differs")
			f.StringVar(&t.only, "only", "", "look only at scores with this in their names")
			f.StringVar(&t.keep, "keep", "", "folder in which both versions of each score are left")
		},
		Run: t.run,
	}.Command()
}

func (t *timing) run(ctx context.Context, out io.Writer, args []string) (err error) {
	t.out, t.reasons, t.causes = out, map[string]int{}, map[string]*[2]int{}
	if t.converter, err = openConverter(ctx); err != nil {
		return err
	}
	defer t.converter.close(ctx)
	t.table = figures.NewTable("folder", "scores", "failed", "measures", "other", "in MEI", "other", "onsets", "other", "in MEI", "other", "lengths", "other", "in MEI", "other",
		"ties", "other", "in MEI", "other", "repeats", "other order", "in MEI", "left out")
	for _, path := range args {
		t.sum = timed{}
		in, err := opendata.Slice(path, t.every, t.from)
		if err != nil {
			return err
		}
		for i := range in.Pieces {
			if !strings.Contains(in.Pieces[i].ID, t.only) {
				continue
			}
			if err := t.piece(ctx, in, &in.Pieces[i]); err != nil {
				t.sum.failed++
				t.reasons[reason(err)]++
				fmt.Fprintf(out, "%s: %v\n", in.Pieces[i].ID, err)
			}
		}
		s := &t.sum
		t.table.Row(path, s.scores, s.failed, s.bars[0], s.longBars[0], s.bars[1], s.longBars[1], s.onsets[0], s.late[0], s.onsets[1], s.late[1], s.lengths[0], s.longer[0],
			s.lengths[1], s.longer[1], s.ties[0], s.untied[0], s.ties[1], s.untied[1], s.order, s.reordered[0], s.reordered[1], s.skipped[0])
	}
	t.table.Print(out)
	list(out, "failures", t.reasons)
	t.printCauses()
	fmt.Fprintf(out, "measures whose begin or end the timemap does not say, of the last folder: %d, with %d notes that are not compared\n",
		t.sum.unplaced[0], t.sum.lost[0])
	return nil
}

func (t *timing) piece(ctx context.Context, in *corpus.Collection, p *corpus.Piece) error {
	both, err := t.converter.drawnPair(ctx, in, p)
	if err != nil {
		return err
	}
	if err := both.keep(t.keep); err != nil {
		return err
	}
	moments, err := t.converter.worker.Timemap(ctx)
	if err != nil {
		return fmt.Errorf("Verovio: %w", err)
	}
	scores := [2]*score.Score{}
	for i, data := range [2][]byte{both.musicxml, both.mei} {
		if scores[i], err = opendata.ParseScore(p.ID+[2]string{".musicxml", ".mei"}[i], data); err != nil {
			return err
		}
	}
	if t.written, err = writtenBy(both.musicxml, both.mei); err != nil {
		return err
	}
	there := times(moments, t.written)
	t.sum.scores++
	for i, s := range scores {
		t.compare(i, p.ID, s, there)
	}
	t.ties(p.ID, scores, both.mei)
	return t.repeats(p.ID, scores, both)
}

// stamps are when notes begin and end, and measures begin.
type stamps struct {
	begins, ends map[string]float64
	measures     []float64
}

// times reads a timemap. It names no measure twice, and leaves some out; the begin of those is no number.
func times(moments []engrave.Moment, w *written) stamps {
	begins, ends, out := map[string]float64{}, map[string]float64{}, stamps{}
	measures := map[string]float64{}
	for _, m := range moments {
		if m.Measure != "" {
			measures[m.Measure] = m.Quarters
		}
		for _, id := range m.On {
			if _, known := begins[id]; !known {
				begins[id] = m.Quarters
			}
		}
		for _, id := range m.Off {
			ends[id] = m.Quarters
		}
	}
	out.begins, out.ends = begins, ends
	for i := range w.measures {
		begin, known := measures[w.measures[i].id]
		if !known {
			begin = math.NaN()
		}
		out.measures = append(out.measures, begin)
	}
	return out
}

const within = 0.02 // quarters

// compare holds the onsets and lengths of one reading against the timemap.
func (t *timing) compare(format int, name string, s *score.Score, there stamps) {
	for i := range s.Measures { // a measure of another length moves all that follows
		if i+1 >= len(s.Measures) || i+1 >= len(there.measures) {
			break
		}
		if math.IsNaN(there.measures[i]) || math.IsNaN(there.measures[i+1]) {
			t.sum.unplaced[format]++
			continue
		}
		t.sum.bars[format]++
		if math.Abs(there.measures[i+1]-there.measures[i]-s.Measures[i].Length.Float()) > within {
			t.sum.longBars[format]++
			lasts := there.measures[i+1] - there.measures[i]
			t.because(format, "length of a measure", t.written.whyBar(i, s.Measures[i].Length.Float(), lasts), "%s (%d): m. %s lasts %s, there %.4f", name, format,
				s.Measures[i].Number, s.Measures[i].Length, lasts)
		}
	}
	late := map[string]bool{} // moments at which grace notes or rolled chords stand: what is struck there is late
	moment := func(part int, at score.Fraction) string { return fmt.Sprint(part, " ", at) }
	for i := range s.Notes {
		if n := &s.Notes[i]; n.Grace > 0 || n.Arpeggio.Rolled {
			late[moment(n.Part, s.At(i))] = true
		}
	}
	for i := range s.Notes {
		n := &s.Notes[i]
		begin, known := there.begins[n.ID]
		if !known || n.Measure >= len(there.measures) || n.Kind != score.Pitched || n.Grace > 0 || n.Cue || n.Hidden {
			continue
		}
		if math.IsNaN(there.measures[n.Measure]) {
			t.sum.lost[format]++
			continue
		}
		at, end := s.At(i), s.At(i).Add(n.Duration)
		if late[moment(n.Part, at)] {
			t.sum.skipped[format]++
			continue
		}
		t.sum.onsets[format]++
		if in := begin - there.measures[n.Measure]; math.Abs(in-n.Onset.Float()) > within {
			t.sum.late[format]++
			t.because(format, "onset", t.written.whyAt(n, in, 0, true), "%s (%d): %s, %s begins at %s, there at %.4f", name, format,
				s.Place(i), n.Pitch, n.Onset, in)
			continue
		}
		until, known := there.ends[n.ID]
		if !known || late[moment(n.Part, end)] {
			continue
		}
		t.sum.lengths[format]++
		if math.Abs(until-begin-n.Duration.Float()) > within {
			t.sum.longer[format]++
			t.because(format, "length", t.written.whyAt(n, 0, until-begin, false), "%s (%d): %s, %s lasts %s, there %.4f", name, format,
				s.Place(i), n.Pitch, n.Duration, until-begin)
		}
	}
}

// because counts a difference by its cause.
func (t *timing) because(reading int, what, why, format string, args ...any) {
	key := what + ": " + why
	if t.causes[key] == nil {
		t.causes[key] = &[2]int{}
	}
	t.causes[key][reading]++
	if t.list || why == unexplained {
		fmt.Fprintf(t.out, format+" ["+why+"]\n", args...)
	}
}

// printCauses says why readings and timemap differ, and of how many that is not known.
func (t *timing) printCauses() {
	table := figures.NewTable("what differs, and why", "MusicXML", "MEI")
	left := [2]int{}
	for _, key := range slices.Sorted(maps.Keys(t.causes)) {
		n := t.causes[key]
		table.Row(key, n[0], n[1])
		if strings.HasSuffix(key, unexplained) {
			left[0], left[1] = left[0]+n[0], left[1]+n[1]
		}
	}
	table.Print(t.out)
	fmt.Fprintf(t.out, "unexplained: %d in MusicXML, %d in MEI\n", left[0], left[1])
}

// ties holds which note continues which against Verovio's ties.
func (t *timing) ties(name string, scores [2]*score.Score, mei []byte) {
	document := etree.NewDocument()
	if document.ReadFromBytes(mei) != nil {
		return
	}
	to := map[string]string{}
	for _, e := range document.FindElements("//tie") {
		from, end := strings.TrimPrefix(e.SelectAttrValue("startid", ""), "#"), strings.TrimPrefix(e.SelectAttrValue("endid", ""), "#")
		if from != "" && end != "" {
			to[from] = end
		}
	}
	for format, s := range scores {
		ids := byID(s)
		for i := range s.Notes {
			n := &s.Notes[i]
			if n.Kind != score.Pitched || n.Grace > 0 || n.TiedTo < 0 && to[n.ID] == "" {
				continue
			}
			t.sum.ties[format]++
			if n.TiedTo < 0 || s.Notes[n.TiedTo].ID != to[n.ID] {
				t.sum.untied[format]++
				here := ""
				if n.TiedTo >= 0 {
					here = s.Notes[n.TiedTo].ID
				}
				t.because(format, "tie", whyTie(s, ids, i, to[n.ID]), "%s (%d): %s, %s (%s) is tied to %q, there to %q", name, format,
					s.Place(i), n.Pitch, n.ID, here, to[n.ID])
			}
		}
	}
}

// repeats holds the order of playing that the signs ask for against Verovio's expansion.
func (t *timing) repeats(name string, scores [2]*score.Score, both *pair) error {
	s := scores[0]
	document := etree.NewDocument()
	if err := document.ReadFromBytes(both.mei); err != nil {
		return fmt.Errorf("Verovio's MEI: %w", err)
	}
	expansion := document.FindElement("//expansion")
	any := slices.ContainsFunc(s.Measures, func(m score.Measure) bool { return m.Repeat.Backward || len(m.Endings) > 0 })
	if expansion == nil || !any {
		return nil
	}
	index := map[*etree.Element]int{}
	for i, m := range document.FindElements("//measure") {
		index[m] = i
	}
	var there []int
	for _, id := range strings.Fields(expansion.SelectAttrValue("plist", "")) {
		at := document.FindElement("//*[@xml:id='" + strings.TrimPrefix(id, "#") + "']")
		if at == nil {
			continue
		}
		for _, m := range at.FindElements(".//measure") {
			there = append(there, index[m])
		}
	}
	t.sum.order++
	for format, s := range scores {
		if here := score.OrderOfRepeats(s.Measures, false, 4*len(s.Measures)); !slices.Equal(here, there) {
			t.sum.reordered[format]++
			t.because(format, "order of playing", whyOrder(s, both.musicxml, there), "%s (%d): played in the order %v, there %v", name, format, here, there)
		}
	}
	return nil
}
