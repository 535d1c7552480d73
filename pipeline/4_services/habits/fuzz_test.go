package habits_test

import (
	"testing"

	"fingerproof/pipeline/4_services/habits"
	"fingerproof/rules/effort"

	"github.com/stretchr/testify/require"
)

// FuzzFitted: fitted weights that are read can be added to any table, or are refused.
func FuzzFitted(f *testing.F) {
	file := habits.File{Base: "aa", When: "2026-03-01", Changes: &effort.Weights{Name: "none", Provenance: "a test"}}
	data, err := file.Encode()
	require.NoError(f, err)
	f.Add(data)
	f.Fuzz(func(t *testing.T, data []byte) {
		read, err := habits.Decode(data)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		_, err = read.On(effort.Delivered(), read.Base)
		require.NoError(t, err)
	})
}
