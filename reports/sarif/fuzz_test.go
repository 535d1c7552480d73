package sarif_test

import (
	"testing"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/reports/sarif"
)

// FuzzBaseline: an earlier report is read, or refused.
func FuzzBaseline(f *testing.F) {
	f.Add([]byte(`{"version":"2.1.0","runs":[{"tool":{"driver":{"name":"fingerproof"}},"results":[{"ruleId":"r","message":{"text":"m"},` +
		`"partialFingerprints":{"fingerproof/v1":"f"},"locations":[{"physicalLocation":{"artifactLocation":{"uri":"a.xml"}}}]}]}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		if b, is, err := sarif.ReadBaseline(data); is && err == nil {
			b.Since(&state.Outcome{Piece: "a", Findings: []state.Finding{{Rule: "r", Fingerprint: "f"}}})
		}
	})
}
