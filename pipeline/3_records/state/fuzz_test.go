package state_test

import (
	"bytes"
	"testing"

	"fingerproof/pipeline/3_records/state"

	"github.com/stretchr/testify/require"
)

// FuzzResults: results are read back as they are written, or refused; so are their heads and earlier reports.
func FuzzResults(f *testing.F) {
	whole, err := state.Encode(&state.Result{
		Version: state.Version, Piece: "a", Notes: []state.Note{{N: 1, Measure: "1", Pitch: "C4", Midi: 60, Finger: 3}},
		Findings: []state.Finding{{Rule: "span", Severity: "warning", Message: "m", Fingerprint: "f"}},
	})
	require.NoError(f, err)
	f.Add(whole)
	f.Add([]byte(`{"pieces":[{"piece":"a","findings":[{"rule":"r"}],"stets":[{}]}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		if r, err := state.Decode(data); err == nil {
			again, err := state.Encode(r)
			require.NoError(t, err)
			back, err := state.Decode(again)
			require.NoError(t, err)
			twice, err := state.Encode(back)
			require.NoError(t, err)
			require.Equal(t, string(again), string(twice))
			_, err = state.DecodeHead(bytes.NewReader(again))
			require.NoError(t, err, "what is read whole is read by its head")
		}
		_, _ = state.DecodeHead(bytes.NewReader(data))
		if b, err := state.ReadBaseline(data); err == nil {
			b.Since(&state.Outcome{Piece: "a", Findings: []state.Finding{{Rule: "r", Fingerprint: "f", Address: "x"}}})
		}
	})
}
