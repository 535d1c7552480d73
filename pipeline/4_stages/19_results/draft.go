package results

import (
	"fingerproof/corpus"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_stages/04_attribute"
)

// drafted says that an editor's own digit is a note's finger, and that it is open.
func (in *Input) drafted(i int) bool {
	digits := in.Draft.Digits()
	return digits != nil && len(digits[i]) > 0 && digits[i][0] == int(in.Suggestion.Notes[i].Finger) &&
		in.Bound[i].Finger() == 0
}

// DraftOf says what became of the digits of the draft that a piece begins with; nil where there is none.
func DraftOf(draft *attribute.Draft, piece *corpus.Piece) *state.Draft {
	if draft == nil {
		return nil
	}
	out := &state.Draft{By: piece.Draft.By, Digits: draft.Count(), InText: draft.InText}
	for _, d := range draft.Left {
		out.Left = append(out.Left, state.LeftDigit{Place: d.Spot.Words(), Text: d.Text, Why: d.Why})
	}
	return out
}
