package weighing

import (
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

// Each sentence says what the figures say: a gain with its price, a cost with its aims, the tempo at which it holds.
func TestSentencesSayWhatTheFiguresSay(t *testing.T) {
	l := Limits{Cost: 3000, Gain: 400, Beyond: 200, Seldom: 4000, Rare: 1000}
	for want, p := range map[string]Passage{
		"costs more in comfort and tempo, and gains in nothing": {Full: Aims{Comfort: 2000, Tempo: 900}},
		"costs more in comfort, and gains in nothing":           {Full: Aims{Comfort: 2000, Memory: -100}},
		"joins the notes under the slur better, at the price of comfort": {
			Full: Aims{Comfort: 1000, Line: -2000}, Slur: Slurred,
		},
		"joins the notes under the slur better": {Full: Aims{Line: -2000}, Slur: Slurred},
		"joins the notes under the slur better in the fingers, where the pedal joins them too": {
			Full: Aims{Line: -2000}, Slur: PedalSlurred,
		},
		"takes the leading voice with a stronger finger": {Full: Aims{Line: -2000}},
		"costs less at the full tempo than played slowly, and still no less than the other": {
			Full: Aims{Comfort: 2700, Tempo: -600}, Practice: Aims{Comfort: 2700},
		},
		"is easier than the other":                        {Full: Aims{Comfort: -900}, Share: [2]int{5000, 3000}},
		"costs a little more than the other":              {Full: Aims{Comfort: 300, Tempo: 300}},
		"is easier at the tempo, at the price of comfort": {Full: Aims{Comfort: 600, Tempo: -700}, Practice: Aims{Comfort: -100}},
		"is easier where notes are fast or repeated":      {Full: Aims{Tempo: -800}, Practice: Aims{Tempo: -800}},
		"is about as good as the other":                   {Share: [2]int{5000, 4000}},
		"is easier than the other, and printed less often": {
			Full: Aims{Comfort: -900}, Share: [2]int{3000, 5000},
		},
		"is about as good as the other, and editors seldom print it": {Share: [2]int{500, 9000}},
		"gains at the full tempo only: played slowly it is the less easy one": {
			Full: Aims{Comfort: 600, Tempo: -1500}, Practice: Aims{Comfort: 600},
		},
		"keeps to what the passage does elsewhere, or to its pattern": {Full: Aims{Memory: -600}},
	} {
		require.Equal(t, []string{want}, p.words(&l))
	}
}

// A gain that is small beside its price is none; a digit alone is a detail; what most print is made for many.
func TestVerdictsKeepToTheirLimits(t *testing.T) {
	l := Limits{Cost: 3000, Gain: 400, Beyond: 200, Seldom: 4000, Rare: 1000}
	passage := func(change func(*Passage)) Verdict {
		p := Passage{
			Notes: []int{0, 1}, Theirs: []int{0, 1}, Own: []int{1, 2}, Many: []int{2, 3}, Full: Aims{Comfort: 4000},
			MoreFor: 100, Share: [2]int{100, 6000},
		}
		change(&p)
		judge(&Input{Limits: l}, &p)
		return p.Verdict
	}
	for _, c := range []struct {
		want   Verdict
		change func(*Passage)
	}{
		{Costs, func(*Passage) {}},
		{Costs, func(p *Passage) { p.Full.Comfort, p.Full.Tempo = 9000, -90 }},
		{Reasoned, func(p *Passage) { p.Why = "keeps the hand light" }},
		{Usual, func(p *Passage) { p.MoreFor = 50 }},
		{Usual, func(p *Passage) { p.Full.Comfort = 2900 }},
		{Usual, func(p *Passage) { p.Share[0] = 1000 }},
		{Usual, func(p *Passage) { p.Habit = -400 }},
		{Usual, func(p *Passage) { p.Many[1] = 2 }},
		{Usual, func(p *Passage) { p.Theirs = []int{0} }},
		{Usual, func(p *Passage) { p.Impossible = true }},
		{Unusual, func(p *Passage) { p.Full.Line = -2000 }},
		{Usual, func(p *Passage) { p.Full.Line, p.Share[0] = -2000, 4500 }},
		{Larger, func(p *Passage) { p.Full.Comfort, p.Needs[0] = 0, Need{Size: 2, Beyond: 300} }},
		{Usual, func(p *Passage) { p.Full.Comfort, p.Needs[0] = 0, Need{Size: 2, Beyond: 100} }},
	} {
		require.Equal(t, c.want, passage(c.change))
	}
}

// What an editor tends to is counted on both sides, and said only where it stands out.
func TestHabitsAreCountedOnBothSides(t *testing.T) {
	s := &score.Score{Measures: []score.Measure{{Number: "1"}}}
	for k := range 8 {
		s.Notes = append(s.Notes, score.Note{Midi: 61 + k%2, Onset: score.Whole(int64(k)), Kind: score.Pitched})
	}
	p := Passage{
		Hand: score.Right, Notes: []int{0, 1, 2, 3, 4, 5, 6, 7}, Own: []int{1, 2, 1, 2, 1, 2, 1, 2}, Many: []int{2, 3, 2, 3, 2, 3, 2, 3},
	}
	require.Zero(t, HabitsOf(s, []Passage{p}).ThumbsOnBlack, "what the program filled in is nobody's habit")
	p.Theirs = p.Notes
	h := HabitsOf(s, []Passage{p, {Impossible: true}})
	require.Equal(t, 1, h.Passages)
	require.Equal(t, [2]int{4, 0}, h.ThumbsOnBlack)
	require.Equal(t, []string{"sets the thumb on black keys more: 4 thumbs on black keys, where the other fingering has 0"}, h.Words())
	require.Equal(t, []string{"keeps the thumb off black keys more: 1 thumb on black keys, where the other fingering has 4"},
		Habits{ThumbsOnBlack: [2]int{1, 4}}.Words())
	require.Empty(t, Habits{}.Words())
}

// The one for most hands is said only of what costs every hand less that was weighed.
func TestForMostHandsHoldsForEveryHand(t *testing.T) {
	dearer, easier := For{Full: Aims{Comfort: 900}}, For{Full: Aims{Comfort: -100}}
	require.True(t, (&Passage{For: []For{dearer, dearer}}).ForMost())
	require.False(t, (&Passage{For: []For{dearer, easier}}).ForMost())
}

// A grip is called comfortable, not reachable, from a hand on, and for none where none of those weighed has ease in it.
func TestTheHandIsNamedForComfort(t *testing.T) {
	p := Passage{Needs: [2]Need{{Size: 2, LowPitch: "C4", LowFinger: 1, HighPitch: "D5", HighFinger: 5}, {Size: 1}}}
	require.Equal(t, "C4 with 1 and D5 with 5 at once are comfortable from a tenth hand up; "+
		"with the other fingers a ninth hand is enough", p.needs())
	p.Needs[0].Size = 4
	require.Contains(t, p.needs(), "at once are comfortable for no hand that is weighed; with")
}
