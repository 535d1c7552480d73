package findings

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"
)

// drawCommand draws findings at random for readers who judge whether they are right.
func drawCommand() *cobra.Command {
	d := findingsDraw{each: 50, seed: 1}
	every, dir, rules := 1, "", ""
	var judged []string
	return measurement.Measurement{
		Use:   "draw-findings PATH...",
		Short: "draw findings at random from scores, with the notes around them, for readers who judge them",
		Long: `draw-findings lints folders or collections of scores and draws findings at random, as many of each severity as
--each says. Each goes into a file of its own: what lint says, and the notes of the measures around as text. The
README beside them says how a reader writes down a verdict.`,
		Args: cobra.MinimumNArgs(1),
		Flags: func(f *pflag.FlagSet) {
			f.IntVar(&every, "every", 1, "take every so many-th score")
			f.IntVar(&d.each, "each", d.each, "how many findings of each severity")
			f.Uint64Var(&d.seed, "seed", d.seed, "seed of the draw")
			f.StringVar(&dir, "draw", "", "the folder to write to")
			f.StringVar(&rules, "rules", "", "only findings of these rules, separated by commas")
			f.StringSliceVar(&judged, "judged", nil, "folders of draws judged before: no warning or note of their pieces")
		},
		Run: func(ctx context.Context, out io.Writer, args []string) error {
			if dir == "" {
				return fmt.Errorf("there is nowhere to write to\nhint: name a folder with --draw")
			}
			if rules != "" {
				d.rules = strings.Split(rules, ",")
			}
			if err := d.leaveOutPiecesOf(judged); err != nil {
				return err
			}
			for _, path := range args {
				c, err := opendata.EveryNth(path, every)
				if err != nil {
					return err
				}
				if err := programruns.OfCollection(ctx, out, c, policies.Default(), d.take); err != nil {
					return err
				}
			}
			return d.write(out, dir)
		},
	}.Command()
}

// drawn is a finding with what a reader needs to judge it.
type drawn struct {
	key      uint64 // by which it is drawn
	severity string
	text     string
}

// findingsDraw draws findings.
type findingsDraw struct {
	each  int
	seed  uint64
	rules []string
	seen  map[string]bool    // pieces of which warnings and notes were judged before
	of    map[string][]drawn // by severity
	count map[string]int
	piece int
}

// leaveOutPiecesOf notes the pieces of earlier draws, so that a later reading judges the rules on music that no mend
// was made for.
func (d *findingsDraw) leaveOutPiecesOf(folders []string) error {
	d.seen = map[string]bool{}
	for _, folder := range folders {
		files, err := filepath.Glob(filepath.Join(folder, "*.txt"))
		if err == nil && len(files) == 0 {
			err = fmt.Errorf("no findings in it")
		}
		if err != nil {
			return fmt.Errorf("reading the draw of %s: %w", folder, err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				return fmt.Errorf("reading a finding drawn before: %w", err)
			}
			head, _, _ := strings.Cut(string(text), "\n")
			d.seen[strings.TrimPrefix(head, "piece: ")] = true
		}
	}
	return nil
}

// take keeps the findings of a piece that are among those drawn so far: those of the least keys.
func (d *findingsDraw) take(w *pipeline.PieceRun) {
	if d.of == nil {
		d.of, d.count = map[string][]drawn{}, map[string]int{}
	}
	d.piece++
	rng := rand.New(rand.NewPCG(d.seed, uint64(d.piece)))
	for i := range w.Result.Findings {
		f := &w.Result.Findings[i]
		key := rng.Uint64()
		if len(d.rules) > 0 && !slices.Contains(d.rules, f.Rule) || d.seen[w.Piece.ID] && f.Severity != "error" {
			continue
		}
		d.count[f.Severity]++
		of := d.of[f.Severity]
		if len(of) >= d.each && key >= of[len(of)-1].key {
			continue
		}
		of = append(of, drawn{key, f.Severity, readersText(w, f)})
		slices.SortFunc(of, func(a, b drawn) int { return cmp.Compare(a.key, b.key) })
		d.of[f.Severity] = of[:min(len(of), d.each)]
	}
}

