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
// (DEVELOPERS.md, decision 1). Where two responsibilities of an edition look alike, as
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
			out[i] = append(out[i], match(looks, &s.Notes[i].Indications[k], text))
		}
	}
	return out, nil
}

// allOf gives every digit of a score to one responsibility.
func allOf(s *score.Score, who score.Responsibility) [][]score.Responsibility {
	out := make([][]score.Responsibility, len(s.Notes))
	for i := range s.Notes {
		for range s.Notes[i].Indications {
			out[i] = append(out[i], who)
		}
	}
	return out
}

// look is how a kind of digit of one responsibility looks in an edition.
type look struct {
	name        string
	who         score.Responsibility
	alternative bool
	style       score.Style
}

// kinds lists the looks an edition may name; of two that look alike the later
// one is taken.
func kinds() []look {
	return []look{
		{
			name: score.Composer.String(), who: score.Composer,
		}, {name: policies.LookOfSingleWitness, who: score.Composer},
		{name: score.Earlier.String(), who: score.Earlier},
		{name: score.Editor.String(), who: score.Editor}, {name: score.Open.String(), who: score.Open},
		{
			name: policies.LookOfEditorAlternative, who: score.Editor, alternative: true,
		}, {name: policies.LookOfAlternative, who: score.Open, alternative: true},
	}
}

func looksOf(s *score.Score) ([]look, error) {
	if s.Edition == nil || s.Edition.Fields[policies.LooksField] == "" {
		return nil, nil
	}
	var table map[string]score.Style
	if err := json.Unmarshal([]byte(s.Edition.Fields[policies.LooksField]), &table); err != nil {
		return nil, fmt.Errorf("reading how the edition's digits look (its field %s): %w", policies.LooksField, err)
	}
	var out []look
	for _, l := range kinds() {
		style, named := table[l.name]
		if l.style = style; named {
			out = append(out, l)
		}
	}
	return out, nil
}

// match finds whose a digit of an edition is by its look. Alternatives are
// looked for among their own first; what stands around a digit of the text is
// the text's own, and tells nothing where no look has it.
func match(looks []look, ind *score.Indication, otherwise score.Responsibility) score.Responsibility {
	bare := ind.Style
	bare.Enclosure = score.NoEnclosure
	for _, style := range []score.Style{ind.Style, bare} {
		for _, alternative := range []bool{ind.Alternate, !ind.Alternate} {
			found, who := false, otherwise
			for _, l := range looks {
				if l.alternative == alternative && l.style == style {
					found, who = true, l.who
				}
			}
			if found {
				return who
			}
		}
	}
	return otherwise
}

// ComposersFinger is the finger that a digit of the composer's gives a note, 0
// for none; whose is by its indications.
func ComposersFinger(n *score.Note, whose []score.Responsibility) int {
	for k, ind := range n.Indications {
		if whose[k] == score.Composer && !ind.Alternate && !ind.Hidden && len(ind.Fingers) > 0 {
			return ind.Fingers[0]
		}
	}
	return 0
}
