package hands

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hands"
)

// heldBack is how many scores one is kept out of the fit for, to measure it on.
const heldBack = 12

// learning fits the weights of the hands to other scores than those they are measured on: two-staff scores whose
// staves stand for the hands, works of the fingered material left out.
type learning struct {
	folders []string
	sources string
	every   int
	rounds  int

	known       map[string]bool // runs of the fingered material
	train, rest []hands.Example
	notes, left int
}

func (l *learning) run(out io.Writer, fingered []handPiece) error {
	l.known = map[string]bool{}
	for i := range fingered {
		for _, run := range runsOf(fingered[i].notes) {
			l.known[run] = true
		}
	}
	seen := 0
	for _, folder := range l.folders {
		c, err := opendata.EveryNth(folder, l.every)
		if err != nil {
			return err
		}
		for i := range c.Pieces {
			if c.Pieces[i].Fault != nil {
				continue
			}
			s, err := opendata.ReadScore(c.Path(c.Pieces[i].Score))
			if err != nil {
				continue // round-trip names it
			}
			l.take(byStaff(s), &seen)
		}
	}
	t := hands.Fit(l.train, l.rounds)
	var got [2][2]int
	for _, e := range l.rest {
		p := handPiece{notes: e, count: slices.Repeat([]int{1}, len(e))}
		for k, assign := range []func([]hands.Keystroke) []score.Hand{hands.Infer, t.Infer} {
			count := p.right(assign(p.blind()))
			got[k][0], got[k][1] = got[k][0]+count[0], got[k][1]+count[1]
		}
	}
	provenance := fmt.Sprintf("fitted by `workbench hands --learn` to the staves of %d two-staff scores "+
		"(%d notes; %d works that are among the fingered left out), %d rounds; "+
		"of %d notes held back %s are assigned as written, %s by the table before; %s",
		len(l.train), l.notes, l.left, l.rounds, got[1][1], figures.Share(got[1]), figures.Share(got[0]), l.sources)
	_, err := fmt.Fprint(out, t.Encode(provenance))
	return err
}

// take puts a score among those to learn from, or those held back; seen counts both.
func (l *learning) take(e hands.Example, seen *int) {
	switch {
	case len(e) == 0:
	case shares(runsOf(e), l.known):
		l.left++
	default:
		if *seen++; *seen%heldBack == 0 {
			l.rest = append(l.rest, e)
			return
		}
		l.train, l.notes = append(l.train, e), l.notes+len(e)
	}
}

// handSources is said of the shipped table: the repertoire and the engraved scores, with their licences (README of
// the shared material).
const handSources = "derived from scores of humdrum-polish-scores (The Fryderyk Chopin Institute, CC BY 4.0) " +
	"and of OpenScore Lieder (CC0), whose staves alone were used and which are not contained in this table"

// byStaff takes the staves of a piano part for its hands: the upper right, the lower left. Scores in which a voice
// goes over to the other staff, or that leave a staff unused, teach nothing.
func byStaff(s *score.Score) (out hands.Example) {
	uses := map[int]bool{}
	for i := range s.Notes {
		n := &s.Notes[i]
		if s.Parts[n.Part].Staves != 2 || n.Kind != score.Pitched || n.Hidden || n.Cue || n.TiedFrom >= 0 {
			continue
		}
		if n.Staff != n.HomeStaff {
			return nil
		}
		uses[n.Staff] = true
		at := s.At(i)
		end := at.Add(n.Duration)
		for t := n.TiedTo; t >= 0; t = s.Notes[t].TiedTo {
			end = s.At(t).Add(s.Notes[t].Duration)
		}
		hand := score.Right
		if n.Staff == 2 {
			hand = score.Left
		}
		out = append(out, hands.Keystroke{
			Key: n.Midi, Onset: momentOf(at), End: momentOf(end), Rank: playing.RankOf(s, i), Hand: hand,
		})
	}
	if len(uses) < 2 {
		return nil
	}
	return out
}

// momentOf is a time of a score for the search.
func momentOf(f score.Fraction) fingering.Moment {
	return fingering.Moment{Num: f.Num(), Den: f.Den()}
}

// runsOf lists the steps between every twelve notes in a row, in the order of playing: whatever the key, a work
// betrays itself by them.
func runsOf(e hands.Example) (out []string) {
	order := slices.Clone(e)
	slices.SortStableFunc(order, func(a, b hands.Keystroke) int {
		if d := a.Onset.Compare(b.Onset); d != 0 {
			return d
		}
		return a.Key - b.Key
	})
	const long = 12
	for i := 0; i+long < len(order); i++ {
		var b strings.Builder
		for k := range long {
			fmt.Fprintf(&b, "%d ", order[i+k+1].Key-order[i+k].Key)
		}
		out = append(out, b.String())
	}
	return out
}

// shares says that a tenth of the runs of a piece, or more, are known.
func shares(runs []string, known map[string]bool) bool {
	n := 0
	for _, r := range runs {
		if known[r] {
			n++
		}
	}
	return 10*n >= len(runs) && n > 0
}
