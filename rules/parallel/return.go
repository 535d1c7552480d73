// Package parallel finds the passages of a piece that return: note for note,
// transposed, or mirrored between the hands. Memory runs through the fingers,
// so what returns should be fingered alike unless the keys forbid it.
package parallel

// Kind says how a passage returns.
type Kind uint8

// The kinds of return.
const (
	Exact      Kind = iota // the same keys
	Transposed             // the same shape on other keys
	Mirrored               // the same fingers' shape in the other hand, upside down
	Figure                 // a few strokes that come again nearby (Figures)
)

var kindNames = [...]string{"exact", "transposed", "mirrored", "figure"}

// String gives the word used in files and on pages.
func (k Kind) String() string { return kindNames[k] }

// Return is one passage that comes back. First and Later hold indices into
// Score.Notes, note for note, in the order of playing.
type Return struct {
	Kind  Kind
	Shift int // semitones from the first passage up to the later one; 0 for mirrored ones
	First []int
	Later []int
	// Alike says of a figure that what stands about it is the same, too: two strokes before it and two after.
	Alike bool
	// Given names, for each pair of notes, the pairs around it of which one has a digit in the text (Same).
	Given [][][2]int
}

// Agrees says that a digit decided at the k-th note of the first passage holds at that of the later one, or the other way round
// if back: no digit stands in the text about the note there that is another than the one given here. text gives the finger that the
// text has at a note, known the one that text or editor give it; 0 is none.
func (r *Return) Agrees(k int, back bool, text, known func(note int) int) bool {
	if k >= len(r.Given) {
		return true
	}
	for _, pair := range r.Given[k] {
		here, there := pair[0], pair[1]
		if back {
			here, there = there, here
		}
		if f, own := text(there), known(here); f > 0 && own > 0 && own != f {
			return false
		}
	}
	return true
}
