package weighing

import (
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

// Each sentence says what the figures say: a gain with its price, a cost with its aims, the tempo at which it holds.
func TestSentencesSayWhatTheFiguresSay(t *testing.T) {
	l := Limits{Cost: 3000, Gain: 400, Beyond: 200, Seldom: 4000, Rare: 1000}
	both := func(c For) []For { return []For{{Hand: Hand{Share: 100}, Full: Aims{Comfort: 900}}, c} }
	for _, c := range []struct {
		says []string
		of   Passage
	}{
		{[]string{"costs the hands of this edition more in comfort and tempo, and gains them nothing"}, Passage{Full: Aims{Comfort: 2000, Tempo: 900}}},
		{[]string{"costs the hands of this edition more in comfort"}, Passage{Full: Aims{Comfort: 2000, Memory: -100}}},
		{
			[]string{"costs the hands of this edition more in comfort (most by the crossing at G3), and gains them nothing"},
			Passage{Full: Aims{Comfort: 2000}, Dearest: Dearest{"the crossing", "G3"}},
		},
		{
			[]string{"joins the notes under the slur better, at the price of comfort"},
			Passage{Full: Aims{Comfort: 1000, Line: -2000}, Slur: Slurred},
		},
		{[]string{"joins the notes under the slur better"}, Passage{Full: Aims{Line: -2000}, Slur: Slurred}},
		{
			[]string{"joins the notes under the slur better in m. 7, less well in m. 8"},
			Passage{Full: Aims{Line: -900}, Slur: Slurred, LineIn: []InMeasure{{"7", -1500}, {"8", 600}}},
		},
		{
			[]string{"joins the notes under the slur better in the fingers, where the pedal joins them too"},
			Passage{Full: Aims{Line: -2000}, Slur: PedalSlurred},
		},
		{[]string{"takes the leading voice with a stronger finger"}, Passage{Full: Aims{Line: -2000}}},
		{
			[]string{
				"costs the hands of this edition more in comfort", "fits the fingers around it, which is little beside that",
			},
			Passage{Full: Aims{Comfort: 9000, Memory: -600}},
		},
		{
			[]string{
				"costs the hands of this edition more in comfort, played slowly still more",
			},
			Passage{Full: Aims{Comfort: 3700, Tempo: -600}, Practice: Aims{Comfort: 3700}},
		},
		{
			[]string{"is the less easy one played slowly; at the full tempo the two cost about the same, at the price of comfort"},
			Passage{Full: Aims{Comfort: 600, Tempo: -600}, Practice: Aims{Comfort: 600}},
		},
		{[]string{"is easier than the other for the hands of this edition"}, Passage{Full: Aims{Comfort: -900}, Share: [2]int{5000, 3000}}},
		{[]string{"costs the hands of this edition a little more than the other"}, Passage{Full: Aims{Comfort: 300, Tempo: 300}}},
		{
			[]string{"is easier at the full tempo, at the price of comfort"},
			Passage{Full: Aims{Comfort: 600, Tempo: -700}, Practice: Aims{Comfort: -100}},
		},
		{[]string{"is easier where notes are fast or repeated"}, Passage{Full: Aims{Tempo: -800}, Practice: Aims{Tempo: -800}}},
		{[]string{"is about as good as the other for the hands of this edition"}, Passage{Share: [2]int{5000, 4000}}},
		{
			[]string{"is easier than the other for the hands of this edition", "is printed more seldom than the other"},
			Passage{Full: Aims{Comfort: -900}, Share: [2]int{3000, 5000}},
		},
		{
			[]string{"is about as good as the other for the hands of this edition", "is printed more seldom than the other"},
			Passage{Share: [2]int{500, 9000}},
		},
		{
			[]string{"gains at the full tempo only: played slowly it is the less easy one, at the price of comfort"},
			Passage{Full: Aims{Comfort: 600, Tempo: -1500}, Practice: Aims{Comfort: 600}},
		},
		{[]string{"goes with the pattern that the keys suggest"}, Passage{Full: Aims{Memory: -600}, Notes: []int{1, 2, 3}}},
		{
			[]string{
				"is within reach of 100 in 100 pianists, the other of 70", "costs the hands of this edition more in comfort, and gains them nothing",
			},
			Passage{Full: Aims{Comfort: 900}, Reach: [2]int{10000, 7000}},
		},
		{
			[]string{
				"looks like a slip: two digits exchanged, or one a note off",
				"costs the hands of this edition more in comfort, and gains them nothing",
			},
			Passage{Full: Aims{Comfort: 9000}, Slip: true},
		},
		{
			[]string{"takes the notes as they are taken in m. 4"},
			Passage{Full: Aims{Memory: -600}, Returns: -600, Like: "4"},
		},
		{
			[]string{
				"costs the hands of this edition more in comfort", "is the easier one for supple tenth hands",
				"is printed more often than the other all the same",
			},
			Passage{
				Full: Aims{Comfort: 900}, For: both(For{Hand: Hand{Name: "tenth", Supple: "supple"}, Full: Aims{Comfort: -500}}),
				Share: [2]int{5000, 3000},
			},
		},
		{ // figures of which a page shows the same have the same said of them
			[]string{"costs the hands of this edition more in comfort, and gains them nothing"}, Passage{Full: Aims{Comfort: 351}},
		},
	} {
		require.Equal(t, c.says, c.of.words(&l))
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
		{Unusual, func(p *Passage) { p.Reach = [2]int{10000, 7000} }},
		{Usual, func(p *Passage) { p.Reach, p.Share[0] = [2]int{10000, 7000}, 5000 }},
		{Usual, func(p *Passage) { p.OwnRows = []Row{{[]int{1, 2}, true}, {[]int{2}, false}} }},
		{Costs, func(p *Passage) { p.OwnRows = []Row{{[]int{1, 2}, false}, {[]int{2}, false}} }},
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
	slip := Passage{
		Notes: []int{0, 1}, Theirs: []int{0, 1}, Own: []int{5, 1}, Many: []int{1, 5}, Full: Aims{Comfort: 14000}, MoreFor: 100,
		Share: [2]int{100, 6000}, Beyond: true,
	}
	judge(&Input{Limits: l}, &slip)
	require.Equal(t, Usual, slip.Verdict, "other rules report an odd order")
	require.False(t, slip.Slip)
	slip.Full.Comfort, slip.Share[0] = 16000, 99
	judge(&Input{Limits: l}, &slip)
	require.True(t, slip.Slip, "nobody prints it, and it costs far more")
	require.Contains(t, slip.Says[0], "looks like a slip")
	slip.Theirs = slip.Theirs[:1]
	judge(&Input{Limits: l}, &slip)
	require.False(t, slip.Slip, "a digit is the program's")
	slip.Impossible = true
	judge(&Input{Limits: l}, &slip)
	require.Len(t, slip.Says, 1)
	require.Contains(t, slip.Says[0], "no hand takes these digits")
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
	name := func(int) string { return "m. 1" }
	require.Zero(t, HabitsOf(s, []Passage{p}, name)[0].Leanings, "what the program filled in is nobody's habit")
	p.Theirs = p.Notes
	other := p
	p.By, other.By = []string{"AB"}, []string{"CD"}
	of := HabitsOf(s, []Passage{p, {Impossible: true}, p, other, p}, name)
	require.Len(t, of, 2, "each editor by itself")
	require.Equal(t, "AB", of[0].Who)
	require.Equal(t, 3, of[0].Passages)
	require.Equal(t, [2]int{12, 0}, of[0].Leanings[thumbsOnBlack].Of)
	require.Equal(t, []Tendency{{
		"sets the thumb on black keys more: 12 thumbs on black keys, where the other fingering has 0", []string{"m. 1", "m. 1", "m. 1"},
	}}, of[0].Tendencies())
	require.Empty(t, of[1].Tendencies(), "in one passage")
	less := Habits{}
	less.Leanings[thumbsOnBlack] = Leaning{[2]int{1, 5}, []string{"a", "b", "c"}}
	require.Equal(t, "keeps the thumb off black keys more: 1 thumb on a black key, where the other fingering has 5", less.Tendencies()[0].Says)
	require.Empty(t, (&Habits{}).Tendencies())
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

// A row is written as it stands in print.
func TestARowIsWrittenAsPrinted(t *testing.T) {
	require.Equal(t, "5-4", Row{Fingers: []int{5, 4}}.String())
	require.Equal(t, "3 2", Row{Fingers: []int{3, 2}, Sign: true}.String())
	require.Equal(t, "1", Row{Fingers: withChange(1, 0)}.String())
	require.Empty(t, withChange(0, 3))
}
