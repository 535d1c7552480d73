package attribute

import (
	"fmt"
	"slices"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/edition"
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
	// InText counts the digits that the text has at the same note as well.
	InText int

	digits, strange int // digits in the draft, and those of them at no note of the text
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
// text has as well is the text's; where it has another, the text's stands and the draft's is left. held is what the draft
// knows of its digits where it is an edition of ours, changed since; else nil.
func PlaceDraft(s, draft *score.Score, held *edition.Held) *Draft {
	out := &Draft{Fingers: make([][]int, len(s.Notes)), From: make([][]int, len(s.Notes))}
	al := align.Align(s, draft, align.Options{})
	for j := range draft.Notes {
		n := &draft.Notes[j]
		i := al.ToA[j]
		if i < 0 {
			i = al.CoverA[j]
		}
		for k := range n.Indications {
			ind := &n.Indications[k]
			why := ""
			switch {
			case ind.SaidNotEditors():
				if i < 0 || !slices.ContainsFunc(s.Notes[i].Indications, func(t score.Indication) bool { return t.Text == ind.Text }) {
					why = "its file says that it is not the editor's"
				}
			case held != nil && held.Whose[j][k] == score.Open:
				why = "it was suggested by this program and is open there: not the editor's"
			case i >= 0 && s.Notes[i].Midi != n.Midi: // a variant: the digit was set for another key
				why, out.strange = "the text has "+s.Notes[i].Pitch.String()+" there", out.strange+1
			case i >= 0 && (!inTurn(al, s, i, draft, j) ||
				n.Onset.Cmp(s.Notes[i].Onset) != 0 && !sameAround(draft, j, s, i)):
				why = "the text has " + n.Pitch.String() + " at another place, among other notes"
			default:
				if why = out.put(s, i, ind); why == "" && i >= 0 {
					out.From[i] = append(out.From[i], j)
				}
				if i < 0 {
					out.strange++
				}
			}
			out.digits++
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

// OtherPiece is the error of a draft of which most digits stand at no note of the text; nil for any other.
func (d *Draft) OtherPiece() error {
	if d.digits < fewDigits || 2*d.strange <= d.digits {
		return nil
	}
	return fmt.Errorf("of %s in the draft %d stand at no note of the text: it is of another piece, or in another key"+
		"\nhint: name the editor's copy of this piece in the manifest, draft: {by: …, score: …}",
		wording.Count(d.digits, "digit"), d.strange)
}

// fewDigits say nothing of whether a draft is of the same piece.
const fewDigits = 8

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
	case s.Notes[i].TiedFrom >= 0:
		return "the key is held there from the note before"
	}
	for k := range s.Notes[i].Indications {
		text := &s.Notes[i].Indications[k]
		if text.Alternate || text.Hidden || len(text.Fingers) == 0 || text.Substitution != ind.Substitution {
			continue
		}
		if slices.Equal(text.Fingers, ind.Fingers) {
			d.InText++
			return ""
		}
		return "the text has " + text.Text + " there"
	}
	switch {
	case len(d.Fingers[i]) > 0 && ind.Substitution:
		d.Fingers[i] = append(d.Fingers[i], ind.Fingers...)
	case slices.Equal(d.Fingers[i], ind.Fingers): // two notes of the draft on one key
	case len(d.Fingers[i]) == 1 && d.Fingers[i][0] == ind.Fingers[0]: // 1, and then the whole row 1-2
		d.Fingers[i] = slices.Clone(ind.Fingers)
	case len(d.Fingers[i]) > 0, d.onKey(s, i, ind.Fingers[0]):
		return "another digit of the draft stands there already"
	case ind.Substitution:
		return "it changes a finger that is not named"
	default:
		d.Fingers[i] = slices.Clone(ind.Fingers)
	}
	return ""
}

// onKey says that the draft strikes the key of a note with another finger where a second voice of its staff has it at the same moment.
func (d *Draft) onKey(s *score.Score, i, finger int) bool {
	n := &s.Notes[i]
	for k := range s.Notes {
		if o := &s.Notes[k]; k != i && len(d.Fingers[k]) > 0 && d.Fingers[k][0] != finger && o.Midi == n.Midi &&
			o.Part == n.Part && o.Staff == n.Staff && o.Measure == n.Measure && o.Onset.Equal(n.Onset) && o.Grace == n.Grace {
			return true
		}
	}
	return false
}
