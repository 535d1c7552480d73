package edition_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/edition"

	"github.com/stretchr/testify/require"
)

// tune is one digit a measure on rising keys, 1 2 3 4 5 1 2 …
func tune(measures int) *score.Score {
	s := &score.Score{}
	for m := range measures {
		s.Measures = append(s.Measures, score.Measure{Index: m, Start: score.Whole(int64(4 * m)), Length: score.Whole(4)})
		for k := range 3 {
			s.Notes = append(s.Notes, score.Note{
				Kind: score.Pitched, Measure: m, Onset: score.Whole(int64(k)), Midi: 60 + m + k, TiedFrom: -1, TiedTo: -1,
				Indications: []score.Indication{{Text: string(rune('1' + (m+k)%5))}},
			})
		}
	}
	return s
}

// recorded is the record of a tune: the digits on the first of each measure were added by an editor, the others are the composer's.
func recorded(s *score.Score) *edition.Embedded {
	addresses := s.Addresses()
	var page []edition.PageDigit
	for i := range s.Notes {
		d := edition.PageDigit{At: addresses[i], Digit: s.Notes[i].Indications[0].Text, Who: score.Composer}
		if i%3 == 0 {
			d.Who, d.Added = score.Editor, true
		}
		page = append(page, d)
	}
	e := edition.Embedded{
		Decided:         []edition.Decision{{N: 3, Verb: "amend", Fingers: []int{2}, By: "AB"}, {N: 9, Verb: "take", By: "AB"}},
		Redistributions: []edition.Redistribution{{ID: "r1", To: score.Left, Notes: []int{3, 6}, Fingers: []int{1, 2}}},
	}.WithMusic(s, page)
	return &e
}

// A score written anew fits whole, however its notes are numbered; what was changed by hand does not, and is counted.
func TestARecordIsHeldAgainstTheMusic(t *testing.T) {
	e := recorded(tune(6))
	h := e.Hold(tune(6))
	require.Equal(t, 18, h.Fit)
	require.Zero(t, h.Lost+h.Unknown+h.Dropped)
	require.Equal(t, score.Editor, h.Whose[0][0])
	require.True(t, h.Added[0][0])
	require.Equal(t, score.Composer, h.Whose[1][0])
	require.Len(t, h.Embedded.Decided, 2)

	// Rests come in first, as another program writes them: the notes bear other numbers.
	s := tune(6)
	s.Notes = append([]score.Note{{Kind: score.Rest, Midi: -1, TiedFrom: -1, TiedTo: -1}}, s.Notes...)
	h = e.Hold(s)
	require.Equal(t, 18, h.Fit)
	require.Equal(t, 4, h.Embedded.Decided[0].N, "named by its place in that score")
	require.Equal(t, []int{4, 7}, h.Embedded.Redistributions[0].Notes)

	// A digit is another, one is gone, one came in.
	s = tune(6)
	s.Notes[0].Indications[0].Text = "5"
	s.Notes[4].Indications = nil
	s.Notes[7].Indications = append(s.Notes[7].Indications, score.Indication{Text: "4"})
	h = e.Hold(s)
	require.Equal(t, []int{16, 2, 1, 2}, []int{h.Fit, h.Lost, h.AddedLost, h.Unknown})
	require.Equal(t, score.Unattributed, h.Whose[0][0])

	// Two measures came in before the third.
	s = tune(6)
	for i := range s.Notes {
		if s.Notes[i].Measure >= 2 {
			s.Notes[i].Measure += 2
		}
	}
	h = e.Hold(s)
	require.Equal(t, 18, h.Fit)
	require.Zero(t, h.Dropped)
	// Another piece altogether.
	h = e.Hold(&score.Score{})
	require.Equal(t, []int{0, 18, 3}, []int{h.Fit, h.Lost, h.Dropped})
}

// Records of older editions have no page, and a broken one is left out digit by digit.
func TestRecordsWithoutAPage(t *testing.T) {
	require.Nil(t, (&edition.Embedded{Whose: "cc"}).Hold(tune(1)))
	require.Nil(t, (*edition.Embedded)(nil).Hold(tune(1)))
	h := (&edition.Embedded{Page: "0+0 60 C1;nonsense;0+1 61 x2;;0+2 62 d3"}).Hold(tune(1))
	require.Equal(t, []int{2, 0, 1}, []int{h.Fit, h.Lost, h.Unknown})
}
