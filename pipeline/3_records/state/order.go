package state

import (
	"cmp"

	"fingerproof/corpus/score/playing"
)

// Before orders notes by when they are struck, as far as results say it: negative where n comes first, 0 where both
// are struck at one instant. After-notes have no mark of their own in results: those of one onset in a measure are
// not told from the grace notes there. Who has the score at hand asks playing.Playing.
func (n *Note) Before(m *Note) int {
	return cmp.Or(cmp.Compare(n.MeasureIndex, m.MeasureIndex), n.Onset.Cmp(m.Onset),
		cmp.Compare(playing.GraceNote(n.Grace), playing.GraceNote(m.Grace)))
}
