package formats

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/outsidechecks"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
	"fingerproof/pipeline"
	"fingerproof/policies"
)

// comparison runs pieces in both formats and counts what is not the same.
type comparison struct {
	every, from, most int
	list              bool
	onlyNamed         string // a part of the name of the scores to look at
	keep              string // folder for both versions of each score
	converter         *converter
	checks            *outsidechecks.Checks
	out               io.Writer

	folder          string
	pieces, failed  int
	reasons         map[string]int
	same            int // pieces of which every value that was read is the same
	notes, fingers  int // notes in both, and those whose fingers are not the same
	fingered        int // pieces of which every finger is the same
	findings, only  int // findings of both together, and those that one alone has
	decided, unlike int // decided notes, and those that stand at another note or at none
	valid, editions int
	untaken         int            // editions that could not be taken back to their bytes
	left            int            // notes whose finger differs though all losses were taken out of the MusicXML
	places, through map[string]int // by kind of loss: places that change fingers, and the fingers they change
	values          map[string]int
	rules           map[string]int
	whyFound        map[string]int                      // by rule and cause, the findings that one format alone has
	unsaid          int                                 // of them those without a cause
	whyElsewhere    map[string]int                      // decisions that stand elsewhere, by cause
	total           [3]struct{ all, other, unsaid int } // of fingers, decisions and findings, over all folders
	lines           []string                            // findings with their causes
	other           []string                            // pieces whose fingers differ, with what differs in what was read
	marked, sources [][]byte                            // editions, and what they were made of
	names           []string
}

func formatsCommand() *cobra.Command {
	c := &comparison{}
	return measurement.Measurement{
		Use:   "formats PATH...",
		Short: "read, finger, lint and mark the same pieces as MusicXML and as the MEI that Verovio makes of them",
		Long: `formats converts each score of some folders to MEI with Verovio, works out both, and compares note by note:
what was read, the fingers, the findings, and where decisions on the one stand in the other. The edition of
the MEI is taken back to its bytes, and held against the schema of MEI 5.1. What differs in what was read is
what Verovio does not carry over, or what the readers understand differently: it is listed by kind.

For each note whose finger differs the command says through what. It takes out of the MusicXML's reading what the
MEI's has lost or otherwise, works the piece out again, and asks for the finger that the note has in the MEI: what is
still another is counted as left. Then it gives back kind by kind and measure by measure what does not matter: a
loss is named where without it some finger is another again, or two are, of which only both together change it.
Findings that one format alone has, and decisions that stand elsewhere, are explained likewise. What a reader
reports (a tie to nowhere, a voice that is too short) is laid to the loss that stands in its measure. The end
counts what is the same, what is otherwise by a named loss, and what is unexplained.`,
		Args: cobra.MinimumNArgs(1),
		Flags: func(f *pflag.FlagSet) {
			f.IntVar(&c.every, "every", 1, "take every so many-th score")
			f.IntVar(&c.from, "from", 0, "the first of them, counted from 0")
			f.IntVar(&c.most, "most", 0, "take at most so many scores of a folder; 0: all")
			f.BoolVar(&c.list, "list", false, "list every note whose finger differs, and every finding that one format alone has")
			f.StringVar(&c.onlyNamed, "only", "", "look only at scores with this in their names")
			f.StringVar(&c.keep, "keep", "", "folder in which both versions of each score are left")
		},
		Run: c.run,
	}.Command()
}

func (c *comparison) run(ctx context.Context, out io.Writer, args []string) (err error) {
	c.out = out
	if c.converter, err = openConverter(ctx); err != nil {
		return err
	}
	defer c.converter.close(ctx)
	schemas, _ := shared.Find("schemas")
	if c.checks, err = outsidechecks.Open(filepath.Dir(schemas), out); err != nil {
		return err
	}
	defer c.checks.Close()
	table := figures.NewTable("folder", "scores", "failed", "read the same", "notes", "other fingers", "left with the losses", "pieces with none",
		"findings", "in one alone", "decided", "elsewhere", "editions", "valid", "not taken back")
	c.values, c.rules, c.reasons = map[string]int{}, map[string]int{}, map[string]int{}
	c.whyFound, c.whyElsewhere = map[string]int{}, map[string]int{}
	c.places, c.through = map[string]int{}, map[string]int{}
	for _, path := range args {
		in, err := opendata.Slice(path, c.every, c.from)
		if err != nil {
			return err
		}
		for i := range in.Pieces {
			if c.most > 0 && c.pieces+c.failed >= c.most {
				break
			}
			if !strings.Contains(in.Pieces[i].ID, c.onlyNamed) {
				continue
			}
			if err := c.piece(ctx, in, &in.Pieces[i]); err != nil {
				c.failed++
				c.reasons[reason(err)]++
				fmt.Fprintf(out, "%s: %v\n", in.Pieces[i].ID, err)
			}
		}
		if err := c.validate(); err != nil {
			return err
		}
		table.Row(path, c.pieces, c.failed, c.same, c.notes, c.fingers, c.left, c.fingered, c.findings, c.only, c.decided, c.unlike,
			c.editions, c.valid, c.untaken)
		for k, n := range [][2]int{{c.notes, c.fingers}, {c.decided, c.unlike}, {c.findings, c.only}} {
			c.total[k].all, c.total[k].other = c.total[k].all+n[0], c.total[k].other+n[1]
		}
		c.total[0].unsaid += c.left
		c.pieces, c.failed, c.same, c.notes, c.fingers, c.fingered, c.findings, c.only = 0, 0, 0, 0, 0, 0, 0, 0
		c.decided, c.unlike, c.editions, c.valid, c.untaken, c.left = 0, 0, 0, 0, 0, 0
	}
	table.Print(out)
	list(out, "what was read and is not the same, by kind (notes or signs)", c.values)
	list(out, "findings that one format alone has, by rule", c.rules)
	list(out, "why, by rule (a finding counts under each kind of loss by which it comes or goes)", c.whyFound)
	slices.Sort(c.lines)
	for _, line := range c.lines {
		fmt.Fprintln(out, "  "+line)
	}
	list(out, "decisions that stand elsewhere, why", c.whyElsewhere)
	list(out, "failures", c.reasons)
	why := figures.NewTable("what Verovio loses or changes that changes fingers", "places", "fingers")
	for _, kind := range slices.Sorted(maps.Keys(c.places)) {
		why.Row(kind+": "+becomes(kind), c.places[kind], c.through[kind])
	}
	why.Print(out)
	fmt.Fprintln(out, "pieces whose fingers differ, with what was read otherwise:")
	for _, line := range c.other {
		fmt.Fprintln(out, "  "+line)
	}
	c.total[1].unsaid, c.total[2].unsaid = c.whyElsewhere[unexplained], c.unsaid
	end := figures.NewTable("compared", "all", "same", "other by a named loss", "unexplained")
	for k, name := range []string{"fingers", "decisions", "findings of both formats"} {
		t := c.total[k]
		end.Row(name, t.all, t.all-t.other, t.other-t.unsaid, t.unsaid)
	}
	end.Print(out)
	return nil
}

