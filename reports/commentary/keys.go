package commentary

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
)

// keys are the notes by the key that a hand strikes: two voices that share one have one digit, whichever of them carries it.
type keys map[struckKey][]*state.Note

type struckKey struct {
	part           string
	hand           score.Hand
	measure, grace int
	onset          string
	midi           int
}

func keyOf(n *state.Note) struckKey {
	return struckKey{n.Part, n.Hand, n.MeasureIndex, n.Grace, n.Onset.String(), n.Midi}
}

func keysOf(notes []state.Note) keys {
	out := keys{}
	for i := range notes {
		k := keyOf(&notes[i])
		out[k] = append(out[k], &notes[i])
	}
	return out
}

// differ says that the fingering has another finger at a note than a digit of the text, and that no voice on its key has the
// fingering's there.
func (k keys) differ(n *state.Note, text func(*state.Note) int) bool {
	stands := text(n)
	return stands > 0 && n.Finger > 0 && stands != n.Finger && !n.Tied &&
		!slices.ContainsFunc(k[keyOf(n)], func(m *state.Note) bool { return text(m) == n.Finger })
}
