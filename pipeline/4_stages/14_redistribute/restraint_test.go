package redistribute

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
)

// inMeasures is the finder at work on a passage that is cut into measures of a whole note.
func (p staged) inMeasures(t *testing.T) *finder {
	f := &finder{in: p.material(t)}
	s := f.in.Score
	for i := range s.Notes {
		n := &s.Notes[i]
		n.Measure = int(n.Onset.Num() / (4 * n.Onset.Den()))
		n.Onset = n.Onset.Sub(score.Whole(int64(4 * n.Measure)))
	}
	s.Measures = nil
	for m := range int64(4) {
		s.Measures = append(s.Measures, score.Measure{Start: score.Whole(4 * m), Length: score.Whole(4)})
	}
	f.load(0)
	return f
}

func (f *finder) chanceFor(hand int, reason string, ids ...int) *chance {
	list := f.inOrder(moving(ids...))
	return &chance{
		trouble: trouble{hand: hand, reason: reason, from: f.where.of(list[0]), to: f.where.of(list[len(list)-1])}, moved: moving(ids...),
	}
}

// Hands that meet share what meets and nothing more (what readers of offers said, and common practice).
func TestOnlyWhatMeetsIsInTheWay(t *testing.T) {
	moves := func(p staged, hand int, ids ...int) bool { return p.loaded(t).inTheWay(hand, moving(ids...)) }
	shared := staged{Right: "C4+E4+G4/2", Left: "E3+G3+C4/2"}
	require.True(t, moves(shared, 0, 0))
	require.True(t, moves(shared, 1, 5))
	require.False(t, moves(shared, 0, 0, 1), "its neighbour stays")
	require.True(t, moves(staged{Right: "C4+E4+A4/2", Left: "G3+C4+E4/2"}, 0, 0, 1), "both keys meet")
	between := staged{Right: "B3+E4+A4/2", Left: "G3+C4/2"}
	require.True(t, moves(between, 0, 0), "it lies between the left hand's keys")
	require.False(t, moves(between, 0, 0, 1))
	require.False(t, moves(staged{Right: "G4/4 B4", Left: "D4+G4+B4/2"}, 1, 3, 4), "B is struck anew by the right hand, and does not meet it here")
	require.False(t, moves(staged{Right: "C4+E4/4 D4", Left: "E3/4 C4"}, 0, 0), "the left hand strikes nothing there that it meets")
	require.False(t, moves(staged{Right: "r/4 C4+E4", Left: "E3+C4/2"}, 0, 0), "the left hand strikes nothing then")
	held := staged{Right: "C4+E4/4 ~C4+E4", Left: "E3+C4/8 r"}
	require.False(t, moves(held, 0, 0, 2), "the right hand holds it longer")
	require.True(t, moves(held, 1, 5), "and keeps it")
	rolling := shared.loaded(t)
	rolls := make([]score.Rolling, len(rolling.in.Score.Notes))
	for i := 3; i < len(rolls); i++ {
		rolls[i] = score.RolledUp
	}
	rolling.in.Playing = rolling.in.Playing.WithRolls(rolls)
	require.False(t, rolling.inTheWay(0, moving(0)), "a hand that rolls its chord takes nothing on")
	require.True(t, rolling.inTheWay(1, moving(5)))
}

// A hand does not cross over for one stroke within a beat.
func TestNoCrossingThereAndBackWithinABeat(t *testing.T) {
	over := func(left string, ids ...int) bool {
		f := staged{Right: "G4/1", Right2: "r/2 r/8 G5/8 A5", Left: left}.loaded(t)
		return f.thereAndBack(f.chanceFor(0, Crossing, ids...))
	}
	require.True(t, over("C4/2 A3/4 B3", 1), "a quarter of its own before and after")
	require.False(t, over("C4/2 A3/2", 1), "it need not be back")
	require.False(t, over("C4/2 r/4 B3", 1), "more than a beat")
	require.False(t, over("C4/2 A3/4 B3", 1, 2), "two strokes")
	f := staged{Right: "G4/1", Right2: "r/2 r/8 G5/8 A5", Left: "C4/2 A3/4 B3"}.loaded(t)
	require.False(t, f.thereAndBack(f.chanceFor(0, Turns, 1)), "other reasons have rules of their own")
}

