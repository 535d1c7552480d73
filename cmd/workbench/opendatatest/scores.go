// Package opendatatest gives tests scores and tables of the shared material; a test is skipped, with the reason,
// where it is absent.
package opendatatest

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/shared"
)

// Folder is the folder of shared material.
func Folder(t testing.TB) string {
	t.Helper()
	return filepath.Dir(shared.Folder(t, "data"))
}

// Choice says which scores a test takes: of a sample of so many, the first of fewer bytes, at most so many.
type Choice struct {
	Of, Most int
	Bytes    int64
}

// SmallScores gives the files of the scores chosen.
func SmallScores(t testing.TB, c Choice) (out []string) {
	t.Helper()
	files, err := opendata.Scores(Folder(t), c.Of)
	require.NoError(t, err)
	for _, f := range files {
		if info, err := os.Stat(f); err == nil && info.Size() < c.Bytes && len(out) < c.Most {
			out = append(out, f)
		}
	}
	require.NotEmpty(t, out)
	return out
}

// Pieces reads the tables of the fingered material.
func Pieces(t testing.TB) []*opendata.Piece {
	t.Helper()
	pieces, err := opendata.ReadPieces(shared.Folder(t, "data/fingered"))
	require.NoError(t, err)
	return pieces
}
