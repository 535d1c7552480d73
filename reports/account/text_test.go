package account

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/reasons"

	"github.com/stretchr/testify/require"
)

// Where the chosen finger's way takes more effort by the sums that are told, it is said why it is chosen all the same; elsewhere not.
func TestAWayOfLessEffortIsExplained(t *testing.T) {
	told := func(more, confidence int) string {
		return Text(&reasons.Account{Measure: "3", Hands: []reasons.Hand{{Hand: score.Right, Doubts: []reasons.Doubt{
			{Beat: "1", Pitch: "G5", Finger: 2, Other: 1, Confidence: confidence, Regret: 500, More: more},
		}}}})
	}
	require.Contains(t, told(-660, 40), "its way takes 0.66 less effort, but 2 goes better with the fingers that editors print about it\n")
	require.Contains(t, told(-660, 60), "its way takes 0.66 less effort, but editors would sooner print 2\n")
	for _, confidence := range []int{40, 60} {
		require.Contains(t, told(-660, confidence), chosenTogether)
		require.NotContains(t, told(660, confidence), chosenTogether)
	}
}
