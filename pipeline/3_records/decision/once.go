package decision

import (
	"fmt"
	"slices"

	"gopkg.in/yaml.v3"

	"fingerproof/corpus/score"
)

// spot is where a note of a decision stands, as far as every entry says it.
type spot struct {
	printed        string
	onset          score.Fraction
	grace          int
	midi           int
	staff, ordinal int
}

// once notes the notes to which a decision gives other fingers than it has given them already: one of the two is a
// slip, and nobody could say which.
func (r reader) once(d *Decision) {
	given := map[spot][]*NoteRef{}
	for i := range d.Notes {
		ref := &d.Notes[i]
		if len(ref.Fingers) == 0 {
			continue
		}
		at := spot{ref.Printed, ref.Onset, ref.Grace, ref.Midi, ref.Around.Staff, ref.Ordinal}
		for _, before := range given[at] {
			if sameMeasure(before, ref) && !slices.Equal(before.Fingers, ref.Fingers) {
				r.Fault(&yaml.Node{Line: ref.Line, Column: 1},
					fmt.Sprintf("m. %s: %s %s gets %s, and got %s in line %d of the same decision", ref.Printed, ref.Moment(),
						ref.Key(), Digits(ref.Fingers), Digits(before.Fingers), before.Line),
					"take one of them out; a second note of that key is written with (no. 2) behind it, as in C5 (no. 2)=3")
				break
			}
		}
		given[at] = append(given[at], ref)
	}
}

// sameMeasure says that two notes whose measures bear one number stand in the same: nothing that both give tells them
// apart.
func sameMeasure(a, b *NoteRef) bool {
	shorter := min(len(a.Around.Music), len(b.Around.Music)) // 8 or 16 digits
	return (a.Index < 0 || b.Index < 0 || a.Index == b.Index) && a.Around.Music[:shorter] == b.Around.Music[:shorter]
}
