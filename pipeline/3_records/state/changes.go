package state

import (
	"slices"

	"fingerproof/corpus/score"
)

// Changes are the fingers to which a note is changed on the held key, as it stands or will stand in print: where the text has
// one digit, a change that would be played there is nobody's to print, and there is none.
func (n *Note) Changes() []int {
	inText := func(s Source) bool { return !s.WitnessOnly && !s.Alternate }
	if n.Responsibility != score.Editor && slices.ContainsFunc(n.Source, inText) &&
		!slices.ContainsFunc(n.Source, func(s Source) bool { return inText(s) && (s.Substitution || len(s.Text) > 1) }) {
		return nil
	}
	return n.Substitution
}
