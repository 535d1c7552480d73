package score_test

import (
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

func metre(beats string, nominal, unit score.Fraction) score.Measure {
	return score.Measure{Beats: beats, Nominal: nominal, Length: nominal, BeatUnit: unit}
}

// How musicians count (common practice): the felt beat, and in it the notes of
// the coarsest value that reach the moment; in a tuplet its own parts.
func TestABeatIsCountedInItsOwnParts(t *testing.T) {
	quarter, dotted, half := score.Whole(1), score.Frac(3, 2), score.Whole(2)
	for _, c := range []struct {
		in               score.Measure
		onset            score.Fraction
		word, short, key string
	}{
		{metre("4/4", score.Whole(4), quarter), score.Fraction{}, "1", "1", "1"},
		{metre("4/4", score.Whole(4), quarter), score.Whole(2), "3", "3", "3"},
		{metre("4/4", score.Whole(4), quarter), score.Frac(3, 2), "2, second eighth", "2, 2nd 8th", "2.2/8"},
		{metre("4/4", score.Whole(4), quarter), score.Frac(7, 4), "2, fourth sixteenth", "2, 4th 16th", "2.4/16"},
		{metre("4/4", score.Whole(4), quarter), score.Frac(1, 3), "1, second of three", "1, 2nd of 3", "1.2:3"},
		{metre("4/4", score.Whole(4), quarter), score.Frac(17, 5), "4, third of five", "4, 3rd of 5", "4.3:5"},
		{metre("4/4", score.Whole(4), quarter), score.Frac(31, 32), "1, 31/32 of a quarter after it",
			"1, 31/32 of a quarter after it", "1.32:32"}, // beyond sixty-fourths nobody counts
		{metre("6/8", score.Whole(3), dotted), score.Frac(5, 2), "2, third eighth", "2, 3rd 8th", "2.3/8"},
		{metre("6/8", score.Whole(3), dotted), score.Frac(1, 4), "1, second sixteenth", "1, 2nd 16th", "1.2/16"},
		{metre("6/8", score.Whole(3), dotted), score.Frac(9, 4), "2, fourth sixteenth", "2, 4th 16th", "2.4/16"},
		{metre("C|", score.Whole(4), half), score.Whole(3), "2, second quarter", "2, 2nd quarter", "2.2/4"},
		{metre("C|", score.Whole(4), half), score.Frac(7, 4), "1, 8th sixteenth", "1, 8th 16th", "1.8/16"},
		{metre("3/8", score.Frac(3, 2), score.Frac(1, 2)), score.Frac(5, 4), "3, second sixteenth", "3, 2nd 16th", "3.2/16"},
		{metre("senza misura", score.Fraction{}, score.Fraction{}), score.Whole(16), "17", "17", "17"},
	} {
		s := &score.Score{Measures: []score.Measure{c.in, c.in}}
		b := s.BeatAt(1, c.onset)
		require.Equal(t, c.word, b.String(), c.in.Beats)
		require.Equal(t, c.short, b.Short(), c.in.Beats)
		require.Equal(t, c.key, b.Key(), c.in.Beats)
		onsets, ok := s.Keyed(1, b.Key())
		require.True(t, ok)
		require.Equal(t, c.onset, onsets[0], "what is printed is read again: %s in %s", b.Key(), c.in.Beats)
	}
}

// An upbeat counts from the end, whether or not the file marks it as one, and a
// measure split by a repeat sign counts on (common practice).
func TestUpbeatsAndSplitMeasuresCountOn(t *testing.T) {
	four := metre("4/4", score.Whole(4), score.Whole(1))
	upbeat, first, second := four, four, four
	upbeat.Length, first.Length, second.Length, second.Implicit = score.Whole(1), score.Whole(3), score.Whole(1), true
	s := &score.Score{Measures: []score.Measure{upbeat, four, first, second, four}}
	require.Equal(t, "4, second eighth", s.Beat(0, score.Frac(1, 2)))
	s.Measures[0].Implicit = true
	require.Equal(t, "4, second eighth", s.Beat(0, score.Frac(1, 2)))
	require.Equal(t, "1", s.Beat(1, score.Fraction{}))
	require.Equal(t, "1", s.Beat(2, score.Fraction{}))
	require.Equal(t, "4", s.Beat(3, score.Fraction{}))
	require.Equal(t, "1", s.Beat(4, score.Fraction{}))

	// A part in the middle begins with an upbeat; a measure is split in two that are both marked.
	later, half1, half2 := four, four, four
	later.Length, later.Implicit = score.Whole(1), true
	half1.Length, half1.Implicit, half2.Length, half2.Implicit = score.Whole(2), true, score.Whole(2), true
	s = &score.Score{Measures: []score.Measure{four, later, four, half1, half2, four}}
	require.Equal(t, "4", s.Beat(1, score.Fraction{}))
	require.Equal(t, "1", s.Beat(3, score.Fraction{}))
	require.Equal(t, "3", s.Beat(4, score.Fraction{}))
}

func TestPlacesInWords(t *testing.T) {
	p := score.Spot{Measure: "42", Hand: score.Right, Beat: "2, third eighth", Pitch: "G4"}
	require.Equal(t, "m. 42, right hand, beat 2, third eighth, G4", p.Words())
	require.Equal(t, "m. 42, r.h., beat 2, third eighth, G4", p.Short())
	p.Grace = true
	require.Equal(t, "m. 42, right hand, grace note before beat 2, third eighth, G4", p.Words())
	require.Equal(t, "m. X1", score.Spot{Measure: "X1"}.Words())
}

// What sheets printed before is read still, and a moment may be keyed in a finer value.
func TestKeyedBeats(t *testing.T) {
	four := metre("4/4", score.Whole(4), score.Whole(1))
	first, second := four, four
	first.Length, second.Length, second.Implicit = score.Whole(2), score.Whole(2), true
	upbeat := four
	upbeat.Length, upbeat.Implicit = score.Whole(1), true
	s := &score.Score{Measures: []score.Measure{upbeat, four, first, second}}
	for _, c := range []struct {
		measure int
		word    string
		onsets  []score.Fraction
	}{
		{1, "3", []score.Fraction{score.Whole(2), score.Whole(2)}},
		{1, "3+1/2", []score.Fraction{score.Frac(5, 2)}},
		{1, "3.3/16", []score.Fraction{score.Frac(5, 2)}},
		{0, "4+1/2", []score.Fraction{score.Frac(1, 2)}},
		{3, "3", []score.Fraction{{}, score.Whole(2)}},   // the beginning of the second half
		{3, "1", []score.Fraction{score.Whole(-2), {}}},  // as it was called before
		{3, "1+1/2", []score.Fraction{score.Frac(1, 2)}}, // the same
		{3, "3.2/8", []score.Fraction{score.Frac(1, 2)}},
	} {
		got, ok := s.Keyed(c.measure, c.word)
		require.True(t, ok, c.word)
		require.Equal(t, c.onsets, got, "%s in measure %d", c.word, c.measure)
	}
	for _, word := range []string{"", "x", "3.", "3.2", "3.2/0", "3+", "3+1/0", "-1", "2,3/8"} {
		_, ok := s.Keyed(1, word)
		require.False(t, ok, word)
	}
}

// What an aligned score has before a measure of this one is named by how far before, not by ordinals below the first.
func TestBeforeAMeasureNoNotesAreCounted(t *testing.T) {
	s := &score.Score{Measures: []score.Measure{metre("3/4", score.Whole(3), score.Whole(1))}}
	b := s.BeatAt(0, score.Frac(-3, 2))
	require.Equal(t, "1, 3/2 of a quarter before it", b.String())
	require.Equal(t, "1, 3/2 of a quarter before it", b.Short())
}
