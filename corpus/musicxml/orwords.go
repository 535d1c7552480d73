package musicxml

import (
	"slices"
	"strings"

	"fingerproof/corpus/score"
)

// orWords are the words by which sources set a second fingering beside the first, in the languages of editions (common
// practice): one of them stands once under a run of notes with two digits each.
var orWords = []string{"ou", "or", "oder", "od", "o", "oppure", "ossia"}

// chooseByWords makes alternatives of second digits that a file calls a change on the held key, where a word on the staff
// says that they are another way to finger: from the word to the end of its measure.
func chooseByWords(s *score.Score) {
	for i := range s.Directions {
		d := &s.Directions[i]
		if d.Kind != score.Words || !slices.Contains(orWords, strings.ToLower(strings.Trim(d.Text, " \t\n()[].:"))) {
			continue
		}
		for n := range s.Notes {
			note := &s.Notes[n]
			if note.Part != d.Part || note.Measure != d.Measure || note.Staff != d.Staff || note.Onset.Less(d.Onset) {
				continue
			}
			for k := range note.Indications {
				if ind := &note.Indications[k]; k > 0 && ind.Substitution {
					ind.Substitution, ind.Alternate = false, true
				}
			}
		}
	}
}
