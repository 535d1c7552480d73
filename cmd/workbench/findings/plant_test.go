package findings

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/opendatatest"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
	handsignadded "fingerproof/rules/lint/hand-sign-added"
	partsreadasone "fingerproof/rules/lint/parts-read-as-one"
	personalfingering "fingerproof/rules/lint/personal-fingering"
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

// plantedElsewhere says of rules why no fault of the passes is theirs.
var plantedElsewhere = map[string]string{
	partsreadasone.Rule.Name:    "in a copy of its own, since it moves all notes (parts.go)",
	personalfingering.Rule.Name: "workbench personal plants it: what is personal is a whole passage",
	handsignadded.Rule.Name:     "no fault of a score: it speaks of signs that a run adds to a piece of a collection",
}

// Every rule has a fault that is planted for it, or says why not: of a rule without one nobody knows how much it finds.
func TestEachRuleHasAFaultThatIsPlanted(t *testing.T) {
	planted := map[string]bool{}
	for _, p := range passes {
		for _, f := range p.faults {
			require.NotNil(t, all.Rule(f.rule), "a fault is planted for %s, which is no rule", f.rule)
			planted[f.rule] = true
		}
	}
	for _, r := range all.Rules() {
		assert.NotEqual(t, planted[r.Name], plantedElsewhere[r.Name] != "", "nothing is planted for %s: a fault of it belongs into faults_*.go, or the reason why there is none into plantedElsewhere", r.Name)
	}
}
