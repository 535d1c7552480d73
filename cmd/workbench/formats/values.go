package formats

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
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
	_, slurs := newReadings(a, b, to).slurLosses()
	for range slurs {
		out["slur that is lost, or joined otherwise"]++
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

// compareFindings counts findings that one format alone has, and says why.
func (c *comparison) compareFindings(a, b *pipeline.PieceRun, to []int) error {
	seen := inOneAlone(a.Remaining, func(n int) int { return to[n] }, b.Remaining)
	c.findings += len(a.Remaining) + len(b.Remaining)
	for k, n := range seen { // counts add up in any order
		rule, _, _ := strings.Cut(k, "|")
		c.only += max(n, -n)
		side := "MusicXML"
		if n < 0 {
			side = "MEI"
		}
		c.rules[rule+" ("+side+")"] += max(n, -n)
		if c.list {
			fmt.Fprintf(c.out, "%s: only in %s: %s\n", a.Piece.ID, side, k)
		}
	}
	if len(seen) == 0 {
		return nil
	}
	return c.explainFindings(a, b, to, seen)
}

// compareDecisions places decisions on notes of the one score in the other, and says why one stands elsewhere: it is
// explained where it does not once all losses are taken out of the MusicXML's reading.
func (c *comparison) compareDecisions(name string, a, b *score.Score, to []int) {
	const step = 7
	f, g := decision.NewFinder(a), decision.NewFinder(b)
	lost := func() (*decision.Finder, []int) { // the first reading with all losses, once it is asked for
		r := newReadings(a, b, to)
		s, now := r.with(r.losses())
		return decision.NewFinder(s), now
	}
	var h *decision.Finder
	var now []int
	for i := 0; i < len(a.Notes); i += step {
		n := &a.Notes[i]
		if n.Kind != score.Pitched || !a.Parts[n.Part].Keyboard || to[i] < 0 {
			continue
		}
		c.decided++
		if found(g, b, f.Ref(i, []int{1}), to[i]) {
			continue
		}
		c.unlike++
		if h == nil {
			h, now = lost()
		}
		why := unexplained
		if now[i] >= 0 && found(g, b, h.Ref(now[i], []int{1}), to[i]) {
			why = "the note or one beside it is otherwise"
			for k := range noteKinds {
				if kind := &noteKinds[k]; kind.differ(n, &b.Notes[to[i]]) && lostAs[kind.name] != "" {
					why = lostAs[kind.name]
					break
				}
			}
		}
		c.whyElsewhere[why]++
		if c.list {
			got, reason, _ := g.Find(new(f.Ref(i, []int{1})))
			fmt.Fprintf(c.out, "%s: a decision on note %d (%s) is found at %d, not %d: %s (%s)\n", name, i, a.Place(i), got, to[i], why, reason)
		}
	}
}

// found says that a decision is found at a note, or at one that cannot be told apart from it: one key that two stems
// strike at once.
func found(g *decision.Finder, b *score.Score, ref decision.NoteRef, at int) bool {
	got, _, _ := g.Find(&ref)
	if got == at || got < 0 {
		return got == at
	}
	x, y := &b.Notes[got], &b.Notes[at]
	return x.Midi == y.Midi && x.Measure == y.Measure && x.Onset == y.Onset && x.Grace == y.Grace
}