// readersText is what a reader gets: the finding, then the notes of its measure and those beside it.
func readersText(w *pipeline.PieceRun, f *state.Finding) string {
	s, p := w.Score, w.Playing
	if w.Page != nil {
		s, p = w.Page.Score, w.Page.Playing
	}
	var b strings.Builder
	fmt.Fprintf(&b, "piece: %s\nrule: %s\nseverity: %s\nlint says: %s\n", w.Piece.ID, f.Rule, f.Severity, f.Advice())
	fmt.Fprintf(&b, "the hand of the policy: %s\n", w.Profile.Description())
	marked := map[int]bool{}
	for _, n := range f.Notes {
		marked[n] = true
	}
	for m := max(f.MeasureIndex-1, 0); m <= min(f.MeasureIndex+1, len(s.Measures)-1); m++ {
		x := &s.Measures[m]
		fmt.Fprintf(&b, "\nm. %s (%s, key %+d, %s quarters long%s)\n", x.Number, x.Beats, x.Fifths, x.Length, measureSigns(x))
		for i := range s.Directions {
			if dir := &s.Directions[i]; dir.Measure == m && s.Parts[dir.Part].Keyboard && directionNames[dir.Kind] != "" {
				fmt.Fprintf(&b, "   at %-6s staff %d: %s %q%s\n", dir.Onset, dir.Staff, directionNames[dir.Kind], dir.Text,
					lineEnd(dir))
			}
		}
		for n := range s.Notes {
			note := &s.Notes[n]
			if note.Measure != m || !p.Plays(n) && note.Kind == score.Pitched || !s.Parts[note.Part].Keyboard {
				continue
			}
			sign := " "
			if marked[n] {
				sign = "*"
			}
			fmt.Fprintf(&b, " %s at %-6s %s\n", sign, note.Onset, noteText(s, n, p.Hand(n)))
		}
	}
	return b.String()
}

// directionNames are the directions that readers are shown.
var directionNames = map[score.DirectionKind]string{
	score.Words: "words", score.TempoMark: "tempo", score.Dynamics: "dynamics", score.Wedge: "hairpin",
	score.Pedal: "pedal", score.OctaveShift: "octave line", score.HandSign: "hand sign", score.Bracket: "bracket",
}

func measureSigns(m *score.Measure) string {
	out := ""
	if m.Repeat.Forward {
		out += ", repeat begins"
	}
	if m.Repeat.Backward {
		out += ", repeat ends"
	}
	if len(m.Endings) > 0 {
		out += fmt.Sprintf(", ending %v", m.Endings)
	}
	if m.Implicit {
		out += ", not counted"
	}
	return out
}

func lineEnd(d *score.Direction) string {
	switch {
	case d.Start:
		return " begins"
	case d.Stop:
		return " ends"
	}
	return ""
}

// noteText is a note in a line: hand, staff, voice, pitch, how long, and what stands at it.
func noteText(s *score.Score, n int, hand score.Hand) string {
	note := &s.Notes[n]
	what := note.Pitch.String()
	if note.Kind != score.Pitched {
		what = "rest"
	}
	out := fmt.Sprintf("%-10s staff %d voice %-2s %-5s for %-5s %s%s", hand.Words(), note.Staff, note.Voice, what,
		note.Duration, note.Type, strings.Repeat(".", note.Dots))
	for _, x := range []struct {
		is   bool
		text string
	}{
		{note.Grace > 0, "grace note"}, {note.TieStop, "tied from before"}, {note.TieStart, "tied on"},
		{note.Arpeggio.Rolled, "rolled"}, {note.Tremolo.Strokes > 0, "tremolo"}, {len(note.Ornaments) > 0, "ornament"},
		{note.Marks&score.LetGo != 0, "staccato"}, {note.Tuplet.Actual > 0,
			fmt.Sprintf("%d in the time of %d", note.Tuplet.Actual, note.Tuplet.Normal)},
	} {
		if x.is {
			out += ", " + x.text
		}
	}
	for _, slur := range note.Slurs {
		out += map[bool]string{true: ", slur begins", false: ", slur ends"}[slur.Start]
	}
	for k := range note.Indications {
		out += ", digit " + note.Indications[k].Text
	}
	return out
}

// write puts the findings drawn into files, in the order of their keys, and says how verdicts are written.
func (d *findingsDraw) write(out io.Writer, dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("making a folder for the findings: %w", err)
	}
	number := 0
	for _, severity := range []string{"error", "warning", "note"} {
		for _, f := range d.of[severity] {
			number++
			name := filepath.Join(dir, fmt.Sprintf("%03d.txt", number))
			if err := os.WriteFile(name, []byte(f.text), 0o644); err != nil {
				return fmt.Errorf("writing a finding: %w", err)
			}
		}
		fmt.Fprintf(out, "%d of %d findings of severity %s\n", len(d.of[severity]), d.count[severity], severity)
	}
	if err := os.WriteFile(filepath.Join(dir, "README"), []byte(verdicts), 0o644); err != nil {
		return fmt.Errorf("writing how to judge: %w", err)
	}
	return nil
}

// verdicts is what a reader is asked.
const verdicts = `Each file NNN.txt holds one finding of lint about a real piano score, and the notes around it as text. Onsets and
lengths are in quarters; * stands at the notes that the finding names. Both hands of the piano are given, other parts
are left out. "m. 12" is the printed measure number.

A pianist and editor is to say of each: is it RIGHT? Is what it says true of the notes, and is it worth the attention
that its severity asks for: an error must be mended before press; a warning is to be looked at by the editor, and mostly
something has to be done; a note is worth knowing for the editor or the player, and may be let stand.

Write one line for each finding into a file of your own, and judge each for itself:

    NNN right
    NNN wrong WHY IN A FEW WORDS
    NNN unsure WHAT YOU WOULD NEED TO SEE

"wrong" is what is not true, and what is true but nobody would want to hear. Say nothing to other readers.
`
