package engine

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fingering/written"
	"fingerproof/rules/hand"
)

// fingered asks for the fingering of a right hand's passage with digits given.
func fingered(keys, given string, o Options) Result {
	return Finger(fingering.Right, hand.NinthHand, effort.Delivered(), written.Given(written.Notes(keys, 0), given), o)
}

// A key that is held while others move keeps its finger; where given digits ask for another one, the change is told
// on the note that is held, and where it is tied on, the tied note has the finger then holding.
func TestAChangeOnAHeldKeyIsTold(t *testing.T) {
	r := fingered("e4:2 g4", "35", Options{})
	require.Equal(t, fingering.Finger(3), r.Notes[0].Finger)
	require.Zero(t, r.Notes[0].Substitution)
	held := fingered("e4:2 g4", "55", Options{})
	require.Equal(t, fingering.Finger(5), held.Notes[0].Finger)
	require.NotZero(t, held.Notes[0].Substitution, "5 leaves e for g")
	require.Less(t, held.Notes[0].Substitution, fingering.Finger(5))
	require.Zero(t, held.Notes[1].Substitution)
	tied := fingered("e4 -e4+g4 -e4", "5.5.", Options{})
	require.Equal(t, fingering.Finger(5), tied.Notes[0].Finger)
	require.True(t, tied.Notes[1].Tied)
	require.Equal(
		t, tied.Notes[0].Substitution, tied.Notes[1].Finger, "the tied note has the finger that holds from there on",
	)
	require.Equal(t, tied.Notes[1].Finger, tied.Notes[3].Finger)
	require.False(t, tied.Notes[2].Tied)
}

// Where slur and time allow, a silent change joins what could not be joined, and is told.
func TestASilentChangeIsTold(t *testing.T) {
	notes := written.Given(written.Notes("c5 d5 e5", 700_000), "555")
	for i := range notes {
		notes[i].Slurred = true
	}
	aims := effort.PlainAims()
	aims.Line = 400
	r := Finger(fingering.Right, hand.NinthHand, effort.Delivered(), notes, Options{Aims: aims})
	require.Equal(t, "555", digits(r))
	require.Equal(t, fingering.Finger(4), r.Notes[0].Substitution)
	require.Equal(t, fingering.Finger(4), r.Notes[1].Substitution)
	require.Zero(t, r.Notes[2].Substitution, "nothing follows")
	r = Finger(fingering.Right, hand.NinthHand, effort.Delivered(), notes, Options{})
	require.Zero(t, r.Notes[0].Substitution, "the fitted table alone knows no line")
}

// Why a note is out of reach, and how many hands reach its grip, is told of all keys struck with it.
func TestOutOfReachSaysWhy(t *testing.T) {
	r := fingered("c4+c6", "", Options{})
	require.Equal(t, []Reason{BeyondSpan, BeyondSpan}, []Reason{r.Notes[0].OutOfReach, r.Notes[1].OutOfReach})
	require.Less(t, r.Notes[0].Reach, 50, "two octaves")
	require.False(t, r.Notes[0].Contradiction)
	r = fingered("c4+g4", "23", Options{})
	require.Equal(t, []Reason{BeyondGiven, BeyondGiven}, []Reason{r.Notes[0].OutOfReach, r.Notes[1].OutOfReach})
	require.True(t, r.Notes[0].Constrained)
	r = fingered("c4+g4", "..", Options{})
	require.Empty(t, r.Notes[0].OutOfReach)
	require.Equal(t, hand.Reach(1, 5, hand.Distance(60, 67)), r.Notes[0].Reach)
	require.False(t, r.Notes[0].Constrained)
	r = fingered("c4+c5", "32", Options{})
	require.Equal(t, BeyondGiven, r.Notes[0].OutOfReach)
	require.True(t, r.Notes[0].Contradiction)
	r = fingered("c4+e4+g4", "2.1", Options{})
	require.True(t, r.Notes[1].Contradiction, "of the whole grip")
	require.Equal(t, fingering.Finger(2), r.Notes[0].Finger)
	require.Equal(t, fingering.Finger(1), r.Notes[2].Finger)

	// Of six keys at once five have fingers: those on the side of the little finger.
	r = fingered("c4+d4+e4+f4+g4+a4 -c4", "", Options{})
	require.Zero(t, r.Notes[0].Finger)
	require.Equal(t, TooManyKeys, r.Notes[0].OutOfReach)
	require.Equal(t, TooManyKeys, r.Notes[6].OutOfReach, "and what is tied on")
	require.Equal(t, "12345", digits(r)[1:6])
	require.Empty(t, r.Notes[1].OutOfReach)
	// A single note is in anybody's reach.
	require.Equal(t, 10000, fingered("c4", "", Options{}).Notes[0].Reach)
}

