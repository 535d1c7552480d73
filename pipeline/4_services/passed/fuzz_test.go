package passed_test

import (
	"testing"

	"fingerproof/pipeline/4_services/passed"

	"github.com/stretchr/testify/require"
)

// FuzzPassed: a passed state that is read is written and read again as the same, or the error names the file.
func FuzzPassed(f *testing.F) {
	data, err := passed.Encode(small())
	require.NoError(f, err)
	f.Add(data)
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := passed.Decode("passed/op7.json", data)
		if err != nil {
			require.Contains(t, err.Error(), "passed/op7.json")
			return
		}
		once, err := passed.Encode(s)
		require.NoError(t, err)
		back, err := passed.Decode("passed/op7.json", once)
		require.NoError(t, err)
		twice, err := passed.Encode(back)
		require.NoError(t, err)
		require.Equal(t, string(once), string(twice))
	})
}
