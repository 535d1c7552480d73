package weighing

import (
	"slices"

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

// need finds the widest stretch of a passage in one of its two fingerings: between keys of the passage that one hand
// strikes together, or holds while it strikes the other. A leap is no stretch, nor is a step from key to key: the hand
// moves. In the editor's fingering both digits are the editor's: of what the program goes on with they are not to blame.
func (l *line) need(p *Passage, which int) Need {
	out := Need{Low: -1, High: -1}
	for k, a := range p.Notes {
		for _, b := range p.Notes[k+1:] {
			if which == 0 && (!slices.Contains(p.Theirs, a) || !slices.Contains(p.Theirs, b)) {
				continue
			}
			l.stretch(&out, which, a, b)
		}
	}
	return out
}

// atOnce says that a hand has both keys down at one time: struck together and not rolled, or the first held on by the
// finger, not by the pedal, when the second is struck.
func (l *line) atOnce(a, b int) bool {
	i, ok := l.at[a]
	j, too := l.at[b]
	if !ok || !too {
		return false
	}
	pl := l.in.Suggest.Playing
	if pl.Stroke(a).Index == pl.Stroke(b).Index {
		return !pl.Rolled(a)
	}
	n := &l.notes[0][i]
	return !n.Detached && !n.Pedalled && n.End.Compare(l.notes[0][j].Onset) > 0
}

// stretch takes in a pair of notes, where its fingers lie in the order of the keys.
func (l *line) stretch(out *Need, which, a, b int) {
	if !l.atOnce(a, b) {
		return
	}
	i, j, h := l.at[a], l.at[b], fingering.HandOf(l.hand)
	low, high, f, g := h.Mirror(l.notes[0][i].Key), h.Mirror(l.notes[0][j].Key), l.finger(which, i), l.finger(which, j)
	if low > high {
		low, high, f, g, a, b = high, low, g, f, b, a
	}
	span := hand.Distance(low, high)
	if f == 0 || g <= f {
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

// borneOut says that the prices agree with what the passage needs: to the hand just below the one that it asks for it
// costs more, by a plain amount, than the other fingering does, and to the smallest it costs more than to the one asked for.
func (l *line) borneOut(p *Passage, window []int) bool {
	size := p.Needs[0].Size
	if size <= p.Needs[1].Size {
		return false
	}
	returns := p.Returns
	if l.above(sizes[size-1], window, returns) < l.in.Limits.Gain {
		return false
	}
	named := sizes[min(size, len(sizes)-1)]
	return l.above(sizes[0], window, returns)-l.above(named, window, returns) >= l.in.Limits.Gain
}

// above is what a passage costs a hand more than the other fingering, at full tempo.
func (l *line) above(profile hand.Profile, window []int, returns int) int {
	c, sum := l.priced(profile, false), Aims{Memory: returns}
	for _, k := range window {
		sum.add(c.of[0][k].Aims, 1)
		sum.add(c.of[1][k].Aims, -1)
	}
	return sum.Sum()
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