// Two digits given for one key at one moment contradict each other, and the note says so.
func TestTwoDigitsForOneKey(t *testing.T) {
	r := fingered("c4+c4", "23", Options{})
	require.True(t, r.Notes[0].Contradiction)
	require.True(t, r.Notes[1].Contradiction)
	require.Equal(t, r.Notes[0].Finger, r.Notes[1].Finger)
	require.False(t, fingered("c4+c4", "22", Options{}).Notes[0].Contradiction)
}

// A key that the hand cannot go on holding is left to the pedal.
func TestAKeyLetGoIsLeftToThePedal(t *testing.T) {
	r := fingered("c3:2 c5", "", Options{})
	require.True(t, r.Notes[0].Pedal)
	require.False(t, r.Notes[1].Pedal)
	require.False(t, fingered("c4:2 g4", "", Options{}).Notes[0].Pedal)
}

// The confidence in a finger is its share among all ways; a digit that is given is sure.
func TestConfidenceInGivenDigits(t *testing.T) {
	r := fingered("c4 d4 e4", "1..", Options{})
	require.Equal(t, 10000, r.Notes[0].Confidence)
	for _, n := range r.Notes[1:] {
		require.Greater(t, n.Confidence, 2000, "the likeliest of five")
		require.Less(t, n.Confidence, 10000)
	}
	require.Zero(
		t, fingered("c4 d4 e4", "1..", Options{Decode: Cheapest}).Notes[1].Confidence,
		"where only effort is asked for there is none",
	)
}

// What another finger costs more is what the cheapest fingering with it costs more: held against a search that must
// take it.
func TestChoicesAgainstASearchThatMustTakeThem(t *testing.T) {
	weights := *effort.Interpretable()
	for i := range effort.Terms {
		if strings.HasPrefix(i.Name(), "digit given") {
			weights.Terms[i] = 0
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 5).Draw(t, "notes")
		var keys []string
		for range n {
			keys = append(
				keys,
				rapid.SampledFrom([]string{"c4", "d4", "f#4", "g4", "b4", "c5", "c4+e4", "d4+f4+b4"}).Draw(t, "key"),
			)
		}
		notes := written.Notes(strings.Join(keys, " "), 0)
		with := func(i int, f fingering.Finger) Result {
			given := slices.Clone(notes)
			given[i].Allowed = fingering.Only(f)
			return Finger(fingering.Right, hand.NinthHand, &weights, given, Options{Decode: Cheapest})
		}
		r := Finger(fingering.Right, hand.NinthHand, &weights, notes, Options{Decode: Cheapest, Choices: true})
		for i, note := range r.Notes {
			type other struct{ finger, regret int }
			var all []other
			for f := fingering.Finger(1); f <= 5; f++ {
				if forced := with(i, f); f != note.Finger && !forced.Notes[i].Contradiction {
					all = append(all, other{int(f), forced.Total - r.Total})
				}
			}
			slices.SortStableFunc(all, func(a, b other) int { return a.regret - b.regret })
			require.Len(t, note.Choices, min(2, len(all)))
			for k, c := range note.Choices {
				require.InDelta(t, all[k].regret, c.Regret, 1, "choice %d of note %d", k, i)
				// Its passage holds the note itself and leads to that cost.
				require.Contains(t, c.Passage, Step{ID: i, Finger: c.Finger})
				passage := slices.Clone(notes)
				for j := range passage {
					passage[j].Allowed = fingering.Only(r.Notes[j].Finger)
				}
				for _, s := range c.Passage {
					require.NotEqual(t, r.Notes[s.ID].Finger, s.Finger, "only what differs")
					passage[s.ID].Allowed = fingering.Only(s.Finger)
				}
				if taken := Finger(
					fingering.Right, hand.NinthHand, &weights, passage, Options{Decode: Cheapest},
				); !slices.ContainsFunc(taken.Notes, func(n Fingered) bool { return n.Contradiction }) {
					require.InDelta(t, c.Regret, taken.Total-r.Total, 2)
				}
				require.Empty(t, c.Why, "nobody asked")
			}
			if len(note.Choices) > 0 {
				require.Equal(t, note.Choices[0].Regret, note.CostsMore)
			}
			if len(note.Choices) == 2 {
				require.LessOrEqual(t, note.Choices[0].Regret, note.Choices[1].Regret)
			}
		}
	})
}

