package suggestions

import (
	"cmp"
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
	"fingerproof/cmd/workbench/training"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/parallel"
)

// likeMeasures measures how far measures that one hand plays again are fingered alike.
type likeMeasures struct {
	policy       *policies.Policy
	every, fold  int
	shared, show string
}

func likeMeasuresCommand() *cobra.Command {
	m := &likeMeasures{}
	policy := ""
	return measurement.Measurement{
		Use:   "like-measures [PATH...]",
		Short: "measure how far measures that one hand plays again are fingered alike",
		Long: `like-measures holds each measure of a hand against the nearest one before it that has the same keys at the same times, and
where there is none against the nearest with the same shape on keys of the same colours. It tells how many are fingered alike, whole
and by note: those at most eight measures apart, and the others; and how many of those that have the same strokes beside them, before and
after. Measures with a digit that stands are counted by themselves. Of those
that are fingered otherwise it tells where and why: at a seam (the first stroke, or the last two, beside other music) or inside;
whether the program had tied the notes together as a return, a figure or a measure.

It measures the fingered material without its digits, and beside it print: measures of which print has two digits or more
at the same notes. With folders or collections named it measures these, digits that stand there bound.`,
		Args: cobra.ArbitraryArgs,
		Flags: func(f *pflag.FlagSet) {
			f.StringVar(&policy, "policy", "default", "policy file or shipped style")
			opendata.FolderFlag(f, &m.shared)
			f.IntVar(&m.every, "every", 1, "take every n-th score")
			f.IntVar(&m.fold, "fold", -1, "of the fingered material take one fold alone, with weights fitted on the others")
			f.StringVar(&m.show, "show", "", "list the places of one cause")
		},
		Run: func(_ context.Context, out io.Writer, args []string) (err error) {
			if m.policy, err = policies.Open(policy, "."); err != nil {
				return err
			}
			return m.measure(out, args)
		},
	}.Command()
}

// nearMeasures is how many measures apart two places lie at most that a reader sees beside each other.
const nearMeasures = 8

// likeGroup is what places are counted under.
type likeGroup struct {
	kind   parallel.Kind
	near   bool
	given  bool
	beside bool // the same strokes before and after
}

// likeCount counts measures and notes: those alike, and all.
type likeCount struct {
	measures, notes, printed, printedNotes [2]int
	causes                                 map[string]int
}

func (c *likeCount) join(o *likeCount) {
	for i := range 2 {
		c.measures[i] += o.measures[i]
		c.notes[i] += o.notes[i]
		c.printed[i] += o.printed[i]
		c.printedNotes[i] += o.printedNotes[i]
	}
	for k, n := range o.causes {
		c.causes[k] += n
	}
}

type likeCounts map[likeGroup]*likeCount

func (c likeCounts) of(g likeGroup) *likeCount {
	if c[g] == nil {
		c[g] = &likeCount{causes: map[string]int{}}
	}
	return c[g]
}

// measuredPiece is what one score gives.
type measuredPiece struct {
	counts likeCounts
	clean  [2]int // digits of print: those agreed with, and all
	shown  []string
	err    error
}

func (m *likeMeasures) measure(out io.Writer, paths []string) error {
	var jobs []func() (*pipeline.PieceRun, func(note int) fingering.Finger)
	if len(paths) == 0 {
		pieces, err := opendata.ReadPieces(opendata.Place(m.shared, "fingered"))
		if err != nil {
			return err
		}
		weights := effort.Delivered()
		if m.fold >= 0 {
			weights = training.Delivered(pieces, m.fold)
		}
		for i, p := range pieces {
			if i%m.every != 0 || m.fold >= 0 && p.Fold != m.fold {
				continue
			}
			jobs = append(jobs, func() (*pipeline.PieceRun, func(int) fingering.Finger) {
				return p.Prepare(p.Without(-1), m.policy, weights), func(note int) fingering.Finger {
					if r := p.RowOf(note); r != nil && r.Clean {
						return r.Finger
					}
					return 0
				}
			})
		}
	}
	for _, path := range paths {
		c, err := opendata.EveryNth(path, m.every)
		if err != nil {
			return err
		}
		for i := range c.Pieces {
			if c.Pieces[i].Fault == nil {
				jobs = append(jobs, func() (*pipeline.PieceRun, func(int) fingering.Finger) {
					return programruns.OfFile(c.Path(c.Pieces[i].Score), m.policy), nil
				})
			}
		}
	}
	sum, read, clean := likeCounts{}, 0, [2]int{}
	programruns.InOrder(len(jobs), func(i int) (got measuredPiece) {
		w, printed := jobs[i]()
		if got.err = programruns.UpTo(w, "suggest"); got.err == nil {
			got.counts, got.shown = m.count(w, printed)
			for n := 0; printed != nil && n < len(w.Score.Notes); n++ {
				if f := printed(n); f > 0 {
					got.clean[1]++
					if f == w.Suggestion.Notes[n].Finger {
						got.clean[0]++
					}
				}
			}
		}
		return got
	}, func(got measuredPiece) {
		if got.err != nil {
			fmt.Fprintln(out, got.err)
			return
		}
		read++
		clean[0], clean[1] = clean[0]+got.clean[0], clean[1]+got.clean[1]
		for g, c := range got.counts {
			sum.of(g).join(c)
		}
		for _, s := range got.shown {
			fmt.Fprintln(out, s)
		}
	})
	fmt.Fprintf(out, "%d scores", read)
	if clean[1] > 0 {
		fmt.Fprintf(out, "; clean digits agree at %s of %d", figures.Share(clean), clean[1])
	}
	fmt.Fprintln(out)
	sum.print(out)
	return nil
}

