package effort

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/hand"
)

// jointGain is what the decode gains by fingers on a passage, in thousandths of a sure finger.
func (p passage) jointGain(t require.TestingT, habit int, fingers string) (sum int) {
	line := p.line()
	grips := fingered(t, line, fingers)
	m := NewPricerFor(&Weights{}, p.profile(), Aims{On: true, Habit: habit, RepeatMicros: 150_000}).Model(line, grips)
	for e := 1; e < len(line.Events); e++ {
		out := make([]int32, 1)
		if m.PairGains(e, out) {
			sum += int(out[0])
		}
		out[0] = 0
		if m.RowGains(e, out) {
			sum += int(out[0])
		}
	}
	return sum
}

// jointPairs hold a joint that gains or loses against fingers that do neither; which joints print makes how often
// 'workbench idioms' counts.
var jointPairs = []struct {
	of      string
	keys    string
	micros  int64
	fingers string
	plain   string
	why     string
	gain    int
}{
	{"thumbPassed", "e5 f5", 0, "31", "23", "the thumb passes under", thumbPassed},
	{"thumbPassed", "f5 e5", 0, "13", "32", "a finger passes over it", thumbPassed},
	{"thumbPassed", "c5 b5", 0, "31", "15", "no further than a fourth", 0},
	{"thumbOntoBlack", "e5 f#5", 0, "31", "23", "", thumbPassed + thumbOntoBlack},
	{"thumbByOuter", "e5 f5", 0, "41", "34", "", thumbPassed + thumbByOuter},
	{"thumbByOuter", "f5 e5", 0, "15", "54", "", thumbPassed + thumbByOuter},
	{"longFingersOver", "e5 f5", 0, "43", "34", "beside each other", longFingersOver},
	{"overOnBlack", "e5 f#5", 0, "43", "34", "3 on black over 4 on white", longFingersOver + overOnBlack},
	{"overOnBlack", "f#5 f5", 0, "45", "43", "5 on white under 4 on black", longFingersOver + overOnBlack},
	{"overFromBlack", "f#5 g5", 0, "43", "34", "the hand does not reach over so", overFromBlack},
	{"overFromBlack", "f#5 g5", 0, "32", "34", "the third is longer than the second", secondCrossed},
	{"overFromBlack", "f5 f#5", 0, "32", "34", "", overFromBlack},
	{"secondCrossed", "e5 f5", 0, "32", "34", "", secondCrossed},
	{"secondCrossed", "e5 f5", 0, "42", "34", "the fourth does not reach over the second", 0},
	{"crossedWithin", "e5 f#5", 0, "54", "45", "the fourth on black over the fifth, a tone away", longFingersOver + overOnBlack},
	{"crossedWithin", "d#5 f#5", 0, "43", "34", "not over a third", 0},
	{"glide", "c5 d5", 0, "22", "23", "", glide},
	{"glideFar", "c5 g5", 0, "22", "24", "", glideFar},
	{"twoThumbs", "c5 e5", 0, "11", "13", "", twoThumbs},
	{"twoThumbs", "c5 d5", 0, "11", "12", "a step glides", glide},
	{"fiveTwice", "c5 d5", 0, "55", "45", "a step, too", fiveTwice},
	{"fiveTwice", "c5 g5", 0, "55", "15", "", fiveTwice},
	{"fiveTwice", "c5 r g5", 0, "55", "15", "let go the hand moves", partedFar},
	{"toAndFro", "c5 c5 c5", 100_000, "323", "321", "", -toAndFro},
	{"toAndFro", "c5 c5 c5", 100_000, "212", "321", "the thumb and one finger in turn", 0},
	{"outerThird", "g4 c5+e5 g4", 0, "1451", "1351", "", -outerThird},
	{"outerThird", "g4+b4 c5+e5 g4", 0, "12451", "12351", "a row of thirds", 0},
	{"partedStep", "c5 r d5", 0, "22", "23", "", partedStep},
	{"partedFar", "c5 r g5", 0, "22", "24", "", partedFar},
	{"leftOutOnStep", "c5 d5", 0, "24", "23", "", leftOutOnStep},
	{"neighboursApart", "c5 f5", 0, "23", "24", "", neighboursApart},
	{"neighboursApart", "c5 e5", 0, "23", "24", "a third is none", 0},
	{"thumbOpened", "c5 a5", 0, "12", "15", "", thumbOpened},
	{"againSteadily steadyAgain", "c5 c5", 200_000, "23", "22", "", againSteadily},
	{"steadyAgain", "c5 c5", 199_999, "23", "22", "fast, the tempo tells (tempo.go)", 0},
	{"againSlowly slowAgain", "c5 c5", 450_000, "23", "22", "", againSlowly},
	{"anotherSoon", "c5+e5 c5+e5", 200_000, "1324", "1313", "", -anotherSoon},
	{"anotherSlowly", "c5+e5 c5+e5", 300_000, "1324", "1313", "", -anotherSlowly},
	{"anotherBack", "c5+e5 g4 c5+e5", 200_000, "13124", "13113", "", -anotherBack},
	{"anotherChord", "c5+e5 c5+e5 c5+e5", 200_000, "131324", "131313", "a third time", -anotherChord},
	{"anotherChord", "c5+e5+g5 c5+e5+g5", 200_000, "135124", "135135", "", -anotherChord},
	{"backAgain", "c5 e5 c5", 0, "132", "131", "", backAgain},
	{"fastBack", "c5 e5 c5", 99_999, "132", "131", "a trill stays on its fingers", 0},
	{"fastBack", "c5 e5 c5", 100_000, "132", "131", "", backAgain},
	{"backAgain", "c5 e5 d5", 0, "132", "131", "another key is no return", -leftOutOnStep},
}

func TestJointsByPairs(t *testing.T) {
	for _, p := range jointPairs {
		music := passage{keys: p.keys, micros: p.micros}
		got := music.jointGain(t, 100, p.fingers) - music.jointGain(t, 100, p.plain)
		require.Equal(t, p.gain, got, "%s: %s on %s, %s against %s", p.of, p.why, p.keys, p.fingers, p.plain)
		half := music.jointGain(t, 50, p.fingers) - music.jointGain(t, 50, p.plain)
		require.InDelta(t, p.gain/2, half, 1, "%s where habit counts half", p.of)
	}
}

// Joints of a leap, of chords and of a hand that comes anew gain nothing.
func TestNoJointsWhereTheHandLeaps(t *testing.T) {
	for _, keys := range []string{"c4 c6", "c5+e5 d5+f5"} {
		music := passage{keys: keys, span: hand.OctaveHand}
		fingers := "13"
		if strings.Contains(keys, "+") {
			fingers = "1324"
		}
		require.Zero(t, music.jointGain(t, 100, fingers), keys)
	}
}

// A gain without a pair fails here: every constant of the file is named by a pair.
func TestEveryJointHasItsPair(t *testing.T) {
	named := map[string]bool{}
	for _, p := range jointPairs {
		for name := range strings.FieldsSeq(p.of) {
			named[name] = true
		}
	}
	f, err := parser.ParseFile(token.NewFileSet(), "joints.go", nil, 0)
	require.NoError(t, err)
	found := 0
	for _, d := range f.Decls {
		if g, ok := d.(*ast.GenDecl); ok && g.Tok == token.CONST {
			for _, s := range g.Specs {
				for _, name := range s.(*ast.ValueSpec).Names {
					found++
					require.True(t, named[name.Name], "%s has no pair of fingerings that differ in it", name.Name)
				}
			}
		}
	}
	require.Equal(t, len(named), found, "a pair names a constant that is gone")
}
