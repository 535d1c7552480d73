package compare

import (
	"slices"

	"fingerproof/corpus/score"
)

// struckKey is a key that is struck at one moment on one staff.
type struckKey struct {
	part, measure, staff, midi, grace int
	after                             bool
	onset                             score.Fraction
}

func keyOf(n *score.Note) struckKey {
	return struckKey{n.Part, n.Measure, n.Staff, n.Midi, n.Grace, n.GraceAfter, n.Onset}
}

// unisons gives the notes of a score by their keys, where two voices or more strike one.
func unisons(v *view) map[struckKey][]int {
	out := map[struckKey][]int{}
	for i := range v.score.Notes {
		if n := &v.score.Notes[i]; v.in[i] && n.Struck() && !v.silent(i) {
			out[keyOf(n)] = append(out[keyOf(n)], i)
		}
	}
	for k, notes := range out {
		if len(notes) == 1 {
			delete(out, k)
		}
	}
	return out
}

// atOtherVoice leaves out the digits that only one side has at a note whose key shows the same digit on the other side, at
// another voice that strikes it: one digit is enough for a key.
func (c *comparison) atOtherVoice(all []loose, of, other *view, to []int) []loose {
	if len(all) == 0 {
		return nil
	}
	keys := unisons(of)
	return slices.DeleteFunc(all, func(l loose) bool {
		return slices.ContainsFunc(keys[keyOf(&of.score.Notes[l.note])], func(i int) bool {
			return i != l.note && to[i] >= 0 && slices.ContainsFunc(readingOf(&other.score.Notes[to[i]]), func(d digit) bool {
				return d.role == mainDigit && d.text == l.text
			})
		})
	})
}
