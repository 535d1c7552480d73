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

func TestAsLikely(t *testing.T) {
	for milliNats, want := range map[int]string{
		0: "as likely", 4: "as likely", 5: "99 in 100 as likely", 310: "73 in 100 as likely", 693: "50 in 100 as likely",
		4605: "1 in 100 as likely", 6000: "hardly likely", 1 << 30: "hardly likely",
		-693: "likelier, 2.0 times at least", -405: "likelier, 1.4 times at least", -9000: "likelier, 100 times at least",
	} {
		require.Equal(t, want, wording.AsLikely(milliNats), milliNats)
	}
}
