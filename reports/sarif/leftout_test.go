package sarif_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/reports/sarif"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"

	"github.com/stretchr/testify/require"
)

// A rule that every house style at hand leaves out is named as not enabled; one that some piece was looked through for is not.
func TestRulesLeftOutAreNotEnabled(t *testing.T) {
	rules := []*lint.Rule{all.Rules()[0], all.Rules()[1], all.Rules()[2]}
	off := map[string][]string{"a": {rules[0].Name, rules[1].Name}, "b": {rules[1].Name}}
	var b bytes.Buffer
	require.NoError(t, sarif.Write(&b, sarif.Report{
		Rules: rules, Outcomes: []state.Outcome{{Piece: "a", File: "a.xml"}, {Piece: "b", File: "b.xml"}, {Piece: "c", File: "c.xml", Problem: "gone"}},
		Off: func(o *state.Outcome, rule string) bool {
			for _, name := range off[o.Piece] {
				if name == rule {
					return true
				}
			}
			return false
		},
	}))
	var read struct {
		Runs []struct {
			Invocations []struct {
				Overrides []struct {
					Configuration struct{ Enabled *bool }
					Descriptor    struct {
						ID    string
						Index int
					}
				} `json:"ruleConfigurationOverrides"`
			}
		}
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &read))
	got := read.Runs[0].Invocations[0].Overrides
	require.Len(t, got, 1)
	require.Equal(t, rules[1].Name, got[0].Descriptor.ID)
	require.Equal(t, 1, got[0].Descriptor.Index)
	require.False(t, *got[0].Configuration.Enabled)
}
