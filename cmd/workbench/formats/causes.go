package formats

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline"
)

// explanation says why notes of a piece have another finger in MEI: which losses, taken out of the MusicXML, give every
// note the finger that it has in the MEI.
type explanation struct {
	left   []int // notes whose finger is still another with all losses applied
	causes []cause
	pairs  []pairOfLosses // where no single loss changes a finger
}

// pairOfLosses are two losses, and the notes that have another finger as long as both are not applied.
type pairOfLosses struct {
	losses [2]loss
	notes  []int
}

// cause is a loss, and the notes that have another finger as long as it alone is not applied.
type cause struct {
	loss  loss
	notes []int
}

// nearMeasures is how far from the first measure of a loss fingers are looked at first; mostTrials bounds how often a
// piece is worked out to find which losses matter.
const (
	nearMeasures = 6
	mostTrials   = 120
)

// explain finds which losses make the fingers of a piece others.
func explain(a, b *pipeline.PieceRun, to, differ []int) (*explanation, error) {
	r := newReadings(a.Score, b.Score, to)
	want := b.Suggestion.Fingers()
	trials := 0
	unlike := func(losses []loss) ([]int, error) {
		trials++
		s, now := r.with(losses)
		got, err := fingersOf(a, s)
		if err != nil {
			return nil, err
		}
		var out []int
		for i := range a.Score.Notes {
			if to[i] >= 0 && now[i] >= 0 && got[now[i]] != want[to[i]] {
				out = append(out, i)
			}
		}
		return out, nil
	}
	all := r.losses()
	left, err := unlike(all)
	if err != nil || len(left) > 0 {
		return &explanation{left: left}, err
	}
	// Try what is near, then without each kind, then without each measure of a kind.
	near := func(l loss) bool {
		return l.measure < 0 || slices.ContainsFunc(differ, func(i int) bool {
			d := a.Score.Notes[i].Measure - l.measure
			return d <= nearMeasures && -d <= nearMeasures
		})
	}
	without := func(drop func(loss) bool) ([]int, error) {
		rest := slices.DeleteFunc(slices.Clone(all), drop)
		if len(rest) == len(all) {
			return nil, nil
		}
		out, err := unlike(rest)
		if err == nil && len(out) == 0 {
			all = rest
		}
		return out, err
	}
	if _, err := without(func(l loss) bool { return !near(l) }); err != nil {
		return nil, err
	}
	for _, kind := range kindsOf(all) {
		if _, err := without(func(l loss) bool { return l.kind == kind }); err != nil {
			return nil, err
		}
	}
	e := &explanation{}
	for _, l := range slices.Clone(all) {
		if trials >= mostTrials {
			e.causes = append(e.causes, cause{loss: l})
			continue
		}
		notes, err := without(func(other loss) bool { return other == l })
		if err != nil {
			return nil, err
		}
		if len(notes) > 0 {
			e.causes = append(e.causes, cause{l, notes})
		}
	}
	return e, e.inPairs(differ, all, unlike)
}

// inPairs finds two losses each for notes that none changes alone.
func (e *explanation) inPairs(differ []int, all []loss, unlike func([]loss) ([]int, error)) error {
	named := func(i int) bool {
		return slices.ContainsFunc(e.causes, func(c cause) bool { return slices.Contains(c.notes, i) }) ||
			slices.ContainsFunc(e.pairs, func(p pairOfLosses) bool { return slices.Contains(p.notes, i) })
	}
	for k, p := range e.causes {
		for _, q := range e.causes[k+1:] {
			if !slices.ContainsFunc(differ, func(i int) bool { return !named(i) }) {
				return nil
			}
			notes, err := unlike(slices.DeleteFunc(slices.Clone(all), func(l loss) bool { return l == p.loss || l == q.loss }))
			if err != nil {
				return err
			}
			e.pairs = append(e.pairs, pairOfLosses{[2]loss{p.loss, q.loss}, notes})
		}
	}
	return nil
}

func kindsOf(losses []loss) (out []string) {
	for _, l := range losses {
		if !slices.Contains(out, l.kind) {
			out = append(out, l.kind)
		}
	}
	return out
}

// fingersOf works out the fingers of a piece with another reading of its score.
func fingersOf(w *pipeline.PieceRun, s *score.Score) ([]int, error) {
	other, err := workedOut(w, s, "suggest")
	if err != nil {
		return nil, err
	}
	return other.Suggestion.Fingers(), nil
}

// workedOut works out a piece with another reading of its score, from after the reading up to a stage.
func workedOut(w *pipeline.PieceRun, s *score.Score, last string) (*pipeline.PieceRun, error) {
	other := *w
	other.Score, other.Page = s, nil
	reading := true
	for _, stage := range pipeline.Stages {
		if reading {
			reading = stage.Name != "read"
			continue
		}
		if stage.Name == "mark" { // the layout is that of the file's own reading, which has other notes; nobody looks at marks
			continue
		}
		if err := stage.Run(&other); err != nil {
			return nil, err
		}
		if stage.Name == last {
			break
		}
	}
	return &other, nil
}

// because explains the fingers of a piece that differ, and prints each note with its cause.
func (c *comparison) because(a, b *pipeline.PieceRun, to, differ []int) error {
	e, err := explain(a, b, to, differ)
	if err != nil {
		return err
	}
	c.left += len(e.left)
	place := func(i int) string { return a.Score.Place(i) + ", " + a.Score.Notes[i].Pitch.String() }
	for _, i := range e.left {
		fmt.Fprintf(c.out, "%s: %s: no loss that is known explains its finger\n", a.Piece.ID, place(i))
	}
	named := map[int]bool{}
	for _, k := range e.causes {
		var notes []string
		for _, i := range k.notes {
			if slices.Contains(differ, i) {
				notes = append(notes, place(i))
				named[i] = true
			}
		}
		c.places[k.loss.kind]++
		c.through[k.loss.kind] += len(notes)
		fmt.Fprintf(c.out, "%s: %s, %s: %s\n", a.Piece.ID, whereOf(a.Score, k.loss), becomes(k.loss.kind), strings.Join(notes, "; "))
	}
	for _, i := range differ {
		if !named[i] && len(e.left) == 0 {
			fmt.Fprintf(c.out, "%s: %s: by several of these together%s\n", a.Piece.ID, place(i), e.together(a.Score, i))
		}
	}
	return nil
}

// together names the losses of which only two together change the finger of a note.
func (e *explanation) together(s *score.Score, note int) string {
	for _, p := range e.pairs {
		if slices.Contains(p.notes, note) {
			var out []string
			for _, l := range p.losses {
				out = append(out, whereOf(s, l)+", "+becomes(l.kind))
			}
			return ": " + strings.Join(out, "; and ")
		}
	}
	return ""
}

func whereOf(s *score.Score, l loss) string {
	if l.measure < 0 {
		return "in the whole score"
	}
	return "m. " + s.Measures[l.measure].Number
}
