package wording_test

import (
	"testing"

	"fingerproof/corpus/wording"

	"github.com/stretchr/testify/require"
)

func TestCount(t *testing.T) {
	require.Equal(t, "0 notes", wording.Count(0, "note"))
	require.Equal(t, "1 note", wording.Count(1, "note"))
	require.Equal(t, "2 notes", wording.Count(2, "note"))
}

func TestList(t *testing.T) {
	require.Empty(t, wording.List(nil))
	require.Equal(t, "a", wording.List([]string{"a"}))
	require.Equal(t, "a and b", wording.List([]string{"a", "b"}))
	require.Equal(t, "a, b and c", wording.List([]string{"a", "b", "c"}))
}

func TestCostsMore(t *testing.T) {
	for milliNats, want := range map[int]string{
		0: "costs the same", 4: "costs the same", 5: "costs more by 0.01", 310: "costs more by 0.31", 1250: "costs more by 1.25",
	} {
		require.Equal(t, want, wording.CostsMore(milliNats))
	}
}
