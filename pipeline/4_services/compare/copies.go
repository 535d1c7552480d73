package compare

import "fmt"

// writtenOutAgain compares what stands at the notes of measures that one side writes out where the other has a sign of
// repetition: digits, and the signs that hang on notes. It names what is not looked at there.
func (c *comparison) writtenOutAgain() {
	al, a, b, rests := c.al, *c.a, *c.b, c.restDigits
	defer func() { c.al, c.a.in, c.b.in, c.restDigits = al, a.in, b.in, rests }()
	c.restDigits = false
	for _, copied := range al.Copies {
		if !copied.Signed {
			continue
		}
		again := *al
		again.ToB, again.ToA = nobody(len(al.ToB)), nobody(len(al.ToA))
		c.a.in, c.b.in = make([]bool, len(a.in)), make([]bool, len(b.in))
		for _, pair := range copied.Notes {
			i, j := pair[1], pair[0]
			if !copied.InB {
				i, j = j, i
			}
			again.ToB[i], again.ToA[j], c.a.in[i], c.b.in[j] = j, i, true, true
		}
		c.al = &again
		c.chordSigns()
		c.digits()
		v := c.b
		if !copied.InB {
			v = c.a
		}
		c.notSaid = append(c.notSaid, fmt.Sprintf("slurs, ties, beams, words and other signs at no note in what a repeat writes out (%s)",
			measuresWords(v.score, copied.Again)))
	}
}

// nobody pairs no note of so many.
func nobody(notes int) []int {
	out := make([]int, notes)
	for i := range out {
		out[i] = -1
	}
	return out
}
