package pipeline

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is put into a bundle is found in the next one; where it is cut short, what is before that; and it stays within its
// bound without losing what a run asked for.
func TestABundleKeepsWhatIsPutIntoIt(t *testing.T) {
	s := &shelf{data: map[string][]byte{}}
	open := func() *bundle {
		b := &bundle{plain: s.kept(), key: "piece"}
		b.parts = bundledIn(b.plain.Get(b.key))
		return b
	}
	key := func(k int) string { return fmt.Sprintf("%064d", k) }
	b := open()
	require.Nil(t, b.get(key(1)))
	b.put(key(1), []byte("one"))
	b.put(key(2), nil)
	b.put(key(3), []byte(strings.Repeat("three", 100)))
	require.Zero(t, s.made, "nothing is written before the stages are through")
	b.close()
	require.Equal(t, 1, s.made)

	b = open()
	require.Equal(t, "one", string(b.get(key(1))))
	require.Empty(t, b.get(key(2)))
	require.Equal(t, strings.Repeat("three", 100), string(b.get(key(3))))
	b.close()
	require.Equal(t, 1, s.made, "nothing new, nothing written")
	b.put(key(4), []byte("afterwards"))
	require.Equal(t, "afterwards", string(b.get(key(4))))
	require.Equal(t, "afterwards", string(s.data[key(4)]), "an entry of its own")

	whole := s.data["piece"]
	for end := range whole {
		s.data["piece"] = whole[:end]
		b = open()
		require.LessOrEqual(t, len(b.parts), 3)
		if one := b.get(key(1)); one != nil {
			require.Equal(t, "one", string(one))
		}
		require.Nil(t, b.get(key(3)), "it is not whole")
	}

	s.data["piece"] = whole
	b = open()
	b.get(key(1))
	for k := range mostBundled {
		b.put(key(100+k), []byte{byte(k)})
	}
	b.close()
	b = open()
	require.Len(t, b.parts, mostBundled+1)
	require.NotNil(t, b.get(key(1)), "this run asked for it")
	require.Nil(t, b.get(key(3)))
}

// A job keeps what the stages of a piece came to in one entry, and takes it from there.
func TestAJobKeepsAPieceInOneEntry(t *testing.T) {
	s := &shelf{data: map[string][]byte{}}
	for round := range 2 {
		w := demoRun(t, "op12-2-waltz")
		w.Kept = s.kept()
		done := w.bundleKept()
		require.NoError(t, RunPiece(w))
		done()
		require.Equal(t, 1, s.made)
		require.Equal(t, round, s.found)
	}
}
