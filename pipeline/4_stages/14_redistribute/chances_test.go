package redistribute

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

// chancesOf lists where the music would gain from the other hand: hand, reason, the notes and whether their voice begins there.
func (p staged) chancesOf(t *testing.T, change func(in *Material)) string {
	f := &finder{in: p.material(t)}
	if change != nil {
		change(&f.in)
	}
	f.load(0)
	var out []string
	for _, c := range f.chances() {
		text := fmt.Sprintf("%s %s %s", handOf[c.hand], c.reason, strings.ReplaceAll(sets([]map[int]bool{c.moved})[0], " ", ","))
		if c.begins {
			text += " begins"
		}
		if c.rolled {
			text += " rolled"
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

// Voices that lie wholly above or below what else their hand has while the other hand strikes nothing, and sweeps towards the free hand
// (common practice; see chances.go).
func TestChancesForTheMusic(t *testing.T) {
	for _, c := range []struct {
		staged
		want, why string
	}{
		{staged{Right: "G4/1", Right2: "r/2 B5/4 D6", Left: "G2+D3/4 r r/2"}, "R crossing 1,2 begins", "after its rest"},
		{staged{Right: "G4/1", Right2: "B5/4 C6 D6 C6", Left: "G2+D3/4 r r/2"}, "R crossing 2,3,4", "once the left hand is free; the voice does not begin there"},
		{staged{Right: "G4/1", Right2: "A4/4 r B5 D6", Left: "G2+D3/4 r r/2"}, "R crossing 2,3 begins", "after a rest in its midst"},
		{staged{Right: "G4/1", Right2: "A4/4 C6 B5 D6", Left: "G2+D3/4 r r/2"}, "R crossing 2,3,4", ""},
		{staged{Right: "G5/1", Right2: "r/2 B4/4 D5", Left: "G2+D3/4 r r/2"}, "R clarity 1,2 begins", "below"},
		{staged{Right: "G5/1", Right2: "r/2 B4/2", Left: "G2+D3/4 r r/2"}, "", "one note is no voice"},
		{staged{Right: "G4/1", Right2: "r/2 F4/4 D6", Left: "G2+D3/4 r r/2"}, "", "on both sides of what the hand holds"},
		{staged{Right: "G4/1", Right2: "r/4 B5/8 C6 D6 C6 B5 C6", Left: "G2+D3/4 r r/2"}, "R crossing 1,2,3,4,5,6 begins", "six strokes"},
		{staged{Right: "G4/1", Right2: "r/4 B5/16 C6 D6 C6 B5 C6 D6 C6 B5", Left: "G2+D3/4 r r/2"}, "", "a hand does not stay across for more"},
		{staged{Right: "r/1", Right2: "r/2 B5/4 D6", Left: "G2+D3/4 r r/2"}, "R crossing 0,1 begins", "a rest holds the place of the other voice"},
		{staged{Left: "G3/1", Left2: "r/2 B2/4 D2", Right: "G4/4 r r/2"}, "", "the right hand does not cross under"},
		{staged{Left: "G2/1", Left2: "r/2 B3/4 D4", Right: "G5/4 r r/2"}, "L clarity 2,3 begins", "above the bass"},
		{staged{Right: "C6/16 A5 F5 C5 A4 F4 C4/4", Left: "F2/4 r r"}, "R evenness 4,5,6; R evenness 5,6", "from where the left hand has let go, two notes at least for each"},
		{staged{Right: "C6/16 B5 A5 G5 F5 E5 D5/4", Left: "F2/4 r r"}, "", "less than a tenth"},
		{staged{Right: "C6/16 A5 F5 C5 A4/4", Left: "F2/4 r r"}, "", "five notes"},
		{staged{Right: "C6/16 A5 F5 C5 A4 F4 C4/4", Left: "r/4 F2/8 F2 r/4"}, "", "the left hand plays"},
		{staged{Right: "C6/16 A5 F5 C5 A4 F4 C4/4", Left: "F2/2 r"}, "", "the left hand holds"},
		{staged{Right: "C5/16 F5 A5 C6 F6 A6 C7/4", Left: "F2/4 r r"}, "", "away from the left hand"},
		{staged{Left: "C2/16 F2 A2 C3 F3 A3 C4/4", Right: "F5/4 r r"}, "L evenness 5,6,7; L evenness 6,7", "up to the right hand"},
		{staged{Right: "C6/16 A5 F5+C5 A4 F4 C4 A3/4", Left: "F2/4 r r"}, "", "a chord is in the way"},
		{staged{Right: "C6/16 A5 F5 F5 A4 F4 C4/4", Left: "F2/4 r r"}, "", "a key struck again"},
		// A line that turns on its way and goes on in the other hand.
		{staged{Right: "C5/4 r/2 D5/4", Left: "D2/16 A2 F2 D3 A2 F3 D3 A3 F3 D4 A3 A4/16"}, "L evenness 6,7,8,9,10,11,12,13; L evenness 10,11,12,13", "from where the right hand is free"},
		{staged{Right: "C5/4 r/2 F5/4", Left: "D2/16 A2 F2 D3 A2 F3 D3 A3 F3 D4 A3 A4/16"}, "", "more than a fifth away"},
		{staged{Right: "C5/4 r/2 B4/4", Left: "D2/16 A2 F2 D3 A2 F3 D3 A3 F3 A3 F3 A3/16"}, "", "more than a fifth away"},
		{staged{Right: "C5/4 D5 D5 D5", Left: "D2/16 A2 F2 D3 A2 F3 D3 A3 F3 D4 A3 A4/16"}, "", "the right hand plays meanwhile"},
		// Figures between leaps.
		{staged{Right: "C5/8 r r/4 r/2", Left: "F1/8 Bb2 A1 Bb2 A1 Db3 C2 r"}, "L turns 2,4,6", "to and fro"},
		{staged{Right: "E5+G5/8 C4+E4 E5+G5/2", Left: "r/1"}, "R turns 2,3", "there and back"},
		{staged{Right: "C4+E4/8 E5+G5 G6+B6/2", Left: "r/1"}, "R turns 2,3", "on the way up the left hand crosses over"},
		{staged{Left: "G4+B4/8 E3+G3 C2+E2/2", Right: "r/1"}, "", "the right hand does not cross under"},
		{staged{Right: "C4+E4/8 E5+G5 C4+E4/2", Left: "r/1"}, "", "the left hand does not come from above"},
		{staged{Right: "E5+G5/8 C4+E4 r E5+G5/2", Left: "r/1"}, "", "a rest leaves time"},
		{staged{Right: "C5/8 C4 C5 C4", Left: "r/1"}, "", "broken octaves are spanned"},
		{staged{Right: "E5+G5/8 C4+E4 E5+G5/2", Left: "C3/1"}, "", "the left hand holds"},
	} {
		require.Equal(t, c.want, c.chancesOf(t, nil), "%s %s / %s: %s", c.Right, c.Right2, c.Left, c.why)
	}
	off := func(reasons ...string) func(in *Material) {
		return func(in *Material) {
			for _, r := range reasons {
				in.Rules.On[r] = false
			}
		}
	}
	over := staged{Right: "G4/1", Right2: "r/2 B5/4 D6", Left: "G2+D3/4 r r/2"}
	require.Empty(t, over.chancesOf(t, off(Crossing)))
	require.NotEmpty(t, over.chancesOf(t, off(Clarity)))
	require.Empty(t, staged{Right: "G5/1", Right2: "r/2 B4/4 D5", Left: "G2+D3/4 r r/2"}.chancesOf(t, off(Clarity)))
	require.Empty(t, staged{Right: "C6/16 A5 F5 C5 A4 F4 C4/4", Left: "F2/4 r r"}.chancesOf(t, off(Evenness)))
}

// The top of a chord rolled through both hands, on a stem of its own, goes to the left hand, which has struck its keys by then.
func TestTheTopOfARolledChord(t *testing.T) {
	rolled := func(in *Material) {
		all := slices.Repeat([]score.Rolling{score.RolledUp}, len(in.Score.Notes))
		in.Playing = in.Playing.WithRolls(all)
	}
	wide := staged{Right: "C6/2", Right2: "C4+G4+E5/2", Left: "C2+G2/2"}
	require.Equal(t, "R crossing 0 rolled", wide.chancesOf(t, rolled))
	require.Equal(t, "R crossing 0 rolled", staged{Right: "C6/2", Right2: "C4+E4+G4+C5/2", Left: "C2+G2/2"}.chancesOf(t, rolled), "of five keys")
	require.NotContains(t, wide.chancesOf(t, func(in *Material) { rolled(in); in.Score.Notes[1].Grace = 1 }), "rolled", "a grace note is among them")
	for why, p := range map[string]staged{
		"an octave is struck without ado": {Right: "C5/2", Right2: "C4+E4+G4/2", Left: "C2+G2/2"}, "three keys": {Right: "C6/2", Right2: "C4+G4/2", Left: "C2+G2/2"},
		"the lowest on a stem of its own": {Right: "C4/2", Right2: "G4+E5+C6/2", Left: "C2+G2/2"},
	} {
		require.Empty(t, p.chancesOf(t, rolled), why)
	}
	require.NotContains(t, staged{Right: "C6/2", Right2: "C4+G4+E5/2", Left: "r/2"}.chancesOf(t, rolled), "rolled", "the left hand has no part in it")
	require.NotContains(t, wide.chancesOf(t, nil), "rolled", "it is not rolled")
	require.Empty(t, wide.chancesOf(t, func(in *Material) {
		rest := slices.Repeat([]score.Rolling{score.RolledUp}, len(in.Score.Notes))
		rest[0] = score.Struck
		in.Playing = in.Playing.WithRolls(rest)
		in.Rules.On[Crossing] = false
	}))
	in := wide.material(t)
	rolled(&in)
	found := Find(in)
	require.Equal(t, "L crossing C6@0", spelled(in, found.Redistributions))
	r := found.Redistributions[0]
	require.Equal(t, []int{0}, r.Notes)
	require.Contains(t, []int{2, 3}, int(r.Fingers[0]), "a hand that crosses over lands on a long finger")
	f := figures(t, r.Why)
	require.InDelta(t, f[0]-f[1]+12-1-f[4], float64(r.Gain)/1000, 0.4, "the roll is worth 12, the hand over the other costs 1")
	require.InDelta(t, 3.3, f[4], 0.001)
}

// A line is not cut where the same hand goes on in it by less than a major sixth.
func TestALineIsNotCut(t *testing.T) {
	cut := func(p staged, ids ...int) bool {
		f := p.loaded(t)
		list := f.inOrder(moving(ids...))
		c := &chance{trouble: trouble{hand: 0, reason: Crossing, from: f.where.of(list[0]), to: f.where.of(list[len(list)-1])}, moved: moving(ids...)}
		return f.cutsLine(c)
	}
	low := "G2+D3/4 r r/2"
	require.False(t, cut(staged{Right: "r/2 B5/4 D6", Left: low}, 0, 1))
	require.True(t, cut(staged{Right: "r/4 A5 B5 D6", Left: low}, 1, 2), "the line before it")
	require.True(t, cut(staged{Right: "r/4 B5 D6 C6", Left: low}, 0, 1), "the line after it")
	require.False(t, cut(staged{Right: "C5/4 A5 D6", Left: low}, 1, 2), "a major sixth is another voice")
	require.True(t, cut(staged{Right: "C#5/4 A5 D6", Left: low}, 1, 2), "a minor sixth is not")
	require.False(t, cut(staged{Right: "A5/4 r B5 D6", Left: low}, 1, 2), "a rest is between")
	require.False(t, cut(staged{Right: "A5+C6/4 B5 D6", Left: low}, 2, 3), "a chord before single notes")
	require.False(t, cut(staged{Right: "r/4 B5 D6 C6+E6", Left: low}, 0, 1), "a chord after them")
}

// Written rests of a voice, beside another and right before it; and how long a chance lasts.
func TestRestsAndLengths(t *testing.T) {
	f := staged{Right: "G4/1", Right2: "r/4 B5 r D6", Left: "r/1"}.loaded(t)
	require.Len(t, f.rests[0], 2)
	require.Len(t, f.rests[1], 0, "no hand lives on a staff without notes")
	require.True(t, f.restsBeside(0, 0, "1"))
	require.False(t, f.restsBeside(0, 0, "3"), "its own")
	require.False(t, f.restsBeside(0, 1, "1"), "it is over")
	require.True(t, f.restedBefore(0, 1, "3"))
	require.True(t, f.restedBefore(0, 2, "3"))
	require.False(t, f.restedBefore(0, 0, "3"))
	require.False(t, f.restedBefore(0, 1, "1"))
	lasts := func(right string, ids ...int) int64 {
		f := staged{Right: right, Left: "C3/4"}.loaded(t)
		return f.lasts(&chance{trouble: trouble{from: f.where.of(ids[0]), to: f.where.of(ids[len(ids)-1])}, moved: moving(ids...)})
	}
	require.Equal(t, int64(1), lasts("C5/4 D5", 0))
	require.Equal(t, int64(2), lasts("C5/4 D5", 0, 1))
	require.Equal(t, int64(1), lasts("C5/8 D5", 0), "a quarter that has begun")
	require.Equal(t, int64(2), lasts("C5/4 D5/8", 0, 1))
}
