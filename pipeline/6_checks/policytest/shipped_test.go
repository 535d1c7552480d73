package policytest_test

import (
	"strings"
	"testing"

	"fingerproof/pipeline"
	"fingerproof/pipeline/6_checks/policytest"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

var weights = pipeline.ShippedWeights()

// The shipped styles carry tests and pass them. The digits of the scales are
// the handbook's (FACTS §4.1, C major, read in a secondary text).
func TestTheShippedStylesPassTheirTests(t *testing.T) {
	for _, style := range policies.Shipped() {
		data := policies.StyleTests(style)
		require.NotNil(t, data, style)
		tests, named, err := policytest.Parse(style, data)
		require.NoError(t, err)
		require.Equal(t, style, named)
		require.GreaterOrEqual(t, len(tests), 6, style)
		p, err := policies.ByName(style)
		require.NoError(t, err)
		for i := range tests {
			require.Empty(t, policytest.Run(&tests[i], p, weights).Faults, tests[i].Place())
		}
	}
}

// A test that expects the wrong thing fails, whatever it expects.
func TestWhatIsNotAsExpectedIsTold(t *testing.T) {
	for expect, want := range map[string]string{
		"digits: 5 4 3 2 1":               `digits: expected "5 4 3 2 1", came out as "1 2 3 4 5"`,
		"digits: 1 2 3":                   "digits: expected",
		"printed: o o o o o":              "printed: expected",
		"marks: bold bold bold bold bold": "marks: expected",
		"findings: [span-beyond-hand]":    "findings: expected",
	} {
		tests, _, err := policytest.Parse("a.yaml",
			[]byte("tests:\n  - name: x\n    right: C4/8 D4 E4 F4 G4/2\n    "+expect+"\n"))
		require.NoError(t, err)
		faults := policytest.Run(&tests[0], policies.Default(), weights).Faults
		require.Len(t, faults, 1)
		require.Contains(t, faults[0], want)
	}
}

func TestTheExampleReadsAndHolds(t *testing.T) {
	tests, style, err := policytest.Parse("a.yaml", []byte(policytest.Example))
	require.NoError(t, err)
	p, err := policies.ByName(style)
	require.NoError(t, err)
	for i := range tests {
		require.Empty(t, policytest.Run(&tests[i], p, weights).Faults)
	}
}

func TestFaultsOfTestFilesAreNamed(t *testing.T) {
	for text, want := range map[string]string{
		"tests:\n  - {right: C4, digits: \"1\"}":                "a.yaml:2:5: a test needs a name",
		"tests:\n  - {name: x, digits: \"1\"}":                  "a test needs music",
		"tests:\n  - {name: x, right: C4}":                      "the test expects nothing",
		"tests:\n  - {name: x, right: H4, digits: \"1\"}":       `"H4" is no note`,
		"tests:\n  - {name: x, rihgt: C4, digits: \"1\"}":       `did you mean "right"`,
		"tests:\n  - {name: x, right: C4, time: x, printed: x}": `the time "x" is none`,
		"tests:\n  - {name: x, right: C4, digits: \".\"}":       "the test expects nothing",
		"tests:\n  - {name: x, right: C4, findings: [no-such]}": `a.yaml:2:37: there is no rule of lint "no-such"`,
		"tests: []": "holds no test",
		"":          "holds no test",
	} {
		_, _, err := policytest.Parse("a.yaml", []byte(text))
		require.ErrorContains(t, err, want, strings.ReplaceAll(text, "\n", " / "))
	}
}
