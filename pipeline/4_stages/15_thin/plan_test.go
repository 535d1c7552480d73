package thin_test

import (
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/rules/fingering/written"
	"fingerproof/rules/hand"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// passage is music of one hand as package written reads it, with its fingers: four measures' eighths to a line.
func passage(keys, fingers string, style thin.Style) thin.Fingered {
	in := thin.Fingered{Score: &score.Score{}, Style: style, Profile: hand.NinthHand}
	var hands playing.Hands
	for i, n := range written.Notes(keys, 0) {
		at := score.Frac(n.Onset.Num, n.Onset.Den)
		measure := int(n.Onset.Num) / 8
		for len(in.Score.Measures) <= measure {
			m := len(in.Score.Measures)
			in.Score.Measures = append(in.Score.Measures,
				score.Measure{Index: m, Start: score.Whole(int64(4 * m)), Length: score.Whole(4)})
		}
		in.Score.Notes = append(in.Score.Notes, score.Note{
			Measure: measure, Onset: at.Sub(score.Whole(int64(4 * measure))),
			Duration: score.Frac(n.End.Num-n.Onset.Num, 2), Midi: n.Key, TiedFrom: -1, TiedTo: -1,
		})
		plays(&hands, score.Right)
		in.Finger = append(in.Finger, int(strings.ReplaceAll(fingers, " ", "")[i]-'0'))
		in.Stands = append(in.Stands, false)
		in.Must = append(in.Must, false)
	}
	in.Playing = playing.New(in.Score, hands)
	return in
}

// printed shows a plan: the digits that are printed, a point for each other note.
func printed(in thin.Fingered) string {
	var b strings.Builder
	for i, p := range thin.Plan(in) {
		if p {
			b.WriteByte(byte('0' + in.Finger[i]))
		} else {
			b.WriteByte('.')
		}
	}
	return b.String()
}

const scaleKeys, scaleFingers = "c4 d4 e4 f4 g4 a4 b4 c5 b4 a4 g4 f4 e4 d4 c4", "123123454321321"

// How many digits a style prints in the scale of C, up and down: all; as many as its density asks for, where editors
// want them most; and at density 0 as few as tell the rest, where the hand moves (a panel of readers asked for the crossings).
func TestTheStylesInAScale(t *testing.T) {
	for _, c := range []struct {
		digits  string
		density int
		want    string
	}{
		{"every-note", 0, "123123454321321"}, {"composer-only", 44, "..............."}, {"study", 44, "1.31...5...13.."},
		{"performance", 20, "1..1........3.."}, {"performance", 0, "1..1........3.."}, {"sparse", 0, "1..1........3.."},
	} {
		style := thin.Style{Digits: c.digits, Density: c.density, Chords: "all"}
		require.Equal(t, c.want, printed(passage(scaleKeys, scaleFingers, style)), "%s, %d", c.digits, c.density)
	}
}

// The barest digits of the scale: where the hand begins, and where it crosses.
func TestTheBarestDigits(t *testing.T) {
	var numbered []int
	for i, p := range thin.Barest(passage(scaleKeys, scaleFingers, thin.Style{Digits: "study", Density: 44, Chords: "all", First: true})) {
		if p {
			numbered = append(numbered, i)
		}
	}
	require.Equal(t, []int{0, 3, 12}, numbered)
}

// What changes in one measure changes nothing far from it: a note of a melody's last measure has any other finger, and the
// digits of its first two measures and a half stay.
func TestWhatOneFingerChangesIsMadeGoodNowhereElse(t *testing.T) {
	const keys = "c4 e4 g4 a4 f4 d4 b3 c4 g4 c5 b4 d5 c5 a4 f4 d4 e4 g#4 b4 e5 d5 c5 b4 a4 g4 f4 e4 a4 g4 f4 d4 c4"
	const fingers = "12345213" + "25123214" + "21235432" + "15432321"
	for _, style := range []thin.Style{{Digits: "study", Density: 44}, {Digits: "performance", Density: 24}, {Digits: "sparse"}} {
		style.Chords, style.First = "needed", true
		want := printed(passage(keys, fingers, style))[:20]
		require.NotEqual(t, strings.Repeat(".", 20), want)
		for e := 24; e < 32; e++ {
			for f := '1'; f <= '5'; f++ {
				other := fingers[:e] + string(f) + fingers[e+1:]
				require.Equal(t, want, printed(passage(keys, other, style))[:20], "%s: %s", style.Digits, other)
			}
		}
	}
}

// Digits that the reader could do without: on the first note of a hand, after a rest of so many quarters, where a
// passage comes again.
func TestDigitsOutOfCourtesy(t *testing.T) {
	style := thin.Style{Digits: "sparse", Chords: "all"}
	const keys, fingers = "e4 f4 g4 f4 e4 r r r r e4 d4 c4", "34543321"
	require.Equal(t, "........", printed(passage(keys, fingers, style)))
	style.First = true
	require.Equal(t, "3.......", printed(passage(keys, fingers, style)))
	style.RestQuarters = 2
	require.Equal(t, "3....3..", printed(passage(keys, fingers, style)), "two quarters' rest")
	style.RestQuarters = 3
	require.Equal(t, "3.......", printed(passage(keys, fingers, style)))
	for _, c := range []struct {
		digits, keys, fingers, want string
		later                       []int
	}{
		{"performance", "e4 f4 g4 f4 a4 e4 f4 g4 f4", "345453454", "3....3...", []int{5, 6, 7, 8}},
		{"sparse", "e4 f4 g4 f4 a4 e4 f4 g4 f4", "345453454", ".....3...", []int{5, 6, 7, 8}}, // as few as can be
		{"performance", "e4 f4 g4 f4 e4 f4 g4 f4", "34543454", "........", []int{4, 5, 6, 7}}, // a figure that comes again at once is no return
	} {
		again := passage(c.keys, c.fingers, thin.Style{Digits: c.digits, Chords: "all"})
		again.Returns = []parallel.Return{{Kind: parallel.Exact, First: []int{0, 1, 2, 3}, Later: c.later}, {Kind: parallel.Exact}}
		require.Equal(t, strings.Repeat(".", len(c.fingers)), printed(again))
		again.Style.Return = true
		require.Equal(t, c.want, printed(again), "the later passage begins with its digit, and the first one, too")
	}
}

// A passage that begins with the thumb has its digit in the sparsest style as well, without any courtesy: no reader takes it for
// the first finger unasked. The courtesies add what they add elsewhere.
func TestAPassageFromTheThumbHasItsFirstDigit(t *testing.T) {
	style := thin.Style{Digits: "sparse", Chords: "all"}
	require.Equal(t, "1....", printed(passage("c4 d4 e4 f4 g4", "12345", style)))
	const keys, fingers = "c4 d4 e4 f4 g4 r r r r e4 d4 c4", "12345321"
	require.Equal(t, "1.......", printed(passage(keys, fingers, style)))
	style.First = true
	require.Equal(t, "1.......", printed(passage(keys, fingers, style)))
	style.RestQuarters = 2
	require.Equal(t, "1....3..", printed(passage(keys, fingers, style)), "two quarters' rest")
	style.RestQuarters = 3
	require.Equal(t, "1.......", printed(passage(keys, fingers, style)))
	for _, c := range []struct {
		keys, fingers, plain, want string
		later                      []int
	}{
		{"c4 d4 e4 d4 f4 c4 d4 e4 d4", "123241232", "1........", "1....1...", []int{5, 6, 7, 8}},
		{"c4 d4 e4 d4 c4 d4 e4 d4", "12321232", "1.......", "1.......", []int{4, 5, 6, 7}}, // at once it is no return
	} {
		again := passage(c.keys, c.fingers, thin.Style{Digits: "sparse", Chords: "all"})
		again.Returns = []parallel.Return{{Kind: parallel.Exact, First: []int{0, 1, 2, 3}, Later: c.later}, {Kind: parallel.Exact}}
		require.Equal(t, c.plain, printed(again))
		again.Style.Return = true
		require.Equal(t, c.want, printed(again))
	}
}

// What is printed of a chord that gets digits: all, the outer ones, or those that the reader needs.
func TestTheDigitsOfChords(t *testing.T) {
	const keys = "c4+e4+g4 d4+f4+a4 e4+g4+c5"
	for _, c := range []struct{ digits, chords, fingers, want string }{
		{"every-note", "all", "135135125", "135135125"}, {"every-note", "needed", "135135125", "135135125"},
		{"every-note", "outer", "135135125", "1.51.51.5"},
		{"study", "all", "124235125", "124235125"}, {"performance", "outer", "124235125", "1.42.5..."},
		{"sparse", "needed", "124235125", "..4235..."}, // 2 alone would be read as the outermost key's, 5 beside it leaves out one
		{"study", "outer", "135135135", "......135"},   // 3 between 1 and 5 is needed where 2 is what one would take
	} {
		got := printed(passage(keys, c.fingers, thin.Style{Digits: c.digits, Chords: c.chords}))
		require.Equal(t, c.want, got, "%s, %s of %s", c.digits, c.chords, c.fingers)
	}
	must := passage(keys, "124235135", thin.Style{Digits: "every-note", Chords: "outer"})
	must.Must[1] = true
	require.Equal(t, "1242.51.5", printed(must), "what must be printed is, inside too")
	must.Style = thin.Style{Digits: "performance", Chords: "needed"}
	require.Equal(t, "12", strings.ReplaceAll(printed(must)[:2], ".", "1"), "and is not taken away again")
	must.Style.Digits = "composer-only"
	require.Equal(t, ".2.......", printed(must), "where the composer's stand alone, nothing else")
}

// No digit is added to a note that is tied on, that has one already, that no piano plays or that has no finger.
func TestNotesThatGetNoDigit(t *testing.T) {
	for _, digits := range []string{"every-note", "composer-only"} {
		in := passage("c4 d4 e4 f4 g4", "12345", thin.Style{Digits: digits, Chords: "all"})
		for i := range in.Must {
			in.Must[i] = true
		}
		in.Score.Notes[1].TiedFrom, in.Score.Notes[1].Midi = 0, in.Score.Notes[0].Midi
		in.Playing = playing.New(in.Score, rightHand(5))
		in.Stands[2] = true
		in.Finger[3] = 0
		require.Equal(t, "1...5", printed(in), digits)
	}
	in := passage("c4 d4 e4", "123", thin.Style{Digits: "every-note", Chords: "all"})
	hands := rightHand(3)
	hands.Piano[1] = false
	in.Playing = playing.New(in.Score, hands)
	require.Equal(t, "1.3", printed(in))
}

func rightHand(notes int) (hands playing.Hands) {
	for range notes {
		plays(&hands, score.Right)
	}
	return hands
}

// Whatever is printed of chords, whatever stands already, must be printed, has no finger or comes again: from what
// is printed the reader reads the whole fingering, and what must be printed is.
func TestWhateverIsPrintedTellsTheRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := fingered(t, rapid.SampledFrom([]string{"study", "performance", "sparse"}).Draw(t, "digits"))
		in.Style = thin.Style{
			Digits: in.Style.Digits, Density: rapid.SampledFrom([]int{0, 24, 44}).Draw(t, "density"),
			EachTime: rapid.Bool().Draw(t, "each time"),
			Chords:   rapid.SampledFrom([]string{"all", "outer", "needed"}).Draw(t, "chords"),
			First:    rapid.Bool().Draw(t, "first"), RestQuarters: rapid.IntRange(0, 2).Draw(t, "rest"),
			Return: rapid.Bool().Draw(t, "return"),
		}
		in.Must = make([]bool, len(in.Finger))
		for i := range in.Must {
			in.Must[i] = rapid.IntRange(0, 7).Draw(t, "must") == 0
			if rapid.IntRange(0, 9).Draw(t, "none") == 0 {
				in.Finger[i] = 0
			}
		}
		if n := len(in.Finger) / 2; n > 0 {
			var r parallel.Return
			for i := range n {
				r.First, r.Later = append(r.First, i), append(r.Later, n+i)
			}
			in.Returns = []parallel.Return{r}
		}
		plan := thin.Plan(in)
		require.Equal(t, append([]int{}, in.Finger...), thin.Read(in, plan))
		for i, p := range plan {
			if in.Must[i] && !in.Stands[i] && in.Finger[i] > 0 {
				require.True(t, p)
			}
			if p {
				require.False(t, in.Stands[i] || in.Finger[i] == 0)
			}
		}
	})
}
