package commentary

import (
	"fmt"
	"strings"
)

// reasons lists the fingerings for which an editor gave a reason: an unusual one is given a chance by players who know what
// it is for. What editors write stands as they wrote it.
func (p *pieceRemarks) reasons() (out []string) {
	for i := range p.result.Reasons {
		r := &p.result.Reasons[i]
		notes := p.withFingers(r.Notes)
		if len(notes) == 0 {
			continue
		}
		first := notes[0].note
		where := p.Say("measure", first.Measure) + p.beatOf(first) + ", " + p.handOf(first.Part, first.Hand)
		out = append(out, fmt.Sprintf("%s: %s%s", where, p.spell(notes, first.MeasureIndex),
			p.Say("reason", strings.TrimSuffix(r.Why, "."))))
	}
	return out
}