// Choices are for those who ask, and the same however the fingering is chosen.
func TestChoicesAreForThoseWhoAsk(t *testing.T) {
	const scale = "c4 d4 e4 f4 g4 a4 b4 c5"
	require.Empty(t, fingered(scale, "", Options{}).Notes[3].Choices)
	require.Zero(t, fingered(scale, "", Options{}).Notes[3].CostsMore)
	a, b := fingered(scale, "12312345", Options{Choices: true}), fingered(scale, "1231234.", Options{Choices: true})
	require.Empty(t, a.Notes[3].Choices, "a digit that is given has no other")
	require.NotEmpty(t, b.Notes[7].Choices)
	why := fingered(scale, "", Options{Choices: true, Why: func(id int) bool { return id == 3 }})
	require.NotEmpty(t, why.Notes[3].Choices[0].Why)
	require.Empty(t, why.Notes[4].Choices[0].Why)
}

// The effort of each note sums to that of the line, and stands at the note where it arises.
func TestEffortOfNotes(t *testing.T) {
	r := fingered("c4 d4+f4 e4:2+g4 b4", "", Options{Explain: true})
	sums := map[string]int{}
	for _, n := range r.Notes {
		require.NotEmpty(t, n.Effort)
		for _, x := range n.Effort {
			require.NotZero(t, x.Cost)
			sums[x.Criterion] += x.Cost
		}
		require.True(t, slices.IsSortedFunc(n.Effort, func(a, b Effort) int {
			return slices.Index(effort.Criteria, a.Criterion) - slices.Index(effort.Criteria, b.Criterion)
		}))
	}
	for _, x := range r.Effort {
		require.InDelta(t, x.Cost, sums[x.Criterion], float64(len(r.Notes)), x.Criterion)
	}
	require.Empty(t, fingered("c4 d4", "", Options{}).Notes[0].Effort)
	stretched := fingered("c4+g4", "23", Options{Explain: true})
	require.InDelta(t, 72_000, costOf(stretched.Effort, "limit"), 10, "22 mm beyond what 2 and 3 span")
	require.InDelta(t, 72_000, costOf(stretched.Notes[0].Effort, "limit"), 10, "on the lowest key struck")
	require.Zero(t, costOf(stretched.Notes[1].Effort, "limit"))
	changed := fingered("e4:2 g4", "55", Options{Explain: true})
	require.Equal(t, 6000, costOf(changed.Notes[0].Effort, "change"), "a change on a held key")
}

func costOf(list []Effort, criterion string) (sum int) {
	for _, x := range list {
		if x.Criterion == criterion {
			sum += x.Cost
		}
	}
	return sum
}

// A worker used again for another hand, table or aim answers as a new one does.
func TestAWorkerUsedAgainAnswersAsANewOne(t *testing.T) {
	notes := written.Notes("c4+g4 d4+f#4 e4+c5 f4+a4 c5", 150_000)
	for i := range notes {
		notes[i].Slurred = true
	}
	type call struct {
		profile hand.Profile
		weights *effort.Weights
		aims    effort.Aims
	}
	line := effort.PlainAims()
	line.Line = 300
	var w Worker
	for _, c := range []call{
		{hand.NinthHand, effort.Delivered(), effort.Aims{}}, {hand.OctaveHand, effort.Delivered(), effort.Aims{}},
		{hand.OctaveHand, effort.HandSet(), effort.Aims{}},
		{hand.OctaveHand, effort.HandSet(), line}, {hand.NinthHand, effort.HandSet(), line},
		{hand.NinthHand, effort.Delivered(), line}, {hand.NinthHand, effort.Delivered(), effort.Aims{}},
	} {
		o := everything
		o.Aims = c.aims
		require.Equal(t, Finger(fingering.Right, c.profile, c.weights, notes, o), w.Finger(
			fingering.Right, c.profile, c.weights, notes, o,
		))
	}
}

