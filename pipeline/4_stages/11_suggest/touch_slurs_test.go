package suggest_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/11_suggest"

	"github.com/stretchr/testify/require"
)

// A slur ends where it ends, in another voice of its part too, and not only where its number comes again; one that ends
// nowhere joins nothing, for nobody can tell how far it goes.
func TestASlurThatEndsInAnotherVoiceEndsThere(t *testing.T) {
	start, stop := score.Slur{Number: 1, Start: true}, score.Slur{Number: 1}
	note := func(voice string, at int64, slurs ...score.Slur) score.Note {
		return score.Note{Voice: voice, Onset: score.Whole(at), Duration: score.Whole(1), Slurs: slurs, TiedFrom: -1, TiedTo: -1}
	}
	s := &score.Score{Measures: []score.Measure{{Number: "1"}}, Notes: []score.Note{
		note("1", 0, start), note("1", 1), note("1", 2), note("1", 3), note("2", 0), note("2", 2, stop), note("2", 3),
	}}
	require.Equal(t, []bool{true, true, false, false, false, false, false}, suggest.UnderSlurs(s))
	s.Notes[5].Slurs = nil
	require.Equal(t, make([]bool, 7), suggest.UnderSlurs(s), "no end")
	s.Notes[2].Slurs = []score.Slur{stop}
	require.Equal(t, []bool{true, true, false, false, false, false, false}, suggest.UnderSlurs(s), "in its own voice")
	s.Notes[5].Slurs = []score.Slur{stop}
	require.Equal(t, []bool{true, true, false, false, false, false, false}, suggest.UnderSlurs(s), "an end too many closes nothing")
}

// Ends are found by their numbers in the order of the document, within a part (MusicXML 4.0, number-level), not in the voice
// first: number 1 in voice 1 has ended in voice 2 before an end of number 1 stands in voice 1 again.
func TestSlursAreFollowedByTheirNumbersInThePart(t *testing.T) {
	start, stop := score.Slur{Number: 1, Start: true}, score.Slur{Number: 1}
	note := func(voice string, at int64, slurs ...score.Slur) score.Note {
		return score.Note{Voice: voice, Onset: score.Whole(at), Duration: score.Whole(1), Slurs: slurs, TiedFrom: -1, TiedTo: -1}
	}
	s := &score.Score{Measures: []score.Measure{{Number: "1"}}, Notes: []score.Note{
		note("1", 0, start), note("1", 1), note("2", 1, stop), note("5", 2, start), note("5", 3), note("1", 4, stop), note("5", 5),
	}}
	require.Equal(t, []bool{true, false, false, true, true, false, false}, suggest.UnderSlurs(s))
	// An end may stand in the document before its beginning, in a voice that is written first.
	s.Notes = []score.Note{note("1", 0), note("1", 2, stop), note("2", 0, start), note("2", 1), note("2", 2)}
	require.Equal(t, []bool{false, false, true, true, false}, suggest.UnderSlurs(s))
	// A slur belongs to the whole chord, at whichever of its notes it is written.
	s.Notes = []score.Note{note("1", 0), note("1", 0, start), note("1", 1), note("1", 1, stop)}
	s.Notes[1].Chord, s.Notes[3].Chord = true, true
	require.Equal(t, []bool{true, true, false, false}, suggest.UnderSlurs(s))
}
