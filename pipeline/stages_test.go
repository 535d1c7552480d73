package pipeline

import (
	"os"
	"reflect"
	"slices"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// demoRun prepares a demo piece for its run.
func demoRun(t *testing.T, name string) *PieceRun {
	t.Helper()
	data, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", name+".musicxml"))
	require.NoError(t, err)
	policy, err := policies.ByName("study")
	require.NoError(t, err)
	return &PieceRun{
		Piece: &corpus.Piece{ID: name, Score: name + ".musicxml", Scoring: corpus.TwoHands},
		Data:  data, Policy: policy, Weights: ShippedWeights(), Edition: name + ".musicxml",
	}
}

// Each stage is run with every field it does not declare taken away: what it
// then gives must be what it gave in the whole run.
func TestStagesNeedJustWhatTheyDeclare(t *testing.T) {
	whole := demoRun(t, "op7-nocturne")
	require.NoError(t, RunPiece(whole))
	for _, s := range Stages {
		bare := &PieceRun{}
		from, to := reflect.ValueOf(whole).Elem(), reflect.ValueOf(bare).Elem()
		for _, field := range s.Needs {
			require.True(t, to.FieldByName(field).IsValid(), "%s needs %s, which a PieceRun does not have", s.Name,
				field)
			to.FieldByName(field).Set(from.FieldByName(field))
		}
		require.NoError(t, s.Run(bare), s.Name)
		for i := range to.NumField() {
			field := to.Type().Field(i).Name
			switch {
			case slices.Contains(s.Gives, field):
				require.True(t, reflect.DeepEqual(from.Field(i).Interface(), to.Field(i).Interface()),
					"%s gives another %s without what it does not declare", s.Name, field)
			case !slices.Contains(s.Needs, field):
				require.True(t, to.Field(i).IsZero(), "%s sets %s and does not declare it", s.Name, field)
			}
		}
	}
}

func TestEachThingIsGivenOnceAndBeforeItIsNeeded(t *testing.T) {
	given := []string{
		"Piece", "Data", "WitnessData", "DraftData", "Policy", "Weights", "Heads", "Edition", "Decisions", "Today", "Press", "Unedited", "Setting",
		"Stale", "Kept", "asPage",
	}
	for _, s := range Stages {
		for _, need := range s.Needs {
			require.Contains(t, given, need, "%s comes too early", s.Name)
		}
		for _, gives := range s.Gives {
			require.NotContains(t, given, gives, "%s gives it a second time", s.Name)
			given = append(given, gives)
		}
	}
	require.Len(t, given, reflect.TypeFor[PieceRun]().NumField(), "a field that nobody gives")
}

func TestAFaultOfOurOwnEndsOnePieceOnly(t *testing.T) {
	w := demoRun(t, "op7-nocturne")
	w.Weights = nil // no stage expects that
	err := RunPiece(w)
	require.ErrorContains(t, err, `a fault of this program in the stage "suggest"`)
	require.ErrorContains(t, err, "op7-nocturne.musicxml")
}
