package attribute

import (
	"slices"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
)

// Draft is an editor's own fingering, carried to the notes of the text.
type Draft struct {
	// Fingers gives each note of the text the fingers that the draft has at it: the one that strikes, then those changed
	// to on the held key or the rest of a row; nil for none.
	Fingers [][]int
	// From gives each note of the text the notes of the draft's score whose digits stand at it.
	From [][]int
	// Left are the digits that stand at no note of the text, or that it has no use for, in the order of the draft.
	Left []DraftDigit
}

// DraftDigit is a digit of a draft that was left out.
type DraftDigit struct {
	Spot score.Spot // in the draft's own score
	Text string
	Why  string
}

// Digits gives the fingers by note; nil where there is no draft.
func (d *Draft) Digits() [][]int {
	if d == nil {
		return nil
	}
	return d.Fingers
}

// Count is at how many notes a digit of the draft stands.
func (d *Draft) Count() (n int) {
	for _, f := range d.Digits() {
		if len(f) > 0 {
			n++
		}
	}
	return n
}

// PlaceDraft carries the digits of an editor's own score to the notes of the text by the music alone. A digit that the
// text has as well is the text's; where it has another, the text's stands and the draft's is left.
func PlaceDraft(s, draft *score.Score) *Draft {
	out := &Draft{Fingers: make([][]int, len(s.Notes)), From: make([][]int, len(s.Notes))}
	al := align.Align(s, draft, align.Options{})
	for j := range draft.Notes {
		n := &draft.Notes[j]
		i := al.ToA[j]
		if i < 0 {
			i = al.CoverA[j]
		}
		for _, ind := range n.Indications {
			why := ""
			if i >= 0 && s.Notes[i].Midi != n.Midi { // a variant: the digit was set for another key
				why = "the text has " + s.Notes[i].Pitch.String() + " there"
			} else if i >= 0 && (!inTurn(al, s, i, draft, j) ||
				n.Onset.Cmp(s.Notes[i].Onset) != 0 && !sameAround(draft, j, s, i)) {
				why = "the text has " + n.Pitch.String() + " at another place, among other notes"
			} else if why = out.put(s, i, &ind); why == "" && i >= 0 {
				out.From[i] = append(out.From[i], j)
			}
			if why != "" {
				out.Left = append(out.Left, DraftDigit{
					Spot: score.Spot{
						Measure: draft.Measures[n.Measure].Number, Beat: draft.Beat(n.Measure, n.Onset),
						Grace: n.Grace > 0, Pitch: n.Pitch.String(),
					},
					Text: ind.Text, Why: why,
				})
			}
		}
	}
	return out
}

// inTurn says that two notes that were found to be one stand in turn with those before and after in the draft's staff: the
// order of playing is the same in both scores.
func inTurn(al *align.Alignment, s *score.Score, i int, draft *score.Score, j int) bool {
	for _, by := range []int{-1, 1} {
		k := strikesBeside(draft, j, by)
		if k < 0 || al.ToA[k] < 0 {
			continue
		}
		if by*draft.At(k).Cmp(draft.At(j)) > 0 && by*s.At(al.ToA[k]).Cmp(s.At(i)) < 0 {
			return false
		}
	}
	return true
}

// sameAround says that the struck notes before and after two notes in their staves are on the same keys.
func sameAround(a *score.Score, i int, b *score.Score, j int) bool {
	for _, by := range []int{-1, 1} {
		k, l := strikesBeside(a, i, by), strikesBeside(b, j, by)
		if k < 0 || l < 0 || a.Notes[k].Midi != b.Notes[l].Midi {
			return false
		}
	}
	return true
}

// strikesBeside is the nearest struck note before or after a note in its staff, -1 for none.
func strikesBeside(s *score.Score, i, by int) int {
	for k := i + by; k >= 0 && k < len(s.Notes); k += by {
		n := &s.Notes[k]
		if n.Kind == score.Pitched && n.TiedFrom < 0 && n.Staff == s.Notes[i].Staff && n.Part == s.Notes[i].Part {
			return k
		}
	}
	return -1
}

// put gives a note of the text, -1 for none, a digit of the draft; else it says why not, "" where the text has it already.
func (d *Draft) put(s *score.Score, i int, ind *score.Indication) (why string) {
	fits := func(f int) bool { return f >= 1 && f <= 5 }
	switch {
	case ind.Hidden:
		return ""
	case len(ind.Fingers) == 0 || !fits(ind.Fingers[0]):
		return "it is no finger"
	case i < 0:
		return "the text has no such note"
	case ind.Alternate:
		return "it is an alternative: a draft has one fingering"
	}
	for k := range s.Notes[i].Indications {
		text := &s.Notes[i].Indications[k]
		if text.Alternate || text.Hidden || len(text.Fingers) == 0 || text.Substitution != ind.Substitution {
			continue
		}
		if slices.Equal(text.Fingers, ind.Fingers) {
			return ""
		}
		return "the text has " + text.Text + " there"
	}
	switch {
	case len(d.Fingers[i]) > 0 && ind.Substitution:
		d.Fingers[i] = append(d.Fingers[i], ind.Fingers...)
	case len(d.Fingers[i]) > 0 && d.Fingers[i][0] == ind.Fingers[0]: // two notes of the draft on one key
	case len(d.Fingers[i]) > 0:
		return "another digit of the draft stands there already"
	case ind.Substitution:
		return "it changes a finger that is not named"
	default:
		d.Fingers[i] = slices.Clone(ind.Fingers)
	}
	return ""
}
