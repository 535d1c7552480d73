package opendata

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/shared"
)

// sharedRoot is the folder of shared material; the test is skipped without it.
func TestFolder(t testing.TB) string {
	t.Helper()
	return filepath.Dir(shared.Folder(t, "data"))
}

// smallScores gives, of so many scores that are drawn from the shared material, the first with fewer bytes than size, at most most.
func SmallScores(t testing.TB, of, most int, size int64) (out []string) {
	t.Helper()
	material, err := Scores(TestFolder(t), of)
	require.NoError(t, err)
	for _, f := range material {
		if info, err := os.Stat(f); err == nil && info.Size() < size && len(out) < most {
			out = append(out, f)
		}
	}
	return out
}

// material reads the tables of the fingered material; the test is skipped without it.
func TestPieces(tb testing.TB) []*Piece {
	pieces, err := ReadPieces(shared.Folder(tb, "data/fingered"))
	if err != nil {
		tb.Fatal(err)
	}
	return pieces
}
