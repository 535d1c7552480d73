package attribute_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/04_attribute"

	"github.com/stretchr/testify/require"
)

// + 1 2 3 4 of the old numbering are 1 to 5 (FACTS §5.1).
func TestOldNumbering(t *testing.T) {
	for text, fingers := range map[string][]int{"+": {1}, "1": {2}, "4": {5}, "x": {1}, "+ 2": {1, 3}, "(3)": {4}, "5": nil, "ten.": nil, "": nil} {
		require.Equal(t, fingers, attribute.Modern(text), text)
	}
}

// A composer's digit in a witness comes before an earlier hand's, an editor's
// decision before both; nobody's is open.
func TestCredit(t *testing.T) {
	readings := []attribute.Reading{
		{Siglum: "P", Fingers: []int{3}, Responsibility: score.Earlier},
		{Siglum: "A", Fingers: []int{3}, Responsibility: score.Composer},
		{Siglum: "B", Fingers: []int{2}, Responsibility: score.Composer},
	}
	c := attribute.CreditOf(3, readings)
	require.Equal(t, score.Composer, c.Who)
	require.Equal(t, []string{"A"}, c.Sigla)
	require.True(t, c.Single)
	require.Equal(t, score.Open, attribute.CreditOf(4, readings).Who)
	readings = append(readings, attribute.Reading{Fingers: []int{4}, Responsibility: score.Editor, Agent: "kp"})
	require.Equal(t, attribute.Credit{Who: score.Editor, Agent: "kp"}, attribute.CreditOf(4, readings))
}

func TestWhichWitnessesBind(t *testing.T) {
	readings := []attribute.Reading{
		{Siglum: "P", Fingers: []int{3}, Responsibility: score.Earlier},
		{Siglum: "A", Fingers: []int{2}, Responsibility: score.Composer},
		{Siglum: "B", Fingers: []int{2}, Responsibility: score.Composer},
	}
	for which, finger := range map[string]int{"none": 0, "all": 3, "composer": 2, "agreeing": 2} {
		require.Equal(t, finger, attribute.Binding{Which: which}.Given(readings), which)
	}
	said := func(siglum string) (bool, bool) { return siglum == "P", siglum != "B" }
	require.Equal(t, 3, attribute.Binding{Which: "none", Said: said}.Given(readings))
}
