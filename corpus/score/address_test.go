package score_test

import (
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// anyNotes draws notes that crowd together: few places, few keys.
func anyNotes(t *rapid.T) *score.Score {
	s := &score.Score{Measures: make([]score.Measure, 3), Parts: make([]score.Part, 2)}
	for range rapid.IntRange(0, 40).Draw(t, "notes") {
		s.Notes = append(s.Notes, score.Note{
			Part: rapid.IntRange(0, 1).Draw(t, "part"), Measure: rapid.IntRange(0, 2).Draw(t, "measure"),
			Onset: score.Frac(int64(rapid.IntRange(0, 2).Draw(t, "onset")), 2),
			Staff: rapid.IntRange(1, 2).Draw(t, "staff"), Grace: rapid.IntRange(0, 1).Draw(t, "grace"),
			Midi: rapid.IntRange(60, 61).Draw(t, "key"),
			Kind: score.NoteKind(rapid.IntRange(0, 1).Draw(t, "kind")),
		})
	}
	return s
}

// No two notes share an address, and within one place ordinals count from
// nought in order of part, staff and document.
func TestAddressesAreUnique(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyNotes(t)
		addresses := s.Addresses()
		require.Len(t, addresses, len(s.Notes))
		where := map[score.Address]int{}
		for i, a := range addresses {
			_, twice := where[a]
			require.False(t, twice, "%s", a)
			where[a] = i
			require.Equal(t, s.Notes[i].Kind == score.Pitched, a.Midi >= 0)
		}
		for a, i := range where {
			if a.Ordinal == 0 {
				continue
			}
			a.Ordinal--
			j, there := where[a]
			require.True(t, there, "ordinals leave no gap")
			m, n := &s.Notes[j], &s.Notes[i]
			require.LessOrEqual(t, m.Part, n.Part)
			if m.Part == n.Part {
				require.LessOrEqual(t, m.Staff, n.Staff)
				require.True(t, m.Staff < n.Staff || j < i)
			}
		}
	})
}

// Adding a note elsewhere changes no address: that is what addresses are for.
func TestAddressesHoldWhenOtherNotesChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyNotes(t)
		before := s.Addresses()
		elsewhere := score.Note{
			Measure: rapid.IntRange(0, 2).Draw(t, "measure"), Onset: score.Whole(3), Staff: 1, Midi: 60,
		}
		at := rapid.IntRange(0, len(s.Notes)).Draw(t, "at")
		s.Notes = append(s.Notes[:at:at], append([]score.Note{elsewhere}, s.Notes[at:]...)...)
		after := s.Addresses()
		require.Equal(t, before, append(after[:at:at], after[at+1:]...))
	})
}

func TestAddressesInWords(t *testing.T) {
	require.Equal(t, "3+1/2 67", score.Address{Measure: 3, Onset: score.Frac(1, 2), Midi: 67}.String())
	require.Equal(t, "0+0 60.g2#1", score.Address{Midi: 60, Grace: 2, Ordinal: 1}.String())
}

func TestAddressesAreReadAsTheyArePrinted(t *testing.T) {
	for _, a := range []score.Address{
		{}, {Measure: 12, Onset: score.Frac(3, 2), Midi: 67}, {Measure: 3, Midi: 60, Grace: 2, Ordinal: 1}, {Midi: -1, Ordinal: 4},
	} {
		got, err := score.ParseAddress(a.String())
		require.NoError(t, err)
		require.Equal(t, a, got)
	}
	for _, text := range []string{"", "3", "3+x 60", "3+1/0 60", "3+1/2", "3+1/2 60.g", "99999999999999999999+0 60"} {
		_, err := score.ParseAddress(text)
		require.Error(t, err, text)
	}
}
