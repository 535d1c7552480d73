package agreement

import (
	"cmp"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/training"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
)

func panelCommand() *cobra.Command {
	var shared, policy, out, draw string
	var judged []string
	var count, around int
	c := &cobra.Command{
		Use:   "panel",
		Short: "draw disagreements with print for readers who are not told which fingering is which",
		Long: `panel takes the fingered material through the program, with weights that have not seen the fold, draws some of the clean digits that
differ from print (the same ones for the same --draw, one from a passage), and writes each with the notes around it and two whole fingerings: the program's,
and print's digits with the program's fingers between them. Which is which stands in a file of its own, key.tsv.

EXIT STATUS
  0  written
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
			cases, err := panelCases(pieces, p, around, draw)
			if err != nil {
				return err
			}
			taken, err := judgedBefore(judged)
			if err != nil {
				return err
			}
			return writePanel(out, drawPanel(cases, taken, count))
		},
	}
	f := c.Flags()
	f.StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	f.StringVar(&policy, "policy", "default", "policy file or shipped style")
	f.StringVar(&out, "out", "panel", "folder to write to")
	f.StringVar(&draw, "draw", "", "any word: another word draws other places")
	f.StringSliceVar(&judged, "judged", nil, "key.tsv of panels judged before, whose passages are not drawn again")
	f.IntVar(&count, "count", 100, "how many to draw")
	f.IntVar(&around, "around", 12, "how many strokes to show on each side")
	return c
}

// panelCase is one place where the program and print differ.
type panelCase struct {
	rank  uint32 // a sum of its place: by it cases are drawn and the two fingerings laid out
	place string
	where string // piece, hand and measures, for spreading the draw
	text  func(first, second []int) string
	ours  []int // by note of the score
	print []int
}

func panelCases(programs []*opendata.Piece, policy *policies.Policy, around int, draw string) ([]panelCase, error) {
	var all []panelCase
	var mu sync.Mutex
	err := training.EachFold(programs, 5, func(fold int, delivered *effort.Weights) error {
		for _, p := range programs {
			if p.Fold != fold {
				continue
			}
			free, err := p.Run(p.Without(-1), policy, delivered)
			if err != nil {
				return err
			}
			bound, err := p.Run(p.Printed(), policy, delivered)
			if err != nil {
				return err
			}
			cases := casesOf(p, free, bound, around, draw)
			mu.Lock()
			all = append(all, cases...)
			mu.Unlock()
		}
		return nil
	})
	return all, err
}

func casesOf(p *opendata.Piece, free, bound *pipeline.PieceRun, around int, draw string) (out []panelCase) {
	fingersOf := func(w *pipeline.PieceRun) []int {
		f := make([]int, len(w.Suggestion.Notes))
		for n := range f {
			f[n] = int(w.Suggestion.Notes[n].Finger)
		}
		return f
	}
	ours, print := fingersOf(free), fingersOf(bound)
	suggest.EachLine(free.SuggestInput(), func(player int, h score.Hand, notes []fingering.Note) {
		line := fingering.NewLine(fingering.HandOf(h), notes, free.Profile.Fits)
		for e := range line.Events {
			for _, k := range line.Events[e].Keys {
				id := line.Strikes[k.Strike].IDs[0]
				r := p.RowOf(id)
				if !k.Struck || r == nil || !r.Clean || int(r.Finger) == ours[id] || int(r.Finger) != print[id] {
					continue
				}
				place := fmt.Sprintf("%s note %d", p.Name, id)
				out = append(out, panelCase{
					rank: crc32.ChecksumIEEE([]byte(draw + place)), place: place, ours: ours, print: print,
					where: fmt.Sprintf("%s %s %d", p.Name, h, free.Score.Notes[id].Measure/4),
					text:  func(first, second []int) string { return drawCase(p, free, h, line, e, id, around, first, second) },
				})
			}
		}
	})
	return out
}

// drawCase writes the strokes about event e with two fingerings, one stroke a line, and what the other hands do meanwhile.
func drawCase(p *opendata.Piece, w *pipeline.PieceRun, h score.Hand, line *fingering.Line, e, asked, around int, first, second []int) string {
	var b strings.Builder
	m := &w.Score.Measures[w.Score.Notes[asked].Measure]
	fmt.Fprintf(&b, "%s hand, metre %s, key signature %+d, %d to %d beats a minute.\n\n",
		map[score.Hand]string{score.Right: "Right", score.Left: "Left"}[h], m.Beats, m.Fifths, w.Tempo.Low, w.Tempo.High)
	fmt.Fprintf(&b, "%-8s %-24s %-32s %-10s %-10s %s\n", "measure", "beat", "keys (length in quarters)", "A", "B", "other hand")
	last := min(e+around, len(line.Events)-1)
	for o := max(e-around, 0); o <= last; o++ {
		var names, a, c []string
		id := -1
		for _, k := range keysUp(line, o) {
			s := &line.Strikes[k.Strike]
			if s.IDs[0] >= len(w.Score.Notes) {
				continue
			}
			n := &w.Score.Notes[s.IDs[0]]
			f, g := fmt.Sprint(first[s.IDs[0]]), fmt.Sprint(second[s.IDs[0]])
			if !k.Struck {
				names, a, c = append(names, "["+n.Pitch.String()+"]"), append(a, "["+f+"]"), append(c, "["+g+"]")
				continue
			}
			id = s.IDs[0]
			mark := ""
			if r := p.RowOf(id); r != nil && r.Clean {
				mark = "'"
			}
			if id == asked {
				mark = "*"
			}
			names, a, c = append(names, keyAndLength(n, s)), append(a, f+mark), append(c, g+mark)
		}
		if id < 0 {
			continue
		}
		if o+1 < len(line.Events) && !line.Events[o+1].Joined {
			names[len(names)-1] += "."
		}
		n, until := &w.Score.Notes[id], w.Score.At(id).Add(w.Score.Notes[id].Duration)
		if o < last {
			until = score.Frac(line.Events[o+1].Onset.Num, line.Events[o+1].Onset.Den)
		}
		fmt.Fprintf(&b, "%-8s %-24s %-32s %-10s %-10s %s\n", w.Score.Measures[n.Measure].Number, w.Score.Beat(n.Measure, n.Onset),
			strings.Join(names, " "), strings.Join(a, " "), strings.Join(c, " "), elsewhere(w, h, w.Score.At(id), until))
	}
	return b.String()
}

func keyAndLength(n *score.Note, s *fingering.Strike) string {
	name := fmt.Sprintf("%s(%s)", n.Pitch, n.Duration)
	if n.Grace > 0 {
		name = n.Pitch.String() + "(grace)"
	}
	if s.Slurred {
		name += ">"
	}
	if n.Marks&score.LetGo != 0 {
		name += "!"
	}
	return name
}

// elsewhere lists what other hands strike from a moment until another: what comes with the stroke, and after a comma
// what comes after it.
func elsewhere(w *pipeline.PieceRun, h score.Hand, from, until score.Fraction) string {
	var with, after []string
	for l := range w.Playing.Lines {
		other := &w.Playing.Lines[l]
		if other.Hand == h {
			continue
		}
		for _, s := range other.Strokes {
			if s.At.Cmp(from) < 0 || s.At.Cmp(until) >= 0 {
				continue
			}
			var keys []string
			for _, n := range s.Notes {
				keys = append(keys, w.Score.Notes[n].Pitch.String())
			}
			if text := strings.Join(keys, "+"); s.At.Cmp(from) == 0 {
				with = append(with, text)
			} else {
				after = append(after, text)
			}
		}
	}
	if len(after) == 0 {
		return strings.Join(with, " ")
	}
	return strings.TrimSpace(strings.Join(with, " ") + ", then " + strings.Join(after, " "))
}

// keysUp lists the keys that are down at an event, the lowest on the keyboard first.
func keysUp(line *fingering.Line, e int) (out []fingering.Sounding) {
	out = slices.Clone(line.Events[e].Keys)
	if line.Hand == fingering.Left {
		slices.Reverse(out)
	}
	return out
}

// judgedBefore gives the places that stand in the keys of earlier panels.
func judgedBefore(keys []string) (map[string]bool, error) {
	places := map[string]bool{}
	for _, path := range keys {
		content, err := os.ReadFile(path)
		if err != nil {
			return nil, fmt.Errorf("reading an earlier panel: %w", err)
		}
		lines := strings.Split(strings.TrimSpace(string(content)), "\n")
		for i, row := range lines {
			cells := strings.Split(row, "\t")
			if len(cells) != 4 {
				return nil, fmt.Errorf("reading an earlier panel: %s:%d: %d columns, not case, A, B and place", path, i+1, len(cells))
			}
			places[cells[3]] = true
		}
	}
	return places, nil
}

// drawPanel takes cases in the order of their ranks, one of each stretch of four measures, and none of a stretch that
// was judged before.
func drawPanel(all []panelCase, judged map[string]bool, count int) (out []panelCase) {
	slices.SortFunc(all, func(a, b panelCase) int {
		return cmp.Or(cmp.Compare(a.rank, b.rank), strings.Compare(a.place, b.place))
	})
	taken := map[string]bool{}
	for _, c := range all {
		if judged[c.place] {
			taken[c.where] = true
		}
	}
	for _, c := range all {
		if len(out) < count && !taken[c.where] {
			taken[c.where] = true
			out = append(out, c)
		}
	}
	return out
}

func writePanel(dir string, cases []panelCase) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("writing a panel: %w", err)
	}
	var text, key strings.Builder
	text.WriteString(`Two fingerings of the same notes, A and B. Judge as a pianist who has to play the passage, and say for each case one of:
A (clearly better), B (clearly better), equal (both are good, or a matter of taste), neither (both are bad), with a few words why.
Nothing tells which of the two is printed. One is an edition's, whose digits stand where there is a ' or a *, with the fingers between them filled
in by a program; the other is a program's alone. Notes without a mark may be fingered alike or otherwise.

Each line is one stroke of the hand. Keys stand lowest first, fingers in the same order. * stands at the note asked about. [C4] is a key that is
held on from before, with the finger that holds it. > the slur leads on to the next stroke, ! a mark asks to let the key go, . no key of this
stroke is held to the next one. At the right: what the other hand strikes with the stroke and, after "then", before the next one.
`)
	key.WriteString("case\tA\tB\tplace\n")
	for i, c := range cases {
		first, second, a, b := c.ours, c.print, "program", "print"
		if crc32.ChecksumIEEE([]byte("side "+c.place))&1 == 1 {
			first, second, a, b = second, first, b, a
		}
		fmt.Fprintf(&text, "\nCase %d. %s", i+1, c.text(first, second))
		fmt.Fprintf(&key, "%d\t%s\t%s\t%s\n", i+1, a, b, c.place)
	}
	for name, content := range map[string]string{"cases.txt": text.String(), "key.tsv": key.String()} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(content), 0o644); err != nil {
			return fmt.Errorf("writing a panel: %w", err)
		}
	}
	return nil
}
