package suggest_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/11_suggest"
)

// Chords that come again, with other music about them: an editor gives a chord one fingering in a short piece, and one row of
// strokes one fingering always (common practice, no source).
var chordPassages = []struct {
	name        string
	right, left string
	keys        int  // of the chords that are looked at
	alone       bool // fingered each time for itself one of them has more than one fingering
}{
	{"a chord among others", "F3+A3+C4/4 A3+C4+F4/4 F3+A3+C4 F3+Bb3+D4 | G3+Bb3+E4/4 F3+A3+C4/4 E3/8 G3 C4 E4 | F3+A3+C4/4 A4/8 G4 F4 E4 D4 C4 | F3+Bb3+D4/4 Bb3+D4+G4 E4/2", "", 3, true},
	{"a fifth struck on and on after other chords", "r/1 | r/1 | r/1", "A2+F#3/8 A2+F#3 A2+F#3 A2+G3 A2+G3 A2+G3 A2+E3+A3 A2+E3+A3 | D3+A3/8 D3+A3 D3+A3 D3+A3 D3+A3 D3+A3 D3+A3 r | D3+A3+D4/4 E3+A3+E4/4 r/2", 2, true},
	{"a fifth struck on before wider chords", "r/1 | r/1 | r/1", "A2+E3+A3/8 A2+E3+A3 D3+A3/8 D3+A3 D3+A3 D3+A3 D3+A3+D4 E3+A3+E4", 2, true},
}

func TestChordsThatComeAgainKeepTheirFingers(t *testing.T) {
	for _, p := range chordPassages {
		t.Run(p.name, func(t *testing.T) {
			s := measuresOf(t, memoryPassage{Name: p.name, Right: p.right, Left: p.left})
			one, alone := chordFingerings(t, s, p.keys, nil), chordFingerings(t, s, p.keys, map[string]any{"memory.refrains": 0})
			several := false
			for chord, ways := range one {
				require.Len(t, ways, 1, chord)
				several = several || len(alone[chord]) > 1
			}
			require.Equal(t, p.alone, several, "fingered each time for itself: %v", alone)
		})
	}
}

// chordFingerings gives the fingerings of chords of so many keys, by their keys.
func chordFingerings(t *testing.T, s *score.Score, keys int, set map[string]any) map[string]map[string]bool {
	t.Helper()
	in := asked(t, s, set, nil)
	got, out := suggest.Suggest(in), map[string]map[string]bool{}
	for l := range in.Playing.Lines {
		for _, st := range in.Playing.Lines[l].Strokes {
			if len(st.Notes) != keys {
				continue
			}
			chord, way := "", ""
			for _, n := range st.Notes {
				chord += s.Notes[n].Pitch.String()
				way += fmt.Sprint(got.Notes[n].Finger)
			}
			if out[chord] == nil {
				out[chord] = map[string]bool{}
			}
			out[chord][way] = true
		}
	}
	return out
}

// A key struck three times: the composer's 4 3 2 is carried to the other groups of the piece, and none goes to and fro.
func TestAKeyStruckAgainAndAgainIsFingeredAlike(t *testing.T) {
	const music = "Bb4/16=1 F5=4 F5=3 F5=2 Eb5 D5 C5 D5 G4/4 G4 | G4/16 G5 G5 G5 F5 Eb5 D5 C5 Bb4/4 A4 | Bb4/16 F5 F5 F5 G5 F5 Eb5 D5 C5/2"
	fingers := func(set map[string]any) (out []string) {
		s := measuresOf(t, memoryPassage{Name: "three strokes", Right: music})
		got := suggest.Suggest(asked(t, s, set, nil))
		for m := range s.Measures {
			out = append(out, fmt.Sprint(digitsOf(s, got, 1, m+1)[1:4]))
		}
		return out
	}
	require.Equal(t, []string{"[4 3 2]", "[4 3 2]", "[4 3 2]"}, fingers(nil))
	require.NotEqual(t, []string{"[4 3 2]", "[4 3 2]", "[4 3 2]"}, fingers(map[string]any{"memory.refrains": 0}))
}