// list prints counts, the largest first.
func list(out io.Writer, title string, counts map[string]int) {
	fmt.Fprintln(out, title+":")
	names := slices.Sorted(maps.Keys(counts))
	slices.SortStableFunc(names, func(a, b string) int { return counts[b] - counts[a] })
	for _, n := range names {
		fmt.Fprintf(out, "  %6d %s\n", counts[n], n)
	}
}

// reason is an error without the place at which it stands.
func reason(err error) string {
	first, _, _ := strings.Cut(err.Error(), "\n")
	if i := strings.Index(first, ": "); i > 0 {
		return first[i+2:]
	}
	return first
}

func (c *comparison) piece(ctx context.Context, in *corpus.Collection, p *corpus.Piece) error {
	both, err := c.converter.pairOf(ctx, in, p)
	if err != nil {
		return err
	}
	if err := both.keep(c.keep); err != nil {
		return err
	}
	a, err := ran(both.name+".musicxml", both.musicxml)
	if err != nil {
		return err
	}
	b, err := ran(both.name+".mei", both.mei)
	if err != nil {
		return fmt.Errorf("MEI: %w", err)
	}
	c.pieces++
	ids := byID(b.Score)
	to := make([]int, len(a.Score.Notes)) // which note of the MEI a note is, -1 for none
	for i := range to {
		to[i] = -1
		if n, there := ids[a.Score.Notes[i].ID]; there {
			to[i] = n
		}
	}
	read := c.compareValues(a.Score, b.Score, to)
	for kind, n := range read {
		c.values[kind] += n
	}
	if len(read) == 0 {
		c.same++
	}
	unlike := c.compareFingers(a, b, to)
	differ := len(unlike)
	c.fingers += differ
	if differ == 0 {
		c.fingered++
	} else {
		if err := c.because(a, b, to, unlike); err != nil {
			return err
		}
		var kinds []string
		for _, kind := range slices.Sorted(maps.Keys(read)) {
			kinds = append(kinds, fmt.Sprintf("%s %d", kind, read[kind]))
		}
		c.other = append(c.other, fmt.Sprintf("%s: %d fingers; %s", p.ID, differ, strings.Join(kinds, ", ")))
	}
	if err := c.compareFindings(a, b, to); err != nil {
		return err
	}
	c.compareDecisions(p.ID, a.Score, b.Score, to)
	c.edition(b)
	return nil
}

// ran works out a score.
func ran(name string, data []byte) (*pipeline.PieceRun, error) {
	w := programruns.Of(name, data, policies.Default())
	w.Edition = name
	return w, pipeline.RunPiece(w)
}

// edition takes an edition back, and keeps it to be held against the schema.
func (c *comparison) edition(w *pipeline.PieceRun) {
	c.editions++
	back, err := source.TakeBack(w.EditionData, w.Record, source.DefaultLimits())
	if err != nil || string(back) != string(w.Data) {
		c.untaken++
	}
	c.marked = append(c.marked, asVersion51(w.EditionData))
	c.sources = append(c.sources, asVersion51(w.Data))
	c.names = append(c.names, w.Piece.ID)
}

// asVersion51 sets the version back to that of the schema: Verovio writes MEI of a version to come.
func asVersion51(data []byte) []byte {
	return bytes.Replace(data, []byte(`meiversion="6.0-dev"`), []byte(`meiversion="5.1"`), 1)
}

// validate asks which editions are valid, and of those that are not whether their sources were.
func (c *comparison) validate() error {
	valid, err := c.checks.ValidMEI(c.marked)
	if err != nil {
		return err
	}
	var doubtful [][]byte
	var names []string
	for i, is := range valid {
		if is {
			c.valid++
		} else {
			doubtful, names = append(doubtful, c.sources[i]), append(names, c.names[i])
		}
	}
	before, err := c.checks.ValidMEI(doubtful)
	for i, was := range before {
		if was {
			fmt.Fprintf(c.out, "%s: the edition is not valid\n", names[i])
		} else {
			c.values["edition of a source that is not valid itself"]++
			c.editions--
		}
	}
	c.marked, c.sources, c.names = nil, nil, nil
	return err
}
