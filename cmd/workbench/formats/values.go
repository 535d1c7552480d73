package formats

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/rules/lint"
)

// compareValues counts by kind what two readings of a piece have differently; to says which note of the second a note
// of the first is.
func (c *comparison) compareValues(a, b *score.Score, to []int) map[string]int {
	out := map[string]int{}
	differ := func(kind string, is bool) {
		if is {
			out[kind]++
		}
	}
	for i := range a.Notes {
		x := &a.Notes[i]
		if to[i] < 0 {
			switch {
			case x.Kind == score.Rest && x.Hidden:
				out["hidden rest lost"]++
			case x.Kind == score.Rest:
				out["rest lost"]++
			case x.Cue:
				out["cue note lost"]++
			default:
				out["note lost"]++
			}
			continue
		}
		y := &b.Notes[to[i]]
		differ("kind", x.Kind != y.Kind)
		differ("measure", x.Measure != y.Measure)
		differ("onset", x.Onset != y.Onset)
		differ("duration", x.Duration != y.Duration)
		if x.Kind != score.Pitched || y.Kind != score.Pitched {
			continue
		}
		differ("pitch", x.Midi != y.Midi)
		differ("tied from", x.TiedFrom >= 0 != (y.TiedFrom >= 0))
		differ("staff", x.Staff != y.Staff)
		differ("home staff", x.HomeStaff != y.HomeStaff)
		differ("grace", x.Grace != y.Grace || x.GraceAfter != y.GraceAfter)
		differ("cue", x.Cue != y.Cue)
		differ("there by a sign that repeats", x.BySign != y.BySign)
		differ("slur ends", ends(x) != ends(y))
		differ("articulation", x.Marks != y.Marks)
		differ("arpeggio", x.Arpeggio.Rolled != y.Arpeggio.Rolled || x.Arpeggio.Down != y.Arpeggio.Down)
		differ("rolls of both staves joined to one", x.Arpeggio.Number > 0 != (y.Arpeggio.Number > 0))
		differ("tremolo", x.Tremolo != y.Tremolo)
		differ("ornament", !slices.Equal(x.Ornaments, y.Ornaments))
		differ("tuplet", x.Tuplet != y.Tuplet)
		differ("digits", digits(x) != digits(y))
		differ("change or alternative among digits", digits(x) == digits(y) && roles(x) != roles(y))
		differ("beam", x.BeamGroup > 0 != (y.BeamGroup > 0))
	}
	x, y := slurs(a), slurs(b)
	for from, end := range x { // only counted: any order will do
		if to[from] >= 0 && to[end] >= 0 {
			other, there := y[to[from]]
			differ("slur that is joined otherwise", there && other != to[end])
		}
	}
	for i := range min(len(a.Measures), len(b.Measures)) {
		x, y := &a.Measures[i], &b.Measures[i]
		differ("repeat sign", x.Repeat != y.Repeat)
		differ("ending", !slices.Equal(x.Endings, y.Endings))
		differ("metre", x.Beats != y.Beats || x.Nominal != y.Nominal)
		differ("key signature", x.Fifths != y.Fifths)
		differ("length of a measure", x.Length != y.Length)
		differ("upbeat or split measure", x.Implicit != y.Implicit)
	}
	differ("number of measures", len(a.Measures) != len(b.Measures))
	differ("parts", len(a.Parts) != len(b.Parts))
	for i := range min(len(a.Parts), len(b.Parts)) {
		differ("which part is a keyboard", a.Parts[i].Keyboard != b.Parts[i].Keyboard)
	}
	c.compareDirections(a, b, out)
	return out
}

// slurs gives by its first note where a slur ends, of notes at which one begins, as numbers are followed.
func slurs(s *score.Score) map[int]int {
	out := map[int]int{}
	open := map[[2]int]int{}
	for i := range s.Notes {
		n := &s.Notes[i]
		for _, end := range n.Slurs {
			key := [2]int{n.Part, end.Number}
			if from, is := open[key]; is && !end.Start {
				out[from] = i
				delete(open, key)
			}
		}
		if c := ends(n); c[0] == 1 {
			for _, begin := range n.Slurs {
				if begin.Start {
					open[[2]int{n.Part, begin.Number}] = i
				}
			}
		}
	}
	return out
}

// ends are how many slurs begin and end at a note.
func ends(n *score.Note) (c [2]int) {
	for _, s := range n.Slurs {
		if s.Start {
			c[0]++
		} else {
			c[1]++
		}
	}
	return c
}

func digits(n *score.Note) (out string) {
	for _, d := range n.Indications {
		out += fmt.Sprint(d.Fingers)
	}
	return out
}

