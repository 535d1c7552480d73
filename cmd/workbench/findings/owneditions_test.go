package findings

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/opendatatest"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/policies"
	"fingerproof/rules/lint"
)

// What the text had in a measure is not the edition's, though the run that made it has it no more; what neither had is.
func TestWhatAnEditionAddsIsHeldAgainstRunAndText(t *testing.T) {
	edition := []lint.Finding{
		{Rule: "a", Notes: []int{4}, Measure: 2}, // in the run that made it
		{Rule: "a", Notes: []int{9}, Measure: 5}, // of the text, answered
		{Rule: "b", Notes: []int{9}, Measure: 5}, // of another rule
		{Rule: "a", Notes: []int{12}, Measure: 6},
	}
	made := []lint.Finding{{Rule: "a", Notes: []int{3, 4}, Measure: 2}}
	text := []lint.Finding{{Rule: "a", Notes: []int{8}, Measure: 5}}
	require.Equal(t, edition[2:], addedBy(edition, made, text))
}

// What is amended by chance is the same for one beginning, other for another, and none where none is asked for.
func TestAmendmentsAreDrawnAlike(t *testing.T) {
	c, err := opendata.Slice(opendatatest.Folder(t)+"/data/fingered", 9, 3)
	require.NoError(t, err)
	amended := func(chance chance) (notes [][2]int, verbs int) {
		_, made, err := takenWhole(c, &c.Pieces[4], policies.Default(), chance)
		require.NoError(t, err)
		for n, d := range made.Bound {
			if d.Verb == decision.Amend {
				notes = append(notes, [2]int{n, d.Finger()})
			}
		}
		return notes, len(notes)
	}
	none, _ := amended(chance{0, 1})
	require.Empty(t, none)
	first, many := amended(chance{40, 1})
	require.Positive(t, many)
	again, _ := amended(chance{40, 1})
	require.Equal(t, first, again)
	other, _ := amended(chance{40, 2})
	require.NotEqual(t, first, other)
}
