package lint

import (
	"fmt"

	"fingerproof/corpus/wording"
)

// KeysWithDigits names notes as a sentence does, each with the digit that stands at it:
// "C2 with 5, G2 and E3 with 1".
func (p *Inspection) KeysWithDigits(notes []int) string {
	words := make([]string, len(notes))
	for i, n := range notes {
		words[i] = p.Score.Notes[n].Pitch.String()
		if f := p.Digit(n); f > 0 {
			words[i] += fmt.Sprintf(" with %d", f)
		}
	}
	return wording.List(words)
}

// KeysWithFingers names notes with fingers: "A4 with 1 and G5 with 5".
func (p *Inspection) KeysWithFingers(notes, fingers []int) string {
	words := make([]string, len(notes))
	for i, n := range notes {
		words[i] = fmt.Sprintf("%s with %d", p.Score.Notes[n].Pitch, fingers[i])
	}
	return wording.List(words)
}

// Keys names notes without their digits: "C2, G2 and E3".
func (p *Inspection) Keys(notes []int) string {
	words := make([]string, len(notes))
	for i, n := range notes {
		words[i] = p.Score.Notes[n].Pitch.String()
	}
	return wording.List(words)
}
