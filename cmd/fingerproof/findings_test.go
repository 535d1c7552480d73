package main

import (
	"bytes"
	"testing"

	"fingerproof/pipeline/3_records/state"

	"github.com/stretchr/testify/require"
)

// A form of report that nothing writes is an error, not text under its name.
func TestEachFormOfReportIsWritten(t *testing.T) {
	f := findings{
		fails:    everyFinding,
		outcomes: []state.Outcome{{Piece: "a", File: "a.musicxml", Findings: []state.Finding{{Rule: "r", Severity: "note", Message: "m"}}}},
	}
	written := map[string]string{}
	for _, format := range reportFormats {
		if (request{format: format}).isMatter() {
			continue
		}
		var out bytes.Buffer
		require.NoError(t, f.write(&out, format, false), format)
		for other, same := range written {
			require.NotEqual(t, same, out.String(), "%s and %s", format, other)
		}
		written[format] = out.String()
	}
	require.Len(t, written, 6)
	for _, format := range checkFormats {
		require.Contains(t, written, format)
	}
	require.ErrorContains(t, f.write(&bytes.Buffer{}, "csv", false), `"csv"`)
}