func (c likeCounts) print(out io.Writer) {
	for _, kind := range []parallel.Kind{parallel.Exact, parallel.Transposed} {
		for _, given := range []bool{false, true} {
			for _, near := range []bool{true, false} {
				n := &likeCount{causes: map[string]int{}}
				same := n
				for _, beside := range []bool{false, true} {
					same = c.of(likeGroup{kind, near, given, beside})
					n.join(same)
				}
				if n.measures[1] == 0 {
					continue
				}
				where, what := "farther", "free of digits"
				if near {
					where = "nearby"
				}
				if given {
					what = "with digits"
				}
				fmt.Fprintf(out, "%s, %s, %s: measures alike %s of %d, notes %s of %d", kind, where, what,
					figures.Share(n.measures), n.measures[1], figures.Share(n.notes), n.notes[1])
				fmt.Fprintf(out, "; with the same strokes beside them %s of %d", figures.Share(same.measures), same.measures[1])
				if n.printed[1] > 0 {
					fmt.Fprintf(out, "; in print measures %s of %d, digits %s of %d, with the same strokes beside them %s of %d",
						figures.Share(n.printed), n.printed[1], figures.Share(n.printedNotes), n.printedNotes[1],
						figures.Share(same.printedNotes), same.printedNotes[1])
				}
				fmt.Fprintln(out)
				var causes []string
				for cause := range n.causes {
					causes = append(causes, cause)
				}
				slices.SortFunc(causes, func(a, b string) int {
					return cmp.Or(cmp.Compare(n.causes[b], n.causes[a]), cmp.Compare(a, b))
				})
				for _, cause := range causes {
					fmt.Fprintf(out, "  %5d %s\n", n.causes[cause], cause)
				}
			}
		}
	}
}

// count looks at the measures of one score.
func (m *likeMeasures) count(w *pipeline.PieceRun, printed func(note int) fingering.Finger) (likeCounts, []string) {
	out, shown := likeCounts{}, []string(nil)
	like := parallel.NewLike(w.Score, w.Playing)
	tied := tiedTogether(w)
	for l := range w.Playing.Lines {
		for measure := range w.Score.Measures {
			before := m.nearestBefore(w, like.Measures(l, measure), measure)
			if before == nil {
				continue
			}
			p := likePair{w: w, before: before.To, now: before.From, tied: tied}
			g := likeGroup{before.Kind, measure-before.Measure <= nearMeasures, p.given(), p.goesOn(0, -1) && p.goesOn(len(p.now)-1, 1)}
			n := out.of(g)
			cause := p.cause()
			n.measures[1]++
			if cause == "" {
				n.measures[0]++
			} else {
				n.causes[cause]++
				if m.show != "" && m.show == cause {
					shown = append(shown, fmt.Sprintf("%s, %s, m. %s and %s: %s and %s", w.Piece.ID, w.Playing.Lines[l].Hand,
						w.Score.Measures[before.Measure].Number, w.Score.Measures[measure].Number, p.fingers(p.before), p.fingers(p.now)))
				}
			}
			known, right := 0, 0
			for k := range p.now {
				n.notes[1]++
				if p.same(k) {
					n.notes[0]++
				}
				if printed == nil {
					continue
				}
				if a, b := printed(p.before[k]), printed(p.now[k]); a > 0 && b > 0 {
					known++
					if a == b {
						right++
					}
				}
			}
			n.printedNotes[0] += right
			n.printedNotes[1] += known
			if known >= 2 {
				n.printed[1]++
				if right == known {
					n.printed[0]++
				}
			}
		}
	}
	return out, shown
}

// nearestBefore gives the nearest measure before with the same keys, else with the same shape on keys of the same
// colours; nil where there is none.
func (m *likeMeasures) nearestBefore(w *pipeline.PieceRun, all []parallel.LikeMeasure, measure int) (best *parallel.LikeMeasure) {
	for i := range all {
		o := &all[i]
		if o.Measure >= measure || o.Kind == parallel.Transposed && !sameShape(w, o) {
			continue
		}
		if best == nil || o.Kind == best.Kind && o.Measure > best.Measure {
			best = o
		}
	}
	return best
}

