package measuredoesnotaddup

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// shortPiece is how many measures a piece has in which an empty staff says nothing.
const shortPiece = 8

// blank reports the one measure of a piece in which a staff of the piano has nothing, not even a rest, while the other has notes:
// a rest of a measure stands in an empty one (common practice). Where there are more, that is how it is written.
func blank(p *lint.Inspection) {
	s := p.Score
	if len(s.Measures) < shortPiece || s.Format == "mei" { // there a space may be meant
		return
	}
	measure, staff, first, count := -1, 0, -1, 0
	for part := range s.Parts {
		if !p.PianoParts()[part] || s.Parts[part].Staves != 2 {
			continue
		}
		for m := 1; m+1 < len(s.Measures); m++ { // pieces begin with one hand alone, and end so
			var has [3]bool
			note := -1
			for _, n := range p.InMeasure(m) {
				x := &s.Notes[n]
				if x.Part != part {
					continue
				}
				for _, on := range []int{x.Staff, x.HomeStaff} {
					if on == 1 || on == 2 {
						has[on] = true
					}
				}
				if x.Kind == score.Pitched && note < 0 {
					note = n
				}
			}
			if note >= 0 && has[1] != has[2] && !s.Measures[m].Implicit {
				count++
				measure, first, staff = m, note, 1
				if has[1] {
					staff = 2
				}
			}
		}
	}
	if count != 1 {
		return
	}
	p.Report(lint.Finding{
		Notes: []int{first}, Measure: measure, Message: fmt.Sprintf("nothing stands on staff %d, not even a rest", staff), Fix: "put in what is missing, or a rest",
	})
}
