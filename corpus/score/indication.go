package score

import "slices"

// Responsibility is whose an indication is (DEVELOPERS.md, decision 1): a closed list.
type Responsibility uint8

// Whose it is. Open digits are worked out here and not yet decided.
const (
	Unattributed Responsibility = iota
	Composer
	Earlier
	Editor
	Open
)

var responsibilityNames = [...]string{"", "composer", "earlier", "editor", "open"}

// String gives the word used in files.
func (r Responsibility) String() string { return responsibilityNames[r] }

// MarshalText gives the word used in files.
func (r Responsibility) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads the word used in files; other words give Unattributed.
func (r *Responsibility) UnmarshalText(b []byte) error {
	*r = Unattributed
	for i, name := range responsibilityNames {
		if name == string(b) {
			*r = Responsibility(i)
		}
	}
	return nil
}

// Indication is a digit (or a row of digits) as it stands at a note.
type Indication struct {
	Text           string // as in the file, untrimmed
	Fingers        []int  // 1–5 in order; empty where the text is no finger
	Substitution   bool   // the file calls it the second finger of a change on a held key
	Alternate      bool   // the file calls it an alternative
	Old            bool   // it holds a + (thumb of the old numbering) or a 0
	Several        bool   // a bracket beside it says that the finger takes several keys
	Style          Style
	Placement      Placement
	Responsibility Responsibility
	Agent          string   // initials or siglum of who is responsible
	Witnesses      []string // sigla it stands in
	Level          string   // editorial level given by the file, if any
	Hidden         bool     // its notations are not printed
	Line, Column   int
}

// Finger returns the single finger an indication names, or 0.
func (i *Indication) Finger() int {
	if len(i.Fingers) == 1 {
		return i.Fingers[0]
	}
	return 0
}

// Placement is the side of the staff.
type Placement uint8

// Sides of the staff.
const (
	PlacementUnset Placement = iota
	Above
	Below
)

// String gives "above", "below" or "".
func (p Placement) String() string { return [...]string{"", "above", "below"}[p] }

// WithoutDigits is the score with every digit taken out of its text: for
// measurements that look at what editors chose.
func (s *Score) WithoutDigits() *Score {
	out := *s
	out.Notes = slices.Clone(s.Notes)
	for i := range out.Notes {
		out.Notes[i].Indications = nil
	}
	return &out
}

// SaidNotEditors says that the document itself calls a digit the composer's or an earlier hand's.
func (i *Indication) SaidNotEditors() bool {
	return i.Responsibility == Composer || i.Responsibility == Earlier
}