// A stretch of the lattice is drawn with its best grips, each with what it costs more, and how the cheapest path goes
// on.
func TestADrawingOfAStretch(t *testing.T) {
	notes := written.Notes("c4 d4 e4:2 f4 g4", 0)
	at := func(n int64) fingering.Moment { return fingering.Moment{Num: n, Den: 2} }
	d := Draw(fingering.Right, hand.NinthHand, effort.Delivered(), effort.Aims{}, notes, Frame{at(1), at(4), 3})
	require.Len(t, d.Columns, 3, "from the second stroke, before the fifth")
	r := Finger(fingering.Right, hand.NinthHand, effort.Delivered(), notes, Options{Decode: Cheapest, Choices: true})
	for i, c := range d.Columns {
		require.Equal(t, at(int64(i+1)), c.Onset)
		require.Equal(t, []int{i + 1}, c.Struck)
		require.Len(t, c.Grips, 3)
		require.Greater(t, c.Of, 3)
		require.Zero(t, c.Grips[0].More)
		require.True(t, c.Grips[0].Cheapest)
		for k, g := range c.Grips {
			require.Len(t, g.Fingers, len(c.Struck)+len(c.Held))
			if k > 0 {
				require.GreaterOrEqual(t, g.More, c.Grips[k-1].More, "the cheapest first")
				require.False(t, g.Cheapest)
			}
			if g.Next >= 0 {
				require.Less(t, i+1, len(d.Columns))
			}
		}
		if i < len(d.Columns)-1 {
			require.Zero(t, c.Grips[0].Next, "the cheapest path goes on to the cheapest grip")
		} else {
			require.Equal(t, -1, c.Grips[0].Next, "what follows is not drawn")
		}
	}
	require.Equal(t, []fingering.Finger{r.Notes[1].Finger}, d.Columns[0].Grips[0].Fingers)
	require.Equal(t, r.Notes[1].Choices[0].Regret, d.Columns[0].Grips[1].More)
	require.Equal(t, []fingering.Finger{r.Notes[1].Choices[0].Finger}, d.Columns[0].Grips[1].Fingers)
	require.Equal(t, []int{2}, d.Columns[2].Held, "e is held on")
	require.Empty(t, d.Columns[0].Held)
	require.Empty(
		t,
		Draw(fingering.Right, hand.NinthHand, effort.Delivered(), effort.Aims{}, nil, Frame{at(0), at(4), 3}).Columns,
	)
	require.Len(
		t,
		Draw(
			fingering.Right, hand.NinthHand, effort.Delivered(), effort.Aims{}, notes, Frame{at(0), at(9), 50},
		).Columns[0].Grips,
		5, "no more than there are",
	)
}

// A key of which the change is not told, since no editor prints one under the pedal, is let go, and no voice is lost by it: the
// hand could hold it. A key that no finger holds is let go, too, and is lost.
func TestAKeyWhoseChangeIsNotToldIsNoneThatCannotBeHeld(t *testing.T) {
	notes := written.Given(written.Notes("e4:2 g4", 0), "55")
	for i := range notes {
		notes[i].Pedalled = true
	}
	r := Finger(fingering.Right, hand.NinthHand, effort.Delivered(), notes, Options{})
	require.Zero(t, r.Notes[0].Substitution)
	require.True(t, r.Notes[0].Pedal)
	require.True(t, r.Notes[0].Spared)
	lost := fingered("c3:2 c5", "..", Options{})
	require.True(t, lost.Notes[0].Pedal)
	require.False(t, lost.Notes[0].Spared)
}
