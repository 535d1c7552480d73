package suggest_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/11_suggest"

	"github.com/stretchr/testify/require"
)

// A slur ends where it ends, in another voice of its part too, and not only where its number comes again; one that ends
// nowhere goes on until then, as before.
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
	require.Equal(t, []bool{true, true, true, true, false, false, false}, suggest.UnderSlurs(s))
	s.Notes[2].Slurs = []score.Slur{stop}
	require.Equal(t, []bool{true, true, false, false, false, false, false}, suggest.UnderSlurs(s), "in its own voice")
	s.Notes[5].Slurs = []score.Slur{stop}
	require.Equal(t, []bool{true, true, false, false, false, false, false}, suggest.UnderSlurs(s), "an end too many closes nothing")
}
