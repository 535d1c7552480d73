package results

import (
	"fingerproof/pipeline/3_records/state"
)

// drafted says that an editor's own digit is a note's finger, and that it is open.
func (in *Input) drafted(i int) bool {
	digits := in.Draft.Digits()
	return digits != nil && len(digits[i]) > 0 && digits[i][0] == int(in.Suggestion.Notes[i].Finger) &&
		in.Bound[i].Finger() == 0
}

// draftOf says what became of the digits of a draft; nil where there is none.
func draftOf(in *Input) *state.Draft {
	if in.Draft == nil {
		return nil
	}
	out := &state.Draft{By: in.Piece.Draft.By, Digits: in.Draft.Count()}
	for _, d := range in.Draft.Left {
		out.Left = append(out.Left, state.LeftDigit{Place: d.Spot.Words(), Text: d.Text, Why: d.Why})
	}
	return out
}
