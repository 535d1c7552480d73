package redistribute

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
)

func troubleFor(f *finder, hand int, reason string, ids ...int) trouble {
	return f.chanceFor(hand, reason, ids...).trouble
}

// The hand that takes notes gets no tenth by it, and need not leave at once (what readers of offers said, and common
// practice).
func TestNoTenthAndNoLeavingAtOnce(t *testing.T) {
	over := func(p staged, hand int, ids ...int) bool {
		f := p.loaded(t)
		return f.overloads(troubleFor(f, hand, Reach, ids...), moving(ids...))
	}
	require.False(t, over(staged{Right: "G5/2", Left: "D3+F4/2"}, 1, 2), "a ninth")
	require.True(t, over(staged{Right: "Ab5/2", Left: "D3+F4/2"}, 1, 2), "a tenth")
	require.False(t, over(staged{Right: "r/4 r/8 A5", Left: "D3+F4/2"}, 1, 2), "more than half of its length is over")
	require.True(t, over(staged{Right: "r/8 A5/8 r/4", Left: "D3+F4/2"}, 1, 2), "it must leave before")
	require.False(t, over(staged{Right: "r/8 A5/8 r/4", Left: "ped D3+F4/2"}, 1, 2), "the pedal holds it")
	require.True(t, over(staged{Right: "A5/1", Left: "r/2 D3+F4"}, 1, 2), "with a key it holds")
	require.False(t, over(staged{Right: "A5/1", Left: "ped r/2 D3+F4"}, 1, 2), "which the pedal holds")
	require.True(t, over(staged{Right: "D5+A5/1", Left: "ped r/2 D3+F4"}, 1, 3), "a chord is not left, pedal or not")
	require.False(t, over(staged{Left: "D3+A3/1", Right: "ped r/2 G4+A5"}, 0, 0), "what the left hand holds is")
	require.True(t, over(staged{Right: "C5/2", Left: "D3+A3+F4/2"}, 1, 2, 3), "the notes count together")
	rolled := staged{Right: "D4+C5+F5/2", Left: "B2+F3/2"}
	require.True(t, over(rolled, 0, 0))
	in := rolled.loaded(t)
	in.in.Playing = in.in.Playing.WithRolls([]score.Rolling{3: score.RolledUp, 4: score.RolledUp})
	require.False(t, in.overloads(troubleFor(in, 0, Reach, 0), moving(0)), "a roll goes on to it")
}

// A hand with a figure of its own holds nothing for the other, and takes no second line on.
func TestAHandWithItsOwnFigureIsNotFree(t *testing.T) {
	notFree := func(right, left, reason string, ids ...int) bool {
		f := staged{Right: right, Left: left, Left2: "E4/1"}.loaded(t)
		return f.noFreer(troubleFor(f, 1, reason, ids...), moving(ids...))
	}
	require.True(t, notFree("A4/4 B4 C5 B4", "C3/4 B2 A2 B2", Held, 8), "both strike three times more")
	require.False(t, notFree("A4/4 B4 C5 B4", "C3/4 B2 A2 B2", Reach, 8), "other reasons have rules of their own")
	require.False(t, notFree("A4/2 C5", "C3/4 B2 A2 B2", Held, 6), "once more only")
	require.False(t, notFree("A4/4 B4 C5 B4", "C3/8 B2 A2 B2 C3 B2 A2 B2", Held, 12), "not half as often")
	lines := func(right, left, reason string) bool {
		f := staged{Right: right, Left: left, Left2: "C2/1"}.loaded(t)
		var ids []int
		for i := range f.in.Score.Notes {
			if n := &f.in.Score.Notes[i]; n.Staff == 2 && n.Midi > 36 {
				ids = append(ids, i)
			}
		}
		return f.twoLines(troubleFor(f, 1, reason, ids...), moving(ids...))
	}
	require.True(t, lines("A5/4 B5 C6 B5", "C4/4 D4 E4 D4", Held), "a line beside a line")
	require.False(t, lines("A5/4 B5 C6 B5", "C4/4 D4 E4 D4", Reach))
	require.False(t, lines("A5/4 B5 C6 B5", "C4/4 D4 C4 D4", Line), "a chord struck again, or two keys, are no line")
	require.False(t, lines("A5/2 C6", "C4/4 D4 E4 D4", Held), "beside two strokes")
}

// A key that the other hand strikes again at once is in its way, whoever strikes it first.
func TestAKeyStruckAgainAtOnce(t *testing.T) {
	again := func(right string, id int) bool {
		f := staged{Right: right, Left: "C5/4 r"}.loaded(t)
		return f.struckAgain(1, moving(id))
	}
	require.True(t, again("A4+E5/16 C5 r/8 r/4", 3))
	require.False(t, again("A4+E5/8 C5 r/4", 3), "not at once")
	require.False(t, again("A4+E5/16 B4 C5 r r/4", 4), "not with its next stroke")
	require.False(t, again("A4+E5/2", 2))
}

