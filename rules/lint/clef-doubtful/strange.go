package clefdoubtful

import (
	"fmt"
	"regexp"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// strangeClef reads the clefs that have their sign on a line of its own.
var strangeClef = regexp.MustCompile(`^(baritone|French violin) clef|^[GF] clef on line [1-5]`)

// strange reports clefs of the piano that are no clefs of its music: the line was entered wrong.
func strange(p *lint.Inspection) {
	var found []*score.Item
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind == score.ItemClef && p.PianoParts()[i.Part] && p.Score.Parts[i.Part].Transposed == 0 && strangeClef.MatchString(i.Reading) {
			found = append(found, i)
		}
	}
	if len(found) > few {
		return
	}
	for _, i := range found {
		p.ReportItem(i, lint.Finding{Severity: lint.Note, Message: fmt.Sprintf("piano music does not have this clef (%s)", i.Reading), Fix: "set a clef of the piano"})
	}
}
