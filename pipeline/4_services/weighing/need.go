package weighing

import (
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Need is the hand that a fingering asks for, and the stretch that does.
type Need struct {
	Size int // 0 octave, 1 ninth, 2 tenth, 3 a supple tenth, 4 more than that
	// Low and High are the notes of the widest stretch, by index, on the side of the thumb and of the little finger; with
	// their fingers. −1 where nothing is stretched.
	Low, High             int
	LowFinger, HighFinger int
	LowPitch, HighPitch   string
	// Beyond is by how much the widest stretch goes beyond the ease of the policy's hand, 0 where it does not.
	Beyond hand.Length
}

// sizes are the hands by which a need is named.
var sizes = [...]hand.Profile{
	hand.OctaveHand, hand.NinthHand, hand.TenthHand, {Name: "tenth", Span: hand.TenthHand.Span, Supple: supple},
}

// Words names a hand that a fingering needs: "a ninth hand".
func (n Need) Words() string {
	return [...]string{
		"an octave hand", "a ninth hand", "a tenth hand", "a supple tenth hand", "more than a supple tenth hand",
	}[n.Size]
}

// need finds the widest stretch of a passage in one of its two fingerings: between keys struck together, and between two
// that follow each other and are joined. A leap is no stretch.
func (l *line) need(p *Passage, which int) Need {
	out := Need{Low: -1, High: -1}
	strokes := l.in.Suggest.Playing.Line(l.player, l.hand).Strokes
	pl := l.in.Suggest.Playing
	first, last := pl.Stroke(p.Notes[0]).Index, pl.Stroke(p.Notes[len(p.Notes)-1]).Index
	for k := max(first-1, 0); k <= min(last+1, len(strokes)-1); k++ {
		notes := strokes[k].Notes
		for i := range notes {
			for j := i + 1; j < len(notes) && !pl.Rolled(notes[i]); j++ {
				l.stretch(&out, which, notes[i], notes[j], true)
			}
		}
		if k+1 < len(strokes) && l.joins(strokes, k) {
			for _, a := range notes {
				for _, b := range strokes[k+1].Notes {
					l.stretch(&out, which, a, b, false)
				}
			}
		}
	}
	return out
}

// joins says that a stroke is held by the fingers until the next one falls.
func (l *line) joins(strokes []playing.Stroke, k int) bool {
	a, ok := l.at[strokes[k].Notes[0]]
	b, too := l.at[strokes[k+1].Notes[0]]
	if !ok || !too {
		return false
	}
	n, m := &l.notes[0][a], &l.notes[0][b]
	return !n.Detached && !n.Pedalled && n.End.Compare(m.Onset) >= 0
}

// stretch takes in a pair of notes, where its fingers lie in the order of the keys. Between keys that follow each other
// what even a supple tenth hand does not take with ease is no stretch: the hand moves.
func (l *line) stretch(out *Need, which, a, b int, together bool) {
	i, ok := l.at[a]
	j, too := l.at[b]
	if !ok || !too {
		return
	}
	h := fingering.HandOf(l.hand)
	low, high, f, g := h.Mirror(l.notes[0][i].Key), h.Mirror(l.notes[0][j].Key), l.finger(which, i), l.finger(which, j)
	if low > high {
		low, high, f, g, a, b = high, low, g, f, b, a
	}
	span := hand.Distance(low, high)
	if f == 0 || g <= f || !together && span > sizes[len(sizes)-1].Comfortable(f, g) {
		return
	}
	size := 0
	for size < len(sizes) && span > sizes[size].Comfortable(f, g) {
		size++
	}
	beyond := max(span-l.in.Suggest.Profile.Comfortable(f, g), 0)
	if size > out.Size || size == out.Size && beyond > out.Beyond {
		notes := l.in.Suggest.Score.Notes
		*out = Need{
			Size: size, Low: a, High: b, LowFinger: f, HighFinger: g, Beyond: beyond, LowPitch: notes[a].Pitch.String(),
			HighPitch: notes[b].Pitch.String(),
		}
	}
}

// finger is the one finger that a note of the line has.
func (l *line) finger(which, k int) int {
	for f := 1; f <= fingering.Fingers; f++ {
		if l.notes[which][k].Allowed == fingering.Only(fingering.Finger(f)) {
			return f
		}
	}
	return 0
}