// A hand does not plunge to what it takes, nor from there.
func TestNoPlunge(t *testing.T) {
	plunges := func(right string) bool {
		f := staged{Right: right, Left: "r/8 D3+F4/8 r/4"}.loaded(t)
		id := len(f.in.Score.Notes)
		for i := range f.in.Score.Notes {
			if f.in.Score.Notes[i].Midi == 65 {
				id = i
			}
		}
		return f.plunges(troubleFor(f, 1, Reach, id), moving(id))
	}
	require.True(t, plunges("A5/8 r r/4"))
	require.True(t, plunges("r/4 A5"))
	require.False(t, plunges("F5/8 r r/4"), "an octave")
	require.False(t, plunges("r/4 r/8 A5"), "there is time")
	require.False(t, plunges("A5/8 G5 r/4"), "it is there")
}

// Where the hands play by turns as written, none loses its whole turn.
func TestNoWholeTurnChangesHands(t *testing.T) {
	whole := func(right, left string, ids ...int) bool {
		f := staged{Right: right, Left: left}.loaded(t)
		return f.wholeTurn(1, moving(ids...))
	}
	require.True(t, whole("G4/8 r G4 r", "r/8 C4 r C4", 2))
	require.False(t, whole("G4/8 r G4 r", "r/8 C4+E4 r C4", 2), "half of it")
	require.False(t, whole("G4/4 r G4 r", "r/4 C4 r C4", 2), "slowly")
	require.False(t, whole("G4/8 r r G4", "r/8 C4 r C4", 1), "the other hand does not follow at once")
	require.True(t, whole("G4/16 r r G4", "r/16 C4 D4 r", 2, 3), "two strokes")
	require.False(t, whole("G4/8 r G4 r", "r/8 C4 G3 C4", 2), "its hand goes on")
}

// A key is worth holding where it lasts longer than a quarter, or is the tune.
func TestWhatIsWorthHolding(t *testing.T) {
	worth := func(left string) bool {
		f := staged{Right: "C5/1", Left: left}.loaded(t)
		return f.worthHolding(1, f.noteOf(1))
	}
	require.False(t, worth("C3/4"))
	require.True(t, worth("C3/2"))
	require.True(t, worth("C3/4 ~C3/8"), "with its ties")
	f := staged{Right: "C5+G5/8", Left: "C3/4"}.loaded(t)
	require.True(t, f.worthHolding(0, f.noteOf(1)), "the tune")
	require.False(t, f.worthHolding(0, f.noteOf(0)))
}

// A hand does not cross over where it is as free for what lies below.
func TestNoCrossingWhereTheUncrossedExchangeServes(t *testing.T) {
	serves := func(right, right2, left string, ids ...int) bool {
		f := staged{Right: right, Right2: right2, Left: left}.loaded(t)
		return f.uncrossedServes(f.chanceFor(0, Crossing, ids...))
	}
	require.True(t, serves("D4/4 r/4", "r/8 G4+B4+D5/8 r/4", "r/2", 1, 2, 3), "the left hand rests")
	require.True(t, serves("D4/4 r/4", "r/8 G4+B4+D5/8 r/4", "D4/8 r r/4", 1, 2, 3), "it strikes the same key")
	require.False(t, serves("D4/4 r/4", "r/8 G4+B4+D5/8 r/4", "D3/8 r r/4", 1, 2, 3), "it has something else to strike")
	require.False(t, serves("D4/1", "r/2 B5", "r/1", 1), "what lies below was struck long before")
	require.False(t, serves("D4/8 F4 D4 F4", "r/8 B5 r/4", "r/2", 4), "a quick figure stays in its hand")
}

// A hand crosses over to what lies apart from the other's keys, by a sixth or more.
func TestNoCrossingIntoAGrip(t *testing.T) {
	within := func(above string, ids ...int) bool {
		f := staged{Right: "C4+G4/1", Right2: above, Left: "C2+C3/1"}.loaded(t)
		return f.withinReach(f.chanceFor(0, Crossing, ids...))
	}
	require.True(t, within("r/4 C5+E5/4 r/2", 2, 3), "a fourth")
	require.False(t, within("r/4 E5+G5/4 r/2", 2, 3), "a sixth")
	require.False(t, within("r/4 E5/4 C5 r", 2, 3), "where it begins")
}

// A single stroke stays in its row of like ones.
func TestNoStrokeOutOfARow(t *testing.T) {
	out := func(right string, ids ...int) bool {
		f := staged{Right: right, Left: "C2/4 r r/2"}.loaded(t)
		return f.outOfRow(f.chanceFor(0, Turns, ids...))
	}
	row := "E5+G5/8 E5+A5 E5+G5 C4+E4 E5+G5 E5+A5 E5+G5 r"
	require.True(t, out(row, 6, 7))
	require.False(t, out(row, 6, 7, 8, 9), "two of them")
	require.False(t, out("E5+G5/8 E5+A5 r C4+E4 E5+G5 E5+A5 E5+G5 r", 4, 5), "a rest parts them")
	require.False(t, out("E5+G5/8 E5+A5 G5 C4+E4 E5+G5 E5+A5 E5+G5 r", 5, 6), "another kind of stroke")
	require.False(t, out("E5+G5/8 E5+A5 E5+G5 C4+E4/4 E5+G5/8 E5+A5 E5+G5", 6, 7), "another rhythm")
}
