package lint

import (
	"strings"

	"fingerproof/corpus/score"
)

// DigitsText is the digits of a note as they stand, alternatives left out.
func DigitsText(n *score.Note) string {
	var out []string
	for k := range n.Indications {
		if ind := &n.Indications[k]; !ind.Alternate && !ind.Hidden {
			out = append(out, strings.TrimSpace(ind.Text))
		}
	}
	return strings.Join(out, " ")
}

// WitnessDigits calls f with each note m of an aligned witness that carries
// digits, the text of these, and its note n in the text, where the text has it.
func (p *Inspection) WitnessDigits(f func(w *Witness, m, n int, text string)) {
	for i := range p.Witnesses {
		w := &p.Witnesses[i]
		for m := range w.Score.Notes {
			n := w.Back[m]
			if n < 0 || !p.Playing.Plays(n) {
				continue
			}
			if text := DigitsText(&w.Score.Notes[m]); text != "" {
				f(w, m, n, text)
			}
		}
	}
}

// MovedTo gives the note of the text on which a digit of a witness's note m
// stands instead of its own: its neighbour in the line or in the chord, without
// a digit of its own in the witness. -1 where the digit has not moved.
func MovedTo(p *Inspection, w *Witness, m int) int {
	n := w.Back[m]
	if n < 0 || !p.Playing.Plays(n) || len(p.Score.Notes[n].Indications) > 0 {
		return -1
	}
	text := DigitsText(&w.Score.Notes[m])
	if text == "" {
		return -1
	}
	for _, to := range p.beside(n) {
		other := w.Note[to]
		if DigitsText(&p.Score.Notes[to]) == text && other >= 0 && DigitsText(&w.Score.Notes[other]) == "" {
			return to
		}
	}
	return -1
}

// beside lists the notes of the chord of a note, of the stroke before and of
// the one after it in its hand.
func (p *Inspection) beside(n int) (out []int) {
	st := p.Playing.Stroke(n)
	if st == nil {
		return nil
	}
	strokes := p.Playing.Lines[st.Line].Strokes
	for _, i := range []int{st.Index, st.Index - 1, st.Index + 1} {
		if i < 0 || i >= len(strokes) {
			continue
		}
		for _, m := range strokes[i].Notes {
			if m != n {
				out = append(out, m)
			}
		}
	}
	return out
}
