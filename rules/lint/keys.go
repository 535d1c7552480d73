package lint

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
)

// Keys names notes as a sentence does, each with the digit that stands at it:
// "C2 with 5, G2 and E3 with 1".
func (p *Pass) Keys(notes []int) string {
	words := make([]string, len(notes))
	for i, n := range notes {
		words[i] = p.Score.Notes[n].Pitch.String()
		if f := p.Digit(n); f > 0 {
			words[i] += fmt.Sprintf(" with %d", f)
		}
	}
	return Row(words)
}

// Row joins words as a sentence does: "a", "a and b", "a, b and c".
func Row(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// HeldUnder lists the notes that the hand of a note has struck before it and
// holds still, as they are written, ties followed: in written order.
func (p *Pass) HeldUnder(n int) (out []int) {
	at := p.Score.At(n)
	for m := range p.Score.Notes {
		note := &p.Score.Notes[m]
		if m == n || !p.Piano[m] || !note.Struck() || note.Grace > 0 || p.Hand[m] != p.Hand[n] || p.Player[m] != p.Player[n] || note.Midi == p.Score.Notes[n].Midi || !p.Score.At(m).Less(at) {
			continue
		}
		if at.Less(p.until(m)) {
			out = append(out, m)
		}
	}
	return out
}

// until is when a note ends as written, ties followed.
func (p *Pass) until(n int) score.Fraction {
	for p.Score.Notes[n].TiedTo > n {
		n = p.Score.Notes[n].TiedTo
	}
	return p.Score.At(n).Add(p.Score.Notes[n].Duration)
}
