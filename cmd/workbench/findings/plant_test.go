package findings

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/opendatatest"
	"fingerproof/rules/lint"
)

// A sample of what `workbench plant` measures on all: of the faults planted in real scores at least 98 in a hundred
// are found, and where nothing has changed lint says next to nothing new.
func TestPlantedFaultsAreFoundInRealScores(t *testing.T) {
	files := opendatatest.SmallScores(t, opendatatest.Choice{Of: 60, Most: 20, Bytes: 30_000})
	tally := newPlantTally()
	tally.each = 1
	require.NoError(t, opendata.EachFile(files, 5, tally.score))
	sum := tally.sum()
	require.Greater(t, sum.found, 200, "too few faults to say anything")
	require.Greater(t, len(tally.rules), 40, "kinds of faults")
	require.GreaterOrEqual(t, 100*sum.found, 98*(sum.found+sum.missed))
	require.LessOrEqual(t, 1000*sum.alarms, tally.notes, "one false alarm in a thousand notes: %+v", sum)
}

// Each finding counts once, and for what it is.
func TestAFindingIsWantedOnlyWhereAndAsItWasPlanted(t *testing.T) {
	f := lint.Finding{Rule: "wrong-side", Notes: []int{4, 2}, Measure: 3, Message: "for C4 in what was m. 3"}
	for _, c := range []struct {
		want seeded
		met  bool
	}{
		{seeded{rule: "wrong-side", note: 2, measure: 9}, true},
		{seeded{rule: "wrong-side", note: 3, measure: 3}, false},
		{seeded{rule: "wide-span", note: 2, measure: 3}, false},
		{seeded{rule: "wrong-side", note: -1, measure: 3}, true},
		{seeded{rule: "wrong-side", note: -1, measure: 2}, false},
		{seeded{rule: "wrong-side", note: -1, measure: -1, says: "m. 3"}, true},
		{seeded{rule: "wrong-side", note: -1, measure: -1, says: "m. 4"}, false},
	} {
		require.Equal(t, c.met, c.want.isMet(f), "%+v", c.want)
	}
}
