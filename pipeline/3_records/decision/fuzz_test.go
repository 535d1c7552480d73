package decision_test

import (
	"testing"

	"fingerproof/pipeline/3_records/decision"

	"github.com/stretchr/testify/require"
)

// FuzzDecisions: what a file of decisions says is read and can be added to, losing nothing of it; or the error names
// the file.
func FuzzDecisions(f *testing.F) {
	f.Add([]byte(decision.Example))
	f.Add([]byte("piece: a\nby: AB\ndecisions:\n  - {take: redistribution, to: L, when: 2026-03-01, notes: [{measure: 1, onset: 1/3, midi: 60}]}\n"))
	f.Add([]byte("piece: a\nby: AB\ndecisions:\n  - amend: notes\n    when: 2026-03-01\n    print: always\n    notes:\n" +
		"      - {measure: \"12a\", onset: 3/2, pitch: Bb3, finger: 5-4, midi: 58, index: 3, grace: 1, ordinal: 2, staff: 2, " +
		"music: \"0123456789abcdef\", with: [1], before: [2, 3], after: [], landmarks: \"0123456789abcdef+1\"}\n"))
	more := decision.Decision{
		Verb: decision.Query, On: decision.Notes, By: "AB", When: "2026-03-02", Why: "why, so: #1",
		Notes: []decision.NoteRef{{Printed: "1", Index: -1, Midi: 60, Pitch: "C4"}},
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		old, piece, err := decision.Parse("decisions/a.AB.yaml", data)
		if err != nil {
			require.Contains(t, err.Error(), "decisions/a.AB.yaml")
			return
		}
		for i := range old {
			require.NotEmpty(t, old[i].Verb)
			require.NotEmpty(t, old[i].Notes)
		}
		longer, err := decision.Append("decisions/a.AB.yaml", data, piece, "AB", nil, []decision.Decision{more})
		if err != nil {
			return
		}
		now, _, err := decision.Parse("decisions/a.AB.yaml", longer)
		require.NoError(t, err)
		require.Len(t, now, len(old)+1)
		require.Equal(t, decision.Sum(old), decision.Sum(now[:len(old)]), "what stood there stands there still")
	})
}
