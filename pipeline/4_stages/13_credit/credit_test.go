package credit_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/13_credit"

	"github.com/stretchr/testify/require"
)

// A composer's digit in a witness comes before an earlier hand's, an editor's
// decision before both; nobody's is open.
func TestCredit(t *testing.T) {
	readings := []attribute.Reading{
		{Siglum: "P", Fingers: []int{3}, Responsibility: score.Earlier},
		{Siglum: "A", Fingers: []int{3}, Responsibility: score.Composer},
		{Siglum: "B", Fingers: []int{2}, Responsibility: score.Composer},
	}
	c := credit.Of(3, readings)
	require.Equal(t, score.Composer, c.Who)
	require.Equal(t, []string{"A"}, c.Sigla)
	require.True(t, c.Single)
	require.Equal(t, score.Open, credit.Of(4, readings).Who)
	readings = append(readings, attribute.Reading{Fingers: []int{4}, Responsibility: score.Editor, Agent: "kp"})
	require.Equal(t, credit.Credit{Who: score.Editor, Agent: "kp"}, credit.Of(4, readings))
}
