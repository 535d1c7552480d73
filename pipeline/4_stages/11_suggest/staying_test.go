package suggest_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/rules/parallel"
)

// fingersIn gives the fingers of one hand, measure by measure.
func fingersIn(t *testing.T, p memoryPassage, staff int) (out []string) {
	s := measuresOf(t, p)
	in := asked(t, s, p.Set, nil)
	in.Returns = parallel.Find(s, in.Playing)
	got := suggest.Suggest(in)
	for m := range s.Measures {
		out = append(out, fmt.Sprint(digitsOf(s, got, staff, m+1)))
	}
	return out
}

// The text has a digit at a key that is struck again, and none at the second stroke: the finger stays. Without
// memory it changes.
func TestAKeyStruckAgainBareKeepsTheFingerOfItsDigit(t *testing.T) {
	for _, c := range []struct{ music, stays string }{
		{"B5/16=3 G5=2 G5 A5 B5/4 C6/4 B5 | C6/2 B5", "[3 2 2 "},
		{"B5/8=5 G5=3 G5 F5 D5/4 B4 | C5/2 B4", "[5 3 3 "},
		{"G5/8=1 C6=4 C6 B5 G5/4 B5 | C6/2 B5", "[1 4 4 "},
	} {
		p := memoryPassage{Name: c.music, Right: c.music}
		require.Contains(t, fingersIn(t, p, 1)[0], c.stays)
		p.Set = map[string]any{"memory.refrains": 0}
		require.NotContains(t, fingersIn(t, p, 1)[0], c.stays, "without memory")
	}
}

// A digit at the first strokes of a passage goes by where the hand comes from: it is no reason to come to the passage so from
// elsewhere.
func TestADigitWhereAPassageIsEnteredIsNotCarried(t *testing.T) {
	const passage = "C#5/8%s E5%s G5/4 F#5/4 | F#5/8 E5 D5 C#5 E5 D5 C#5 A#4 | B4/2 F#4/2"
	music := "F#4/8 A#4 " + fmt.Sprintf(passage, "=1", "=3") + " | B4/8 A4 " + fmt.Sprintf(passage, "", "")
	got := fingersIn(t, memoryPassage{Name: "entered", Right: music}, 1)
	require.Equal(t, "[2 4 1 3 5 4]", got[0])
	require.Equal(t, "[3 1 2 3 5 4]", got[3], "the thumb is on A")
	require.Equal(t, got[1], got[4], "what follows is the same")
}

// Two hands that strike one key again, an octave apart, keep their fingers together.
func TestHandsInUnisonKeepTheirFingersTogether(t *testing.T) {
	right, left := "", ""
	for _, m := range []string{"G%d/8 G%d A%d B%d C%d C%d B%d A%d", "E%d/8 E%d F%d G%d A%d A%d G%d F%d", "C%d/8 E%d E%d G%d G%d E%d D%d D%d"} {
		right += strings.ReplaceAll(m, "%d", "5") + " | "
		left += strings.ReplaceAll(m, "%d", "4") + " | "
	}
	p := memoryPassage{Name: "unison", Right: right + "C5/1", Left: left + "C4/1"}
	apart := func() (n int) {
		s := measuresOf(t, p)
		got := suggest.Suggest(asked(t, s, p.Set, nil))
		for m := range 3 {
			r, l := digitsOf(s, got, 1, m+1), digitsOf(s, got, 2, m+1)
			for i := 1; i < len(r); i++ {
				same := strings.Fields(right)[9*m+i][0] == strings.Fields(right)[9*m+i-1][0]
				if same && (r[i] == r[i-1]) != (l[i] == l[i-1]) {
					n++
				}
			}
		}
		return n
	}
	require.Zero(t, apart())
	p.Set = map[string]any{"memory.refrains": 0}
	require.Equal(t, 2, apart(), "each hand for itself")
}

// Two keys that stand twice in one measure at the same place of a beat have the same fingers both times.
func TestTwoKeysTwiceInAMeasure(t *testing.T) {
	p := memoryPassage{Name: "pairs", Right: "C5/4 F#4 C5 F#4 | Bb4/4 F4 Bb4 F4 | Db5/4 A4 Db5 A4 | D5/1"}
	require.Equal(t, "[3 1 3 1]", fingersIn(t, p, 1)[1])
	p.Set = map[string]any{"memory.refrains": 0}
	require.Equal(t, "[4 1 3 1]", fingersIn(t, p, 1)[1], "each for itself")
}

// The text fingers a broken chord where it begins: what goes on to and fro bare keeps its digits, and so do its other times.
func TestAFigureGoesOnAsTheTextBeginsIt(t *testing.T) {
	const bare = "F#3/8 A3 D4 A3 D4 A3 F#3 A3"
	p := memoryPassage{Name: "begun", Right: "A4/1 | B4/1 | A4/1", Left: "F#3/8=5 A3=3 D4=1 A3 D4 A3 F#3 A3 | " + bare + " | D3/1"}
	got := fingersIn(t, p, 2)
	require.Contains(t, got[0], "[5 3 1 3 1 3 ")
	require.Contains(t, got[1], "[5 3 1 3 1 3 ")
	p.Set = map[string]any{"memory.refrains": 0}
	require.NotContains(t, fingersIn(t, p, 2)[0], "[5 3 1 3 1 3 ", "without memory")
}

// A grip of several keys that comes back bare in its measure has the digits that the text gives it there.
func TestAGripThatComesBackInItsMeasureHasTheTextsDigits(t *testing.T) {
	p := memoryPassage{Name: "grip", Right: "A4/1 | A4/1", Left: "G3+B3/8=4 D3 G3+B3 D3 G3+B3 D3 G3+B3 D3 | G3/1"}
	got := fingersIn(t, p, 2)[0]
	require.Equal(t, 4, strings.Count(got, "4"), got)
	p.Left = strings.Replace(p.Left, "=4", "=3", 1)
	got = fingersIn(t, p, 2)[0]
	require.Equal(t, 4, strings.Count(got, "3"), got)
}
