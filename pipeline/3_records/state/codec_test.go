package state_test

import (
	"bytes"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// compileSchema compiles the shipped schema (JSON Schema draft 2020-12, an
// independent validator).
func compileSchema(t require.TestingT) *jsonschema.Schema {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(state.Schema))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("results.schema.json", doc))
	s, err := c.Compile("results.schema.json")
	require.NoError(t, err)
	return s
}

func validate(t require.TestingT, schema *jsonschema.Schema, data []byte) error {
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	require.NoError(t, err)
	return schema.Validate(v)
}

func anyResult(t *rapid.T) *state.Result {
	sum := rapid.StringMatching(`[0-9a-f]{64}`)
	r := &state.Result{
		Version: state.Version, Piece: rapid.String().Draw(t, "piece"),
		Inputs: state.Inputs{
			Score: sum.Draw(t, "score"), Policy: sum.Draw(t, "policy"), Weights: sum.Draw(t, "weights"),
			Engine: "1",
		},
		Summary: state.Summary{
			Score:   "a.musicxml",
			Hand:    "ninth",
			Scoring: "two hands",
			Tempo:   state.Tempo{Low: 60, High: 80, Beat: "1", Source: "mark"},
			Hands: []state.HandTotal{
				{Hand: score.Left, Effort: state.Effort{{Criterion: "stretch", MilliNats: 12}}, Measures: []int64{0}},
			},
		},
		Notes: []state.Note{},
	}
	for i := range rapid.IntRange(0, 5).Draw(t, "notes") {
		n := state.Note{
			N: i * 2, Measure: rapid.String().Draw(t, "measure"), MeasureIndex: i,
			Onset: score.Frac(int64(i), 3), Staff: 1 + i%2, Voice: "1", Pitch: "C4",
			Midi: 60, Hand: score.Right, Finger: 1 + i%5,
		}
		if rapid.Bool().Draw(t, "rich") {
			share, reach := state.Percent(rapid.IntRange(0, 100).Draw(t, "share")), state.Percent(7)
			n.Confidence, n.Reach = &share, &reach
			n.Effort = state.Effort{{Criterion: "stretch", MilliNats: -3}, {Criterion: "keys", MilliNats: 7}}
			n.Printed, n.Tied, n.Responsibility = true, true, score.Composer
			n.Alternatives = []state.Alternative{{Finger: 2, Regret: 0}}
			n.Source = []state.Source{{Text: "<3>", Fingers: []int{3}, Responsibility: score.Composer}}
			n.Substitution = []int{5}
		}
		r.Notes = append(r.Notes, n)
	}
	return r
}

func TestEveryResultIsValidAndComesBackTheSame(t *testing.T) {
	schema := compileSchema(t)
	rapid.Check(t, func(t *rapid.T) {
		want := anyResult(t)
		data, err := state.Encode(want)
		require.NoError(t, err)
		require.NoError(t, validate(t, schema, data), string(data))
		got, err := state.Decode(data)
		require.NoError(t, err)
		require.Empty(t, cmp.Diff(want, got))
		again, err := state.Encode(got)
		require.NoError(t, err)
		require.Equal(t, string(data), string(again))
	})
}

func TestSchemaRefusesWhatTheContractForbids(t *testing.T) {
	schema := compileSchema(t)
	base := func() *state.Result {
		return &state.Result{Version: state.Version, Piece: "p",
			Inputs:  state.Inputs{Score: zeros, Policy: zeros, Weights: zeros, Engine: "1"},
			Summary: state.Summary{Hands: []state.HandTotal{}, Tempo: state.Tempo{Beat: "1"}},
			Notes: []state.Note{
				{Measure: "1", Staff: 1, Voice: "1", Pitch: "C4", Midi: 60, Hand: score.Right, Finger: 3},
			}}
	}
	ok, err := state.Encode(base())
	require.NoError(t, err)
	require.NoError(t, validate(t, schema, ok))
	for name, spoil := range map[string]func(*state.Result){
		"sixth finger":       func(r *state.Result) { r.Notes[0].Finger = 6 },
		"no hand":            func(r *state.Result) { r.Notes[0].Hand = score.NoHand },
		"three alternatives": func(r *state.Result) { r.Notes[0].Alternatives = make([]state.Alternative, 3) },
		"bad sum":            func(r *state.Result) { r.Inputs.Score = "abc" },
	} {
		r := base()
		spoil(r)
		data, err := state.Encode(r)
		require.NoError(t, err)
		require.Error(t, validate(t, schema, data), name)
	}
}

const zeros = "0000000000000000000000000000000000000000000000000000000000000000"

func TestDecodeRefusesOtherVersionsAndUnknownKeys(t *testing.T) {
	_, err := state.Decode([]byte(`{"version":99,"piece":"p","notes":[]}`))
	require.ErrorContains(t, err, "version 99")
	_, err = state.Decode([]byte(`{"version":1,"colour":"red"}`))
	require.ErrorContains(t, err, "colour")
}
