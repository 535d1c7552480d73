package notationodd

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// foreign are heads of notes of other instruments and of speech; diamonds are harmonics and silent keys (MusicXML 4.0,
// notehead-value).
var foreign = map[string]bool{"x": true, "slash": true, "triangle": true, "square": true, "cross": true, "inverted triangle": true, "circle x": true, "slashed": true}

// heads reports such heads at notes of the piano, where a piece has few.
func heads(p *lint.Inspection) {
	var found []*score.Item
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind == score.ItemNotehead && i.Note >= 0 && p.Playing.Plays(i.Note) && foreign[i.Reading] {
			found = append(found, i)
		}
	}
	if len(found) > fewHeads {
		return
	}
	for _, i := range found {
		p.ReportItem(i, lint.Finding{
			Message: fmt.Sprintf("%s has a head as no other note: %s", p.Score.Notes[i.Note].Pitch, i.Reading), Fix: "give it a usual head",
		})
	}
}

const fewHeads = 2
