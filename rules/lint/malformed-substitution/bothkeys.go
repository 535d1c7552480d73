package malformedsubstitution

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// bothKeys finds a change that may be none: the upper of two keys struck together has two digits, the lower has none, and
// the digits stand in the order of the keys, far enough apart that nobody changes between them for want of a neighbour.
// Files write the digits of a sixth so at its upper note alone. Of 818 changes in the open scores with digits 411 stand at
// such a stroke, all but 20 of them in this order; a real change goes either way.
func bothKeys(p *lint.Inspection, n int) string {
	together, note := p.Playing.Together(n), &p.Score.Notes[n]
	if len(together) != 2 || len(note.Ornaments) > 0 || note.Tremolo.Strokes > 0 {
		return ""
	}
	other := together[0]
	if other == n {
		other = together[1]
	}
	lower := &p.Score.Notes[other]
	var fingers []int
	for k := range note.Indications {
		if ind := &note.Indications[k]; !ind.Alternate && !ind.Hidden {
			fingers = append(fingers, ind.Fingers...)
		}
	}
	if len(fingers) != 2 || len(lower.Indications) > 0 || lower.Midi >= note.Midi {
		return ""
	}
	h := p.Playing.Hand(n)
	apart := fingers[1] - fingers[0]
	if h == score.Left {
		apart = -apart
	}
	if apart < 2 || !p.FitsHand(h, lower.Midi, note.Midi, fingers[0], fingers[1]) {
		return ""
	}
	return fmt.Sprintf("%d-%d on %s reads as a change of finger, but %s is struck with it and has no digit", fingers[0],
		fingers[1], note.Pitch, lower.Pitch)
}