func roles(n *score.Note) (out string) {
	for _, d := range n.Indications {
		out += fmt.Sprint(d.Substitution, d.Alternate)
	}
	return out
}

// compareDirections counts signs at moments that only one reading has, or has elsewhere.
func (c *comparison) compareDirections(a, b *score.Score, out map[string]int) {
	names := map[score.DirectionKind]string{
		score.TempoMark: "metronome mark", score.SoundOnly: "tempo of playback", score.Pedal: "pedal",
		score.OctaveShift: "octave line", score.HandSign: "hand sign", score.Dynamics: "dynamics", score.Wedge: "hairpin",
	}
	count := func(s *score.Score) map[string]int {
		seen := map[string]int{}
		for i := range s.Directions {
			d := &s.Directions[i]
			if name := names[d.Kind]; name != "" {
				seen[fmt.Sprint(name, "|", d.Part, d.Measure, d.Onset, d.Text, d.Hand, d.Start, d.Stop, d.Change, d.MilliQuarters)]++
			}
		}
		return seen
	}
	x, y := count(a), count(b)
	for side, pairOf := range [2][2]map[string]int{{x, y}, {y, x}} {
		for key, n := range pairOf[0] { // counts add up in any order
			if extra := n - pairOf[1][key]; extra > 0 {
				name := key[:slices.Index([]byte(key), '|')]
				out[name] += extra
				if c.list {
					fmt.Fprintf(c.out, "%s: %s\n", [2]string{"only in MusicXML", "only in MEI"}[side], key)
				}
			}
		}
	}
}

// compareFingers lists the notes that have another finger.
func (c *comparison) compareFingers(a, b *pipeline.PieceRun, to []int) (differ []int) {
	x, y := a.Suggestion.Fingers(), b.Suggestion.Fingers()
	for i := range x {
		if to[i] < 0 || x[i] == 0 && y[to[i]] == 0 {
			continue
		}
		c.notes++
		if x[i] != y[to[i]] {
			differ = append(differ, i)
			if c.list {
				fmt.Fprintf(c.out, "%s: %s, %s: %d, in MEI %d\n", a.Piece.ID, a.Score.Place(i), a.Score.Notes[i].Pitch, x[i], y[to[i]])
			}
		}
	}
	return differ
}

// compareFindings counts findings that one format alone has.
func (c *comparison) compareFindings(a, b *pipeline.PieceRun, to []int) {
	key := func(f *lint.Finding, note func(int) int) string {
		notes := make([]int, len(f.Notes))
		for k, n := range f.Notes {
			notes[k] = note(n)
		}
		slices.Sort(notes)
		return fmt.Sprint(f.Rule, "|", f.Severity, f.Message, f.Measure, f.Onset, notes)
	}
	seen := map[string]int{}
	where := map[string]string{}
	for i := range a.Remaining {
		k := key(&a.Remaining[i], func(n int) int { return to[n] })
		seen[k]++
		where[k] = a.Remaining[i].Rule
	}
	for i := range b.Remaining {
		k := key(&b.Remaining[i], func(n int) int { return n })
		seen[k]--
		where[k] = b.Remaining[i].Rule
	}
	c.findings += len(a.Remaining) + len(b.Remaining)
	for k, n := range seen { // counts add up in any order
		if n == 0 {
			continue
		}
		c.only += max(n, -n)
		side := "MusicXML"
		if n < 0 {
			side = "MEI"
		}
		c.rules[where[k]+" ("+side+")"] += max(n, -n)
		if c.list {
			fmt.Fprintf(c.out, "%s: only in %s: %s\n", a.Piece.ID, side, k)
		}
	}
}

// compareDecisions places decisions on notes of the one score in the other.
func (c *comparison) compareDecisions(a, b *score.Score, to []int) {
	const step = 7
	f, g := decision.NewFinder(a), decision.NewFinder(b)
	for i := 0; i < len(a.Notes); i += step {
		n := &a.Notes[i]
		if n.Kind != score.Pitched || !a.Parts[n.Part].Keyboard || to[i] < 0 {
			continue
		}
		ref := f.Ref(i, []int{1})
		c.decided++
		got, _, _ := g.Find(&ref)
		if got == to[i] {
			continue
		}
		if got >= 0 { // one key that two stems strike at once: nobody can tell them apart
			x, y := &b.Notes[got], &b.Notes[to[i]]
			if x.Midi == y.Midi && x.Measure == y.Measure && x.Onset == y.Onset && x.Grace == y.Grace {
				continue
			}
		}
		c.unlike++
	}
}
