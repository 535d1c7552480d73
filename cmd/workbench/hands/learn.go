package hands

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hands"
)

// heldBack is how many scores one is kept out of the fit for, to measure it on.
const heldBack = 12

// learnHands fits the weights of the hands to other scores than those they are measured on: two-staff scores whose staves
// stand for the hands, works of the fingered material left out.
func learnHands(out io.Writer, fingered string, folders []string, sources string, every, rounds int) error {
	pieces, err := readHands(fingered)
	if err != nil {
		return err
	}
	known := map[string]bool{}
	for i := range pieces {
		for _, run := range runsOf(pieces[i].notes) {
			known[run] = true
		}
	}
	var train, rest []hands.Example
	notes, left, seen := 0, 0, 0
	for _, folder := range folders {
		c, err := corpus.Open(folder)
		if err != nil {
			return err
		}
		for i := range c.Pieces {
			if i%max(every, 1) != 0 || c.Pieces[i].Fault != nil {
				continue
			}
			s, err := opendata.ReadScore(c.Path(c.Pieces[i].Score))
			if err != nil {
				continue // told by round-trip
			}
			e := byStaff(s)
			if len(e) == 0 {
				continue
			}
			if shares(runsOf(e), known) {
				left++
				continue
			}
			if seen++; seen%heldBack == 0 {
				rest = append(rest, e)
				continue
			}
			train, notes = append(train, e), notes+len(e)
		}
	}
	t := hands.Fit(train, rounds)
	var got [2][2]int
	for _, e := range rest {
		p := handPiece{notes: e, count: slices.Repeat([]int{1}, len(e))}
		for k, tell := range []func([]hands.Note) []score.Hand{hands.Infer, t.Infer} {
			right, all := p.right(tell(p.blind()))
			got[k][0], got[k][1] = got[k][0]+right, got[k][1]+all
		}
	}
	provenance := fmt.Sprintf("fitted by `workbench hands --learn` to the staves of %d two-staff scores (%d notes; %d works that are among the fingered left out), %d rounds; of %d notes held back %s are told as written, %s by the table before; %s",
		len(train), notes, left, rounds, got[1][1], figures.Share(got[1]), figures.Share(got[0]), sources)
	_, err = fmt.Fprint(out, t.Encode(provenance))
	return err
}

// handSources is said of the shipped table: the repertoire and the engraved scores, with their licences (README of the shared material).
const handSources = "derived from scores of humdrum-polish-scores (The Fryderyk Chopin Institute, CC BY 4.0) and of OpenScore Lieder (CC0), whose staves alone were used and which are not contained in this table"

// byStaff takes the staves of a piano part for its hands: the upper right, the lower left. Scores in which a voice goes over
// to the other staff, or that leave a staff unused, teach nothing.
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
		out = append(out, hands.Note{Key: n.Midi, Onset: momentOf(at), End: momentOf(end), Rank: playing.RankOf(s, i), Hand: hand})
	}
	if len(uses) < 2 {
		return nil
	}
	return out
}

func momentOf(f score.Fraction) fingering.Moment {
	return fingering.Moment{Num: f.Num(), Den: f.Den()}
}

// runsOf lists the steps between every twelve notes in a row, in the order of playing: whatever the key, a work betrays itself by them.
func runsOf(e hands.Example) (out []string) {
	order := slices.Clone(e)
	slices.SortStableFunc(order, func(a, b hands.Note) int {
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
