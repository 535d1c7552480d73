package sarif_test

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/reports/sarif"
	"fingerproof/rules/lint/all"

	published "github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"
)

func finding(rule, print string) state.Finding {
	return state.Finding{
		Rule: rule, Severity: "error", Message: "C4 with 1\nand C6 with 5 lie too far apart", Measure: "12",
		MeasureIndex: 11, Onset: score.Frac(1, 2), Beat: "1, second eighth", Hand: score.Right, Line: 7, Column: 3,
		Fingerprint: print, Fix: "roll it",
	}
}

// withoutLine is a finding in a packed score.
func withoutLine(f state.Finding) state.Finding {
	f.Line, f.Column = 0, 0
	return f
}

func outcomes() []state.Outcome {
	return []state.Outcome{
		{
			Piece: "a b", File: "scores/a b #1.musicxml",
			Findings: []state.Finding{finding("span-beyond-hand", "11"), finding("span-beyond-hand", "22")},
			Stets: []state.Stet{
				{
					Finding: finding("finger-on-two-keys", "33"), By: "AB", When: "2026-01-02", Until: "2026-06-30",
					Why: "the thumb takes both",
				},
			},
		},
		{Piece: "packed", File: "packed.mxl", Findings: []state.Finding{withoutLine(finding("span-beyond-hand", "44"))}},
		{Piece: "gone", File: "gone.musicxml", Problem: "there is no\nsuch file"},
	}
}

func write(t *testing.T, b *state.Baseline, o []state.Outcome) (data []byte, run map[string]any) {
	var out bytes.Buffer
	for i := range o {
		if b != nil {
			o[i].Since = b.Since(&o[i])
		}
	}
	require.NoError(t, sarif.Write(&out, sarif.Report{Version: "0.1", Rules: all.Rules(), Outcomes: o}))
	var log map[string]any
	require.NoError(t, json.Unmarshal(out.Bytes(), &log))
	require.Equal(t, "2.1.0", log["version"])
	return out.Bytes(), log["runs"].([]any)[0].(map[string]any)
}

// publishedSchema is the schema as the library that we test against carries it in its source: it exports none.
func publishedSchema(t *testing.T) string {
	t.Helper()
	folder, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/owenrumney/go-sarif/v3").Output()
	require.NoError(t, err)
	text, err := os.ReadFile(filepath.Join(
		strings.TrimSpace(string(folder)), "pkg", "report", "v210", "sarif", "schema.go",
	))
	require.NoError(t, err)
	_, rest, ok := strings.Cut(string(text), "const schema = `")
	require.True(t, ok, "the library keeps the schema in another place")
	schema, _, _ := strings.Cut(rest, "`")
	require.Contains(t, schema, "docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json")
	return schema
}

// Against the schema the standards body published (OASIS, SARIF 2.1.0 errata 01).
func TestTheLogKeepsToThePublishedSchema(t *testing.T) {
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(publishedSchema(t)))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("sarif.json", doc))
	schema, err := c.Compile("sarif.json")
	require.NoError(t, err)
	for _, o := range [][]state.Outcome{nil, outcomes()} {
		first, _ := write(t, nil, o)
		b, is, err := sarif.ReadBaseline(first)
		require.NoError(t, err)
		require.True(t, is)
		second, _ := write(t, b, []state.Outcome{{Piece: "a b", File: "a.musicxml"}})
		for _, data := range [][]byte{first, second} {
			v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
			require.NoError(t, err)
			require.NoError(t, schema.Validate(v))
			// The library reads it, as programs of others will.
			report, err := published.FromBytes(data)
			require.NoError(t, err)
			require.Len(t, report.Runs, 1)
			require.Len(t, report.Runs[0].Tool.Driver.Rules, len(all.Rules()))
		}
	}
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(`{"version":"2.1.0","runs":[{"tool":{}}]}`))
	require.NoError(t, err)
	require.Error(t, schema.Validate(v), "the schema refuses a run without a driver")
}

// What viewers need (SARIF 2.1.0 §3.27): messages of one line that stand alone, paths that are relative references,
// places in characters, suppressions with a justification, every rule with help.
func TestResultsStandAlone(t *testing.T) {
	_, run := write(t, nil, outcomes())
	require.Equal(t, "unicodeCodePoints", run["columnKind"])
	rules := run["tool"].(map[string]any)["driver"].(map[string]any)["rules"].([]any)
	require.Len(t, rules, len(all.Rules()))
	for _, r := range rules {
		require.Greater(t, len(r.(map[string]any)["help"].(map[string]any)["text"].(string)), 80)
	}
	results := run["results"].([]any)
	require.Len(t, results, 4)
	suppressed := 0
	for _, r := range results {
		r := r.(map[string]any)
		message := r["message"].(map[string]any)["text"].(string)
		require.Equal(t, "m. 12, right hand, beat 1, second eighth: C4 with 1 and C6 with 5 lie too far apart; roll it", message)
		require.Equal(t, r["ruleId"], rules[int(r["ruleIndex"].(float64))].(map[string]any)["id"])
		physical := r["locations"].([]any)[0].(map[string]any)["physicalLocation"].(map[string]any)
		switch uri := physical["artifactLocation"].(map[string]any)["uri"]; uri {
		case "scores/a%20b%20%231.musicxml":
			require.Equal(t, map[string]any{"startLine": 7.0, "startColumn": 3.0}, physical["region"])
		case "packed.mxl":
			require.NotContains(t, physical, "region", "lines inside a packed file mean nothing outside")
		default:
			require.Fail(t, "unexpected place", "%v", uri)
		}
		require.NotContains(t, r, "baselineState")
		if s, ok := r["suppressions"]; ok {
			suppressed++
			require.Equal(
				t, "the thumb takes both (AB, 2026-01-02, until 2026-06-30)",
				s.([]any)[0].(map[string]any)["justification"],
			)
		}
	}
	require.Equal(t, 1, suppressed)
	require.Equal(t, false, run["invocations"].([]any)[0].(map[string]any)["executionSuccessful"])
}

func TestBaselineTellsNewUnchangedUpdatedAndAbsent(t *testing.T) {
	before, _ := write(t, nil, outcomes())
	b, is, err := sarif.ReadBaseline(before)
	require.NoError(t, err)
	require.True(t, is)
	milder, fresh := finding("span-beyond-hand", "22"), finding("span-beyond-hand", "55")
	milder.Severity = "note"
	after := []state.Outcome{
		{
			Piece: "a b", File: "moved.musicxml",
			Findings: []state.Finding{finding("span-beyond-hand", "11"), milder, fresh},
		},
		{Piece: "packed", File: "packed.mxl", Problem: "broken now"},
	}
	data, run := write(t, b, after)
	var states []string
	for _, r := range run["results"].([]any) {
		states = append(states, r.(map[string]any)["baselineState"].(string))
	}
	// The stet's finding is gone; of a piece that failed nothing can be said.
	require.Equal(t, []string{"unchanged", "updated", "new", "absent"}, states)
	b, _, err = sarif.ReadBaseline(data)
	require.NoError(t, err)
	require.Empty(t, b.Since(&after[0]).Absent, "what was absent is not looked for again")
}

func TestOtherFilesAreNoBaseline(t *testing.T) {
	_, is, err := sarif.ReadBaseline([]byte(`{"pieces":[]}`))
	require.NoError(t, err)
	require.False(t, is)
	_, is, err = sarif.ReadBaseline([]byte(`{"version":"2.0.0","runs":[]}`))
	require.True(t, is)
	require.ErrorContains(t, err, `its version is "2.0.0"`)
}
