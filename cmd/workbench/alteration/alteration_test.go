package alteration

import (
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
)

// keysOf lists the keys that are struck, with their moments, sorted.
func keysOf(s *score.Score) (out [][3]int64) {
	for i := range s.Notes {
		if n := &s.Notes[i]; n.Kind == score.Pitched && n.TiedFrom < 0 {
			at := s.At(i)
			out = append(out, [3]int64{int64(n.Midi), at.Num(), at.Den()})
		}
	}
	slices.SortFunc(out, func(a, b [3]int64) int { return slices.Compare(a[:], b[:]) })
	return out
}

// Every alteration leaves a score that can be read; what means nothing leaves the keys alone, what counts plants a
// difference; and the original stays as it is.
func TestAlterationsAreWhatTheySayTheyAre(t *testing.T) {
	const name = "op7-nocturne.musicxml"
	data, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", name))
	require.NoError(t, err)
	o, err := Read(name, data)
	require.NoError(t, err)
	text, err := o.Text()
	require.NoError(t, err)
	applied := 0
	for i, a := range All {
		d := o.Draft(rand.New(rand.NewPCG(5, uint64(i))))
		if !a.Apply(d) {
			continue // the score has no place for it
		}
		applied++
		old, altered, truths, err := d.Finish()
		require.NoError(t, err, a.Name)
		if a.Neutral {
			require.Empty(t, truths, a.Name)
			require.Equal(t, keysOf(old.Score), keysOf(altered.Score), a.Name)
		} else {
			require.NotEmpty(t, truths, a.Name)
		}
		after, err := o.Text()
		require.NoError(t, err)
		require.Equal(t, text, after, "%s changed the original", a.Name)
	}
	require.Greater(t, applied, len(All)/2, "too few alterations found a place")
}

func TestTheSameSeedAltersAlike(t *testing.T) {
	const name = "op12-2-waltz.musicxml"
	data, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", name))
	require.NoError(t, err)
	o, err := Read(name, data)
	require.NoError(t, err)
	altered := func(seed uint64) string {
		d := o.Draft(rand.New(rand.NewPCG(seed, 0)))
		require.True(t, OtherPitch(d))
		_, _, _, err := d.Finish()
		require.NoError(t, err)
		return d.Text
	}
	require.Equal(t, altered(1), altered(1))
	require.NotEqual(t, altered(1), altered(2))
}
