// Package attribute is the stage that says whose each digit in the text is.
package attribute

import (
	"encoding/json"
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/policies"
)

// Whose gives, for each note and each of its indications, the responsibility.
//
// In an edition of this program the looks decide, by the table the edition
// carries; elsewhere text says whose the digits of a plain score are
// (DESIGN §4.3). Where two responsibilities of an edition look alike, as
// editor and open may, the one later in the list of responsibilities is taken:
// nothing is held for decided that may not be.
func Whose(s *score.Score, text score.Responsibility) ([][]score.Responsibility, error) {
	looks, err := looksOf(s)
	if err != nil {
		return nil, err
	}
	out := make([][]score.Responsibility, len(s.Notes))
	for i := range s.Notes {
		for k := range s.Notes[i].Indications {
			who := text
			if looks != nil {
				who = match(looks, s.Notes[i].Indications[k].Style, text)
			}
			out[i] = append(out[i], who)
		}
	}
	return out, nil
}

var responsibilities = []score.Responsibility{score.Composer, score.Earlier, score.Editor, score.Open}

func looksOf(s *score.Score) (map[score.Responsibility]score.Style, error) {
	if s.Edition == nil || s.Edition.Fields[policies.LooksField] == "" {
		return nil, nil
	}
	var table map[string]score.Style
	if err := json.Unmarshal([]byte(s.Edition.Fields[policies.LooksField]), &table); err != nil {
		return nil, fmt.Errorf("reading how the edition's digits look (its field %s): %w", policies.LooksField, err)
	}
	out := map[score.Responsibility]score.Style{}
	for _, who := range responsibilities {
		if style, ok := table[who.String()]; ok {
			out[who] = style
		}
	}
	return out, nil
}

func match(looks map[score.Responsibility]score.Style, style score.Style, otherwise score.Responsibility) score.Responsibility {
	found := otherwise
	for _, who := range responsibilities {
		if look, ok := looks[who]; ok && look == style {
			found = who
		}
	}
	return found
}
