package state_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"

	"github.com/stretchr/testify/require"
)

func TestChangesAreThoseOfThePage(t *testing.T) {
	text := func(digit string, change bool) state.Source {
		return state.Source{Text: digit, Substitution: change, Responsibility: score.Composer}
	}
	n := state.Note{Finger: 1, Substitution: []int{2}}
	require.Equal(t, []int{2}, n.Changes(), "suggested")
	n.Source, n.Responsibility = []state.Source{text("1", false)}, score.Composer
	require.Empty(t, n.Changes(), "the text has one digit")
	n.Source = append(n.Source, text("3", true), text("2", true), text("4", true))
	require.Equal(t, []int{3, 2, 4}, n.Changes(), "a trill that the text fingers whole")
	n.Source = []state.Source{text("1", false), text("5", false)}
	require.Empty(t, n.Changes(), "two fingerings, one above the other")
	n.Source = []state.Source{{Text: "1-3", Fingers: []int{1, 3}, Responsibility: score.Composer}}
	require.Equal(t, []int{3}, n.Changes())
	n.Responsibility = score.Editor
	require.Equal(t, []int{2}, n.Changes(), "an editor's own")
	n.Source[0].WitnessOnly, n.Responsibility = true, score.Composer
	require.Equal(t, []int{2}, n.Changes(), "nothing stands in the text")
}
