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

// placeDraft carries the digits of an editor's own score to the notes of the text by the music alone. A digit that the
// text has as well is the text's; where it has another, the text's stands and the draft's is left.
func placeDraft(s, draft *score.Score) *Draft {
	out := &Draft{Fingers: make([][]int, len(s.Notes))}
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
			} else {
				why = out.put(s, i, &ind)
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
