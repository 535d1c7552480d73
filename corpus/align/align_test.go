package align_test

import (
	"os"
	"path/filepath"
	"testing"

	"fingerproof/corpus/align"
	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
)

func demo(t *testing.T, path string) *score.Score {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	doc, err := source.Open(filepath.Base(path), data, source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	return s
}

func TestAScoreIsItself(t *testing.T) {
	files, err := filepath.Glob("../demo/scores/*.musicxml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 12)
	for _, f := range files {
		s := demo(t, f)
		a := align.Align(s, demo(t, f), align.Options{})
		for n := range s.Notes {
			if a.InA[n] {
				require.Equal(t, n, a.ToB[n], "%s, %s", f, s.Place(n))
			}
		}
	}
}

// Whatever is aligned, the two maps are each other's inverse, and witnesses
// of one piece, which differ in a few notes, find nearly all of each other.
func TestWitnessesFindEachOther(t *testing.T) {
	files, err := filepath.Glob("../demo/witnesses/*.musicxml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 5)
	for _, f := range files {
		id := filepath.Base(f)
		id = id[:len(id)-len(".X.musicxml")]
		a, b := demo(t, filepath.Join("../demo/scores", id+".musicxml")), demo(t, f)
		al := align.Align(a, b, align.Options{})
		found, notes := 0, 0
		for n := range a.Notes {
			if !al.InA[n] {
				continue
			}
			notes++
			if m := al.ToB[n]; m >= 0 {
				found++
				require.Equal(t, n, al.ToA[m])
			}
		}
		require.GreaterOrEqual(t, found*100, notes*95, "%s: %d of %d", f, found, notes)
	}
}