// The end of a sweep helps nobody where the hand goes on beside it, or where the other hand has long had no part.
func TestNoEndOfASweepThatGoesOn(t *testing.T) {
	sweep := "C6/16 A5 F5 C5 A4 F4 C4/4"
	none := func(right, left string, reason string) bool {
		f := staged{Right: right, Left: left}.inMeasures(t)
		return f.noSweep(f.chanceFor(0, reason, 4, 5, 6))
	}
	require.False(t, none(sweep+" r", "F2/4 r/2", Evenness))
	require.True(t, none(sweep+" E4", "F2/4 r/2", Evenness), "it goes on beside")
	require.False(t, none(sweep+" E4", "F2/4 r/2", Turns))
	require.False(t, none(sweep+" E5", "F2/4 r/2", Evenness), "it goes on far away")
	require.False(t, none(sweep+" r/16 E4/16", "F2/4 r/2", Evenness), "after a rest")
	long := "C5/1 D5 " + sweep + " r/8 r/4 C4/1 D4"
	late := func(left string) bool {
		f := staged{Right: long, Left: left}.inMeasures(t)
		return f.noSweep(f.chanceFor(0, Evenness, 6, 7, 8))
	}
	require.False(t, late("F2/1 F2 r r"), "in the measure before")
	require.False(t, late("r/1 r r F2"), "in the measure after")
	require.True(t, late("F2/1 r r r"), "a passage for one hand")
}

// Where one voice runs over both staves the text says where hands change.
func TestNoEndOfASweepThatGoesOnInItsVoice(t *testing.T) {
	goes := func(voice string) bool {
		f := staged{Right: "C6/16 A5 F5 C5 A4 F4 r/8", Left: "F2/4 r/8 C4/4"}.loaded(t)
		f.in.Score.Notes[7].Voice = voice
		return f.goesOnInVoice(f.chanceFor(0, Evenness, 3, 4, 5))
	}
	require.True(t, goes("1"))
	require.False(t, goes("2"))
}

// A figure that stays in its hand in the measure before or after stays, unless it is taken there too.
func TestAFigureThatStaysBeside(t *testing.T) {
	figure := "r/2 B5/4 A5 "
	stays := func(p staged, taken map[int]bool) bool {
		f := p.inMeasures(t)
		first := 0
		for i, n := range f.in.Score.Notes {
			if n.Voice == "3" && n.Measure == 1 && n.Kind == score.Pitched {
				first = i
				break
			}
		}
		return f.staysBeside(f.chanceFor(0, Crossing, first, first+1), taken)
	}
	low := "G2+D3/1 G2+D3 G2+D3"
	two := "G4/1 G4 G4"
	require.True(t, stays(staged{Right: two, Right2: figure + figure + "r/1", Left: low}, nil), "before")
	require.True(t, stays(staged{Right: two, Right2: "r/1 " + figure + "r/2 D6/4 C6", Left: low}, nil), "after, on other steps")
	require.False(t, stays(staged{Right: two, Right2: "r/1 " + figure + "r/2 C6/4 D6", Left: low}, nil), "another figure: it rises")
	require.False(t, stays(staged{Right: two, Right2: "r/1 " + figure + "C6/4 D6 r/2", Left: low}, nil), "elsewhere in the measure")
	require.False(t, stays(staged{Right: two, Right2: "r/1 " + figure + "r/1", Left: low}, nil), "alone")
	bare := staged{Right: "r/1 G4 G4", Right2: figure + figure + "r/1", Left: low}.inMeasures(t)
	bare.rests[0] = nil
	require.False(t, bare.staysBeside(bare.chanceFor(0, Crossing, 4, 5), nil), "the hand has nothing else there")
	require.False(t, stays(staged{Right: two, Right2: figure + figure + "r/1", Left: low}, map[int]bool{3: true}), "it is taken there too")
}