// sameShape says that all keys lie as far from those of the other measure, and on keys of the same colours.
func sameShape(w *pipeline.PieceRun, o *parallel.LikeMeasure) bool {
	for k := range o.From {
		a, b := w.Score.Notes[o.From[k]].Midi, w.Score.Notes[o.To[k]].Midi
		if b-a != o.Shift || hand.Black(a) != hand.Black(b) {
			return false
		}
	}
	return true
}

// tiedTogether numbers what the program has tied together, by note: notes with one number follow one another. 0 is for
// notes that follow nothing and are followed by nothing.
func tiedTogether(w *pipeline.PieceRun) []int {
	root := make([]int, len(w.Score.Notes))
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			i = root[i]
		}
		return i
	}
	for _, list := range [][]parallel.Return{w.Returns, w.Suggestion.Figures} {
		for _, r := range list {
			for k := range r.Later {
				a, b := find(r.First[k]), find(r.Later[k])
				root[max(a, b)] = min(a, b)
			}
		}
	}
	for i := range root {
		root[i] = find(i)
	}
	return root
}

// likePair is two measures of one hand, note for note.
type likePair struct {
	w           *pipeline.PieceRun
	before, now []int
	tied        []int
}

func (p *likePair) finger(note int) fingering.Finger { return p.w.Suggestion.Notes[note].Finger }

func (p *likePair) same(k int) bool { return p.finger(p.before[k]) == p.finger(p.now[k]) }

func (p *likePair) fingers(notes []int) (out string) {
	for k, n := range notes {
		if k > 0 && p.w.Playing.Stroke(n) != p.w.Playing.Stroke(notes[k-1]) {
			out += " "
		}
		out += fmt.Sprint(p.finger(n))
	}
	return out
}

// given says that a digit stands at any of the notes.
func (p *likePair) given() bool {
	for k := range p.now {
		if p.w.Suggestion.Notes[p.now[k]].Given > 0 || p.w.Suggestion.Notes[p.before[k]].Given > 0 {
			return true
		}
	}
	return false
}

// cause says why the measures are fingered otherwise; empty where they are not.
func (p *likePair) cause() string {
	otherwise, seam, together, given := false, true, true, false
	strokes := 0
	for k := range p.now {
		if k == 0 || p.w.Playing.Stroke(p.now[k]) != p.w.Playing.Stroke(p.now[k-1]) {
			strokes++
		}
	}
	at := 0
	for k := range p.now {
		if k > 0 && p.w.Playing.Stroke(p.now[k]) != p.w.Playing.Stroke(p.now[k-1]) {
			at++
		}
		if p.same(k) {
			continue
		}
		otherwise = true
		first, last := at == 0 && !p.goesOn(0, -1), at >= strokes-2 && !p.goesOn(len(p.now)-1, 1)
		seam = seam && (first || last)
		together = together && p.tied[p.now[k]] == p.tied[p.before[k]]
		given = given || p.w.Suggestion.Notes[p.now[k]].Given > 0 || p.w.Suggestion.Notes[p.before[k]].Given > 0
	}
	switch {
	case !otherwise:
		return ""
	case given:
		return "a digit stands there"
	}
	out := "inside"
	if seam {
		out = "at a seam"
	}
	switch {
	case together:
		return out + ", tied together"
	case strokes < 4:
		return out + ", not tied together, fewer than 4 strokes"
	case !p.heldAlike():
		return out + ", not tied together, other keys held"
	case len(p.now) > strokes:
		return out + ", not tied together, with chords"
	}
	return out + ", not tied together, single keys"
}

// goesOn says that the stroke beside a note is the same for both measures.
func (p *likePair) goesOn(k, step int) bool {
	a, b := p.beside(p.before[k], step), p.beside(p.now[k], step)
	if len(a) != len(b) {
		return false
	}
	shift := p.w.Score.Notes[p.now[0]].Midi - p.w.Score.Notes[p.before[0]].Midi
	for i := range a {
		if p.w.Score.Notes[b[i]].Midi-p.w.Score.Notes[a[i]].Midi != shift {
			return false
		}
	}
	return true
}

func (p *likePair) beside(note, step int) []int {
	l, st := p.w.Playing.LineOf(note), p.w.Playing.Stroke(note)
	if st == nil || st.Index+step < 0 || st.Index+step >= len(l.Strokes) {
		return nil
	}
	return l.Strokes[st.Index+step].Notes
}

// heldAlike says that as many keys are held at each stroke of both measures.
func (p *likePair) heldAlike() bool {
	for k := range p.now {
		a, b := p.w.Playing.Stroke(p.before[k]), p.w.Playing.Stroke(p.now[k])
		if a != nil && b != nil && len(a.Held) != len(b.Held) {
			return false
		}
	}
	return true
}
