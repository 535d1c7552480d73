package attribute

import (
	"slices"

	"fingerproof/corpus/score"
)

// Unattributed says that nothing tells whose the digits in the text of a piece are: neither the manifest, nor the
// policy, nor an edition of ours (said gives that), nor witnesses that have the digits of half the notes. They look
// as the composer's then, and are called of the source.
func (s *Sources) Unattributed(text *score.Score, said bool) bool {
	given, attested := 0, 0
	for i := range text.Notes {
		if len(text.Notes[i].Indications) == 0 {
			continue
		}
		given++
		if i < len(s.Sigla) && slices.ContainsFunc(s.Sigla[i], func(sigla []string) bool { return len(sigla) > 0 }) {
			attested++
		}
	}
	return !said && 2*attested < given
}
