package commentary

import (
	"strings"
)

// reasons lists the fingerings for which an editor gave a reason: an unusual one is given a chance by players who know what
// it is for. What editors write stands as they wrote it; what is fingered alike for one reason is told once.
func (p *pieceRemarks) reasons() (out []string) {
	type like struct{ hand, said string }
	var order []like
	places := map[like][]string{}
	for i := range p.result.Reasons {
		r := &p.result.Reasons[i]
		notes := p.withFingers(r.Notes)
		for len(notes) > 0 {
			first := notes[0].note
			var one, others []fingered // of one hand, and of the others
			for _, f := range notes {
				if f.note.Hand == first.Hand && f.note.Part == first.Part {
					one = append(one, f)
				} else {
					others = append(others, f)
				}
			}
			notes = others
			l := like{p.handOf(first.Part, first.Hand), p.spell(one, first.MeasureIndex) + p.Say("reason", strings.TrimSuffix(r.Why, "."))}
			if places[l] == nil {
				order = append(order, l)
			}
			places[l] = append(places[l], p.Say("measure", first.Measure)+p.beatOf(first))
		}
	}
	for _, l := range order {
		out = append(out, strings.Join(places[l], p.Say("semicolon"))+", "+l.hand+p.Say("colon")+l.said)
	}
	return out
}
