package thin_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/rules/hand"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// fingered makes a piece of struck notes, some of them chords, with any
// fingering at all: the reader must recover even a bad one.
func fingered(t *rapid.T, digits string) thin.Fingered {
	in := thin.Fingered{Score: &score.Score{}, Profile: hand.NinthHand,
		Style: thin.Style{Digits: digits, Density: rapid.SampledFrom([]int{0, 16, 44}).Draw(t, "density"), Chords: "all", First: true}}
	var hands playing.Hands
	for m := range rapid.IntRange(1, 5).Draw(t, "measures") {
		in.Score.Measures = append(in.Score.Measures,
			score.Measure{Index: m, Start: score.Whole(int64(4 * m)), Length: score.Whole(4)})
		for onset := range 4 {
			for _, h := range []score.Hand{score.Right, score.Left} {
				for range rapid.IntRange(0, 3).Draw(t, "keys") {
					in.Score.Notes = append(in.Score.Notes, score.Note{
						Measure: m, Onset: score.Whole(int64(onset)), Duration: score.Whole(1),
						Midi: rapid.IntRange(30, 90).Draw(t, "key"), TiedFrom: -1, TiedTo: -1,
					})
					plays(&hands, h)
					in.Finger = append(in.Finger, rapid.IntRange(1, 5).Draw(t, "finger"))
					in.Stands = append(in.Stands, rapid.IntRange(0, 9).Draw(t, "stands") == 0)
				}
			}
		}
	}
	in.Playing = playing.New(in.Score, hands)
	return in
}

// plays adds a note that a hand plays.
func plays(hands *playing.Hands, h score.Hand) {
	hands.Piano, hands.Hand, hands.Player = append(hands.Piano, true), append(hands.Hand, h), append(hands.Player, 0)
}

func TestReadingThePrintedDigitsGivesTheWholeFingeringBack(t *testing.T) {
	for _, digits := range []string{"every-note", "study", "performance", "sparse"} {
		rapid.Check(t, func(t *rapid.T) {
			in := fingered(t, digits)
			require.Equal(t, append([]int{}, in.Finger...), thin.Read(in, thin.Plan(in)), digits)
		})
	}
}

// The barest digits give the whole fingering back, whatever it is.
func TestTheBarestDigitsTellTheRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := fingered(t, "sparse")
		require.Equal(t, append([]int{}, in.Finger...), thin.Read(in, thin.Barest(in)))
	})
}

func TestNothingIsPrintedTwiceOrForTheComposerAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := fingered(t, "study")
		for i, printed := range thin.Plan(in) {
			require.False(t, printed && in.Stands[i])
		}
		in.Style.Digits = "composer-only"
		require.NotContains(t, thin.Plan(in), true)
	})
}

// Five fingers on five neighbouring keys (FACTS §4.8, common practice) need
// one digit; a scale one at each shift of the hand.
func TestDigitsStandWhereTheHandMoves(t *testing.T) {
	plan := func(keys, fingers []int) string {
		in := thin.Fingered{
			Score: &score.Score{Measures: []score.Measure{{Length: score.Whole(16)}}},
			Style: thin.Style{Digits: "performance", Density: 24, Chords: "all", First: true}, Profile: hand.NinthHand,
		}
		var hands playing.Hands
		for i, k := range keys {
			in.Score.Notes = append(in.Score.Notes, score.Note{
				Onset: score.Frac(int64(i), 4), Duration: score.Frac(1, 4), Midi: k, TiedFrom: -1,
				TiedTo: -1,
			})
			plays(&hands, score.Right)
			in.Finger, in.Stands = append(in.Finger, fingers[i]), append(in.Stands, false)
		}
		in.Playing = playing.New(in.Score, hands)
		out := ""
		for i, p := range thin.Plan(in) {
			if p {
				out += string(rune('0' + fingers[i]))
			} else {
				out += "."
			}
		}
		return out
	}
	require.Equal(t, "1....", plan([]int{60, 62, 64, 65, 67}, []int{1, 2, 3, 4, 5}))
	scale := plan([]int{60, 62, 64, 65, 67, 69, 71, 72}, []int{1, 2, 3, 1, 2, 3, 4, 5})
	require.Equal(t, byte('1'), scale[0])
	require.Equal(t, byte('1'), scale[3], "the thumb that passes under: %s", scale)
	require.Equal(t, "..", scale[1:3])
	require.LessOrEqual(t, len(scale)-countDots(scale), 4, scale)
}

// Out of courtesy digits stand where a system begins, on a new page too whose
// first system has the number of the one before.
func TestCourtesyAtTheBeginningOfASystem(t *testing.T) {
	in := thin.Fingered{Score: &score.Score{}, Style: thin.Style{Digits: "sparse", Chords: "all"}, Profile: hand.NinthHand}
	var hands playing.Hands
	layout := [][2]int{{1, 1}, {1, 1}, {1, 2}, {2, 2}, {2, 2}, {3, 1}} // page and system of each measure
	for m, at := range layout {
		in.Score.Measures = append(in.Score.Measures, score.Measure{
			Index: m, Page: at[0], System: at[1], Start: score.Whole(int64(4 * m)), Length: score.Whole(4),
		})
		for k, key := range []int{60, 62, 64, 62} {
			in.Score.Notes = append(in.Score.Notes, score.Note{
				Measure: m, Onset: score.Whole(int64(k)), Duration: score.Whole(1), Midi: key,
				TiedFrom: -1, TiedTo: -1,
			})
			plays(&hands, score.Right)
			in.Finger, in.Stands = append(in.Finger, []int{1, 2, 3, 2}[k]), append(in.Stands, false)
		}
	}
	in.Playing = playing.New(in.Score, hands)
	places := func() (out []int) {
		for i, printed := range thin.Plan(in) {
			if printed {
				out = append(out, i)
			}
		}
		return out
	}
	without := places()
	in.Style.System = true
	with := places()
	for _, begins := range []int{8, 12, 20} {
		require.Contains(t, with, begins)
		require.NotContains(t, without, begins)
	}
	require.Less(t, len(with), 8, "%v", with)
}

func countDots(s string) (n int) {
	for _, c := range s {
		if c == '.' {
			n++
		}
	}
	return n
}
