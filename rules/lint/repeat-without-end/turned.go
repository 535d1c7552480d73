package repeatwithoutend

import (
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// turned reports signs of repetition that stand at the wrong edge of their measure: one to repeat back at its beginning, one to repeat from
// at its end. They face away from what they repeat.
func turned(p *lint.Inspection) {
	seen := map[[2]int]bool{}
	for k := range p.Score.Items {
		i := &p.Score.Items[k]
		if i.Kind != score.ItemRepeat || i.Measure < 0 || p.Score.Measures[i.Measure].Length.Sign() == 0 {
			continue
		}
		says, edge := "", 0
		switch back := strings.HasPrefix(i.Reading, repeatBack); {
		case back && i.Onset.Sign() == 0 && i.Measure > 0: // before the first note: another line says so
			says = "the sign at the beginning of this measure repeats back: it faces away from what follows"
		case !back && !i.Onset.Less(p.Score.Measures[i.Measure].Length):
			says, edge = "the sign at the end of this measure repeats from here: it faces away from what is before it", 1
		default:
			continue
		}
		if !seen[[2]int{i.Measure, edge}] {
			seen[[2]int{i.Measure, edge}] = true
			p.ReportItem(i, lint.Finding{Message: says, Fix: "turn it, or set it where it belongs", Together: says})
		}
	}
}
