package effort

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/fingering"
)

// After a rest the hand comes anew (common practice); what counts as one is ours: a quarter of silence, after keys
// let go at once two quarters.
func TestTheHandComesAnewAfterARest(t *testing.T) {
	// A denominator of 0 counts as 1.
	at := func(quarters int64) fingering.Moment { return fingering.Moment{Num: quarters} }
	for _, c := range []struct {
		name     string
		end      int64 // of the first note, struck at 0, in quarters
		detached bool
		next     int64
		want     bool
	}{
		{"joined", 1, false, 1, false},
		{"a quarter of rest", 1, false, 2, true},
		{"let go at once", 1, true, 1, false},
		{"let go at once, and a rest", 1, true, 2, true},
		{"held on", 4, false, 3, false},
	} {
		notes := []fingering.Note{
			{ID: 0, Key: 72, Onset: at(0), End: at(c.end), Detached: c.detached},
			{ID: 1, Key: 76, Onset: at(c.next), End: at(c.next + 1)},
		}
		m := newMusic(fingering.NewLine(fingering.Right, notes, passage{}.profile().Fits))
		require.False(t, m.anew(0), "nothing before")
		require.Equal(t, c.want, m.anew(1), c.name)
	}
}

// The hand is free to move where it lets go and has time (common practice); how much is ours, 0.6 seconds. At another tempo
// beside its own the music is priced alike.
func TestAStrokeComesLateAfterKeysLetGo(t *testing.T) {
	at := func(quarters int64) fingering.Moment { return fingering.Moment{Num: quarters, Den: 2} }
	for _, c := range []struct {
		name   string
		end    int64 // of the first note, struck at 0, in eighths
		micros int64
		want   bool
	}{
		{"joined", 2, 900_000, false},
		{"let go, with time", 1, 900_000, true},
		{"let go, at once again", 1, 500_000, false},
	} {
		notes := []fingering.Note{
			{ID: 0, Key: 72, Onset: at(0), End: at(c.end)},
			{ID: 1, Key: 76, Onset: at(2), End: at(3), Micros: c.micros},
		}
		line := fingering.NewLine(fingering.Right, notes, passage{}.profile().Fits)
		require.Equal(t, []bool{false, c.want}, newMusic(line).late, c.name)
	}
}

// What is remembered is told apart from the rest of a grip's price.
func TestWhatIsRememberedIsToldApart(t *testing.T) {
	p := passage{keys: "c5 d5 e5", each: func(n *fingering.Note) {
		if n.ID == 1 {
			n.Remembered, n.Worth = 3, 2000
		}
	}}
	line := p.line()
	grips := fingered(t, line, "123")
	grips[1] = append(grips[1], fingered(t, line, "134")[1]...)
	m := NewPricerFor(&Weights{}, p.profile(), PlainAims()).Model(line, grips)
	out := make([]int32, 4)
	require.True(t, m.Remembered(out))
	require.Equal(t, []int32{0, 2 * 4096, 0, 0}, out, "another finger than the remembered one pays what that is worth")
	plain := passage{keys: "c5 d5 e5"}
	require.False(t, NewPricerFor(&Weights{}, p.profile(), PlainAims()).Model(plain.line(), grips).Remembered(out))
}

// What no term of the table is for is all that is left where the table is empty.
func TestAimsAreWhatAnEmptyTableLeaves(t *testing.T) {
	for _, p := range []passage{
		{keys: "c5 d5 e5+g5 c5 c5 c5", marks: "s", micros: 120_000},
		{keys: "c4+e5 d4+f5 c5 d5 e5 f5 g5 a5 b5 c6", marks: "sl", micros: 400_000},
	} {
		line := p.line()
		grips := rising(line)
		m := NewPricerFor(&Weights{}, p.profile(), PlainAims()).Model(line, grips)
		some := false
		for e := range line.Events {
			n := len(grips.Grips(e))
			unary, want := make([]int32, n), make([]int32, n)
			var pair, wantPair []int32
			m.Unary(e, want)
			if e > 0 {
				pair, wantPair = make([]int32, n*len(grips.Grips(e-1))), make([]int32, n*len(grips.Grips(e-1)))
				m.Pair(e, wantPair)
			}
			m.Aims(e, unary, pair)
			require.Equal(t, want, unary, "%s, event %d", p.keys, e)
			require.Equal(t, wantPair, pair, "%s, event %d", p.keys, e)
			for _, c := range pair {
				some = some || c != 0
			}
		}
		require.True(t, some, "nothing is priced: it is no passage for this test")
	}
}

// rising lists for each event the grips of neighbouring fingers, from the thumb on.
func rising(line *fingering.Line) (out only) {
	for _, e := range line.Events {
		var grips []fingering.Grip
		for first := fingering.Finger(1); int(first)+len(e.Keys)-1 <= fingering.Fingers; first++ {
			var g fingering.Grip
			for i := range e.Keys {
				g.Fingers[i] = first + fingering.Finger(i)
			}
			grips = append(grips, g)
		}
		out = append(out, grips)
	}
	return out
}
