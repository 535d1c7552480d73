package opendata

import (
	"math/rand/v2"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
)

func TestEveryNthKeepsTheFirst(t *testing.T) {
	demo := shared.InProject("corpus", "demo")
	all, err := corpus.Open(demo)
	require.NoError(t, err)
	third, err := EveryNth(demo, 3)
	require.NoError(t, err)
	require.Len(t, third.Pieces, (len(all.Pieces)+2)/3)
	require.Equal(t, all.Pieces[0].ID, third.Pieces[0].ID)
	require.Equal(t, all.Pieces[3].ID, third.Pieces[1].ID)
	whole, err := EveryNth(demo, 0)
	require.NoError(t, err)
	require.Len(t, whole.Pieces, len(all.Pieces))
}

// What is done to one score does not depend on what was drawn for those before it.
func TestEachFileHasItsOwnChoices(t *testing.T) {
	scores := shared.InProject("corpus", "demo", "scores")
	files := []string{filepath.Join(scores, "op7-nocturne.musicxml"), filepath.Join(scores, "op12-2-waltz.musicxml")}
	second := func(drawn int) (out uint64) {
		require.NoError(t, EachFile(files, 4, func(name string, data []byte, rng *rand.Rand) error {
			require.NotEmpty(t, data)
			for range drawn {
				rng.Uint64()
			}
			if name == filepath.Base(files[0]) {
				drawn = 0
			} else {
				out = rng.Uint64()
			}
			return nil
		}))
		return out
	}
	require.Equal(t, second(0), second(7))
}

func TestScoresSaysWhereItLooked(t *testing.T) {
	_, err := Scores(t.TempDir(), 2)
	require.ErrorContains(t, err, filepath.Join("data", "fingered"))
	require.ErrorContains(t, err, "hint: ")
}
