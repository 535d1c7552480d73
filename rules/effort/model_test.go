package effort

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// anyPassage draws music with everything that a note can say, and fingers for it.
func anyPassage(t *rapid.T) (line *fingering.Line, grips only) {
	var notes []fingering.Note
	digit := func(name string, odds int) fingering.Finger {
		if rapid.IntRange(0, odds).Draw(t, name) > 0 {
			return 0
		}
		return fingering.Finger(rapid.IntRange(1, 5).Draw(t, name+" finger"))
	}
	often := func(name string, odds int) bool { return rapid.IntRange(0, odds).Draw(t, name) == 0 }
	at, micros := int64(0), int64(0)
	for range rapid.IntRange(1, 7).Draw(t, "strokes") {
		for range rapid.IntRange(1, 3).Draw(t, "keys") {
			n := fingering.Note{ID: len(notes), Key: rapid.IntRange(48, 84).Draw(t, "key"), Micros: micros,
				Onset:   fingering.Moment{Num: at, Den: 4},
				End:     fingering.Moment{Num: at + int64(rapid.IntRange(1, 3).Draw(t, "length")), Den: 4},
				Slurred: often("slurred", 1), Pedalled: often("pedalled", 4), Turn: often("turn", 4),
				Leads: often("leads", 4),
				Then:  digit("then", 9), Remembered: digit("remembered", 5),
				Worth: rapid.IntRange(0, 900).Draw(t, "worth"),
			}
			if given := digit("given", 6); given != 0 {
				n.Allowed = fingering.Only(given)
			}
			notes = append(notes, n)
		}
		at++
		micros += int64(rapid.SampledFrom([]int{60_000, 120_000, 400_000}).Draw(t, "micros"))
	}
	line = fingering.NewLine(fingering.Hand(rapid.IntRange(0, 1).Draw(t, "hand")), notes, hand.NinthHand.Fits)
	for _, e := range line.Events {
		var g fingering.Grip
		for i := range e.Keys {
			g.Fingers[i] = fingering.Finger(rapid.IntRange(1, 5).Draw(t, "finger"))
		}
		grips = append(grips, []fingering.Grip{g})
	}
	return line, grips
}

func at(grips only, e int) fingering.Grip {
	if e < 0 {
		return fingering.Grip{}
	}
	return grips[e][0]
}

// What results say a fingering is made of is all that the search charged for it, each part on a key struck there and
// under a criterion.
func TestAllThatIsChargedIsExplained(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line, grips := anyPassage(t)
		for _, aims := range []Aims{
			{}, PlainAims(),
			{
				On: true, Comfort: 50, Memory: 150, Habit: 70, Line: 120, Tempo: 80, Reach: 200, Mix: [3]int{1, 1, 0},
				ChangeMicros: 300_000, RepeatMicros: 150_000,
			},
		} {
			m := NewPricerFor(Delivered(), hand.NinthHand, aims).Model(line, grips)
			var sum int64
			parts := 0
			for e := range line.Events {
				struck := map[int]bool{}
				for _, k := range line.Events[e].Keys {
					struck[k.Strike] = k.Struck
				}
				m.Explain(e, at(grips, e-2), at(grips, e-1), at(grips, e), func(
					strike int, criterion string, cost int32,
				) {
					require.True(t, struck[strike], "event %d counts %s to strike %d", e, criterion, strike)
					require.Contains(t, Criteria, criterion)
					sum, parts = sum+int64(cost), parts+1
				})
			}
			require.InDelta(t, priced(m, grips), sum, float64(parts)/2+1, "each part is rounded by itself")
		}
	})
}

// A finger counts to the key it strikes, a chord to its upper struck key, a step to the key stepped to.
func TestEffortStandsWhereItArises(t *testing.T) {
	explained := func(p passage, w *Weights, fingers string) map[string]int {
		line := p.line()
		grips := fingered(t, line, fingers)
		m := NewPricer(w, p.profile()).Model(line, grips)
		out := map[string]int{}
		for e := range line.Events {
			m.Explain(e, at(grips, e-2), at(grips, e-1), at(grips, e), func(strike int, criterion string, cost int32) {
				if cost != 0 {
					out[fmt.Sprint(line.Strikes[strike].IDs[0], " ", criterion)] += thousandths(int64(cost))
				}
			})
		}
		return out
	}
	require.Equal(t, map[string]int{"1 keys": 1000}, explained(
		passage{keys: "c5 c#5 d5"}, alone(fingerBlackSingle), "213",
	))
	require.Equal(t, map[string]int{"1 stretch": 1000}, explained(passage{keys: "c5+e5"}, alone(chordOrder), "12"))
	require.Equal(
		t, map[string]int{"1 stretch": 1000}, explained(passage{keys: "e5:2 c5"}, alone(chordOrder), "21"),
		"the struck one of the two",
	)
	require.Equal(t, map[string]int{"1 repetition": 1000}, explained(
		passage{keys: "c5 d5"}, alone(linkStart+sameFinger), "22",
	))
	require.Equal(t, map[string]int{"2 repetition": 1000}, explained(
		passage{keys: "c5 d5 e5"}, alone(tripleStart+sameFingerTwoApart), "121",
	))
	w := &Weights{Habit: map[Context][]Price{context(shapeKeys, 5, 0, 0, 0, 0): {{Combo: 0, Cost: 300}}}}
	require.Equal(t, map[string]int{"1 habit": 300}, explained(passage{keys: "c5+e5"}, w, "12"))
	p := passage{keys: "c5 d5", each: func(n *fingering.Note) { n.Remembered, n.Worth = 3, 400 }}
	require.Equal(t, map[string]int{"0 parallel": 400, "1 parallel": 400}, explained(p, &Weights{}, "12"))
}

// A key changed silently is left by the finger changed to: the step after it is priced from there, and nothing ties
// the strokes on either side of it together.
func TestAStepAfterAChangeBeginsWithTheFingerChangedTo(t *testing.T) {
	p := passage{keys: "c5 d5 e5", each: func(n *fingering.Note) {
		if n.ID == 0 {
			n.Then = 2
		}
	}}
	w := alone(linkStart + sameFinger)
	require.Equal(t, 1000, p.costs(t, w, Aims{}, "123"), "from the second finger, to which the thumb has changed")
	require.Zero(t, p.costs(t, w, Aims{}, "213"))
	require.Zero(
		t, p.costs(t, alone(tripleStart+sameFingerTwoApart), Aims{}, "121"), "the first finger has left its key",
	)
	require.Equal(t, 1000, passage{keys: p.keys}.costs(t, alone(tripleStart+sameFingerTwoApart), Aims{}, "121"))
	line := passage{keys: "c5 d5", marks: "s", each: p.each}
	require.InDelta(t, brokenLine, line.costs(t, &Weights{}, theLine, "12"), 1, "2 to 2 breaks the line")
	require.Zero(t, line.costs(t, &Weights{}, theLine, "21"))
}

// Over a leap wider than the hand nothing counts but how far the hand moves; the fitted table alone knows no leaps.
func TestALeapIsNoStretch(t *testing.T) {
	leap := passage{keys: "c4 c6"} // 329 mm
	for _, term := range []Term{linkStart + beyondPractical, linkLarge + 3, linkStart + handOrder} {
		require.Greater(t, leap.costs(t, alone(term), Aims{}, "15"), 0)
		require.Zero(t, leap.costs(t, alone(term), PlainAims(), "15")-leap.costs(t, &Weights{}, PlainAims(), "15"))
	}
	aims := Aims{On: true, Comfort: 100}
	require.InDelta(
		t, 4520, leap.costs(t, alone(linkStart+displacement), aims, "15"), 1,
		"329 mm, less the 103 from thumb to fifth at rest",
	)
	require.InDelta(t, 2000, leap.costs(t, alone(linkStart+displacementCapped), aims, "15"), 1, "no more than 100 mm")
	row := passage{keys: "c4 c6 d6"}
	require.Zero(
		t, row.costs(t, alone(tripleStart+halfChange), aims, "132"), "nor do three strokes belong together over it",
	)
	near := passage{keys: "c5 c6"}
	require.Greater(t, near.costs(t, alone(linkStart+handOrder), aims, "15"), 0, "an octave is no leap for this hand")
	near.span = hand.Profile{Name: "small", Span: hand.MM(160), Supple: 1000}
	require.Zero(t, near.costs(t, alone(linkStart+handOrder), aims, "15"), "for a small one it is")
}

// Where the pedal is marked it joins what the hand cannot take at once (a tenth in the ninth hand); whatever lies in
// the hand the fingers join (common practice).
func TestThePedalJoinsWhatTheHandCannot(t *testing.T) {
	for _, c := range []struct {
		keys, marks string
		want        int
	}{
		{"c5 e5", "s", brokenLine}, {"c5 e5", "sp", brokenLine}, {"c5 c6", "sp", brokenLine}, {"c5 e6", "s", brokenLine},
		{"c5 e6", "sp", 0}, {"e6 c5", "sp", 0}, {"c5 d5", "sp", brokenLine}, {"c5 e5", "", 0},
	} {
		require.InDelta(
			t, c.want, passage{keys: c.keys, marks: c.marks}.costs(t, &Weights{}, theLine, "22"), 1, "%s %q", c.keys,
			c.marks,
		)
	}
	rest := passage{keys: "c5 d5", marks: "s", each: func(n *fingering.Note) { n.Detached = true }}
	require.Zero(t, rest.costs(t, &Weights{}, theLine, "22"), "a note let go at once is not joined")
}

// A change of finger on the key that is held joins what no finger could, where there is time, and not in a turn or
// where a change is given.
func TestWhereTheHandChangesSilently(t *testing.T) {
	w := Delivered()
	change := func(p passage, fingers string) fingering.Finger {
		line := p.line()
		grips := fingered(t, line, fingers)
		m := NewPricerFor(w, p.profile(), PlainAims()).Model(line, grips)
		require.Zero(t, m.Change(0, fingering.Grip{}, grips[0][0]))
		to := m.Change(1, grips[0][0], grips[1][0])
		if to != 0 {
			require.Equal(
				t, line.Events[0].Keys[len(line.Events[0].Keys)-1].Strike, m.ChangeStrike(1), "on the upper voice",
			)
		}
		return to
	}
	slow := passage{keys: "c5 d5", marks: "s", micros: 600_000}
	require.Equal(t, fingering.Finger(4), change(slow, "55"), "5 gives the key to 4 and comes again")
	require.Zero(t, change(slow, "45"), "what is joined needs no change")
	chord := passage{keys: "c5+e5 f5", marks: "s", micros: 600_000}
	w = alone(linkStart + Term(OuterVoice)*linkTerms + sameFinger) // one finger on two keys is dear in chords too
	w.Terms[linkStart+Term(OuterVoice)*linkTerms+sameFinger] = 5000
	require.Equal(t, fingering.Finger(4), change(chord, "355"), "3 holds the lower key: only 4 is between")
	require.Zero(t, change(chord, "455"), "there is no finger between 4 and 5")
	w = Delivered()
	for what, p := range map[string]passage{
		"too fast":          {keys: "c5 d5", marks: "s", micros: 299_999},
		"not slurred":       {keys: "c5 d5", micros: 600_000},
		"in a turn":         {keys: "c5 d5", marks: "st", micros: 600_000},
		"a change is given": {keys: "c5 d5", marks: "s", micros: 600_000, each: func(n *fingering.Note) { n.Then = 5 }},
		"a grace note":      {keys: "c5 d5", marks: "s", micros: 600_000, each: asGraceNote},
	} {
		require.Zero(t, change(p, "55"), what)
	}
}

// asGraceNote makes the first of two notes lean on the second.
func asGraceNote(n *fingering.Note) {
	if n.ID == 0 {
		n.Rank, n.Onset = playing.GraceNote(1), fingering.Moment{Num: 1, Den: 2}
	}
}

// Digits given where a passage stood are asked for where it comes again, at any octave: the longer the agreement
// about it the more, and where two were given each the less.
func TestGivenDigitsComeAgain(t *testing.T) {
	w := alone(memoryGiven)
	w.Terms[memoryGiven] = -1000
	reward := func(keys, given, fingers string) int {
		return -passage{keys: keys, given: given}.costs(t, w, Aims{}, fingers)
	}
	const around = "c5 d5 e5 f5 e5 d5 c5 "
	require.InDelta(
		t, 1333, reward(around+"g4 "+around, "...4...........", "123432121234321"), 1, "three strokes on either side",
	)
	require.Zero(t, reward(around+"g4 "+around, "...4...........", "123432121233321"), "another finger")
	require.InDelta(
		t, 1333, reward(around+"g4 c6 d6 e6 f6 e6 d6 c6", "...4...........", "123432121234321"), 1, "an octave higher",
	)
	require.InDelta(
		t, 800, reward("d5 e5 f5 e5 d5 a4 g4 d5 e5 f5 e5 d5 c4", "..4..........", "1234311234321"), 1,
		"two strokes on either side",
	)
	require.InDelta(t, 333, reward("e5 f5 e5 a4 g4 e5 f5 e5 c4", ".4.......", "343123431"), 1, "one")
	require.Zero(t, reward("e5 f5 g5 a4 g4 e5 f5 e5 c4", ".4.......", "343123431"), "nothing about it is the same")
	require.InDelta(
		t, 800, reward(around+"g4 "+around+"g4 "+around, "...4.......3...........", "12343212123332121234321"), 1,
		"two that differ share: two fifths of twice",
	)
	require.Zero(t, reward(around, "...4...", "1234321"), "what is given needs no reward")
}

// The reward of the handbook goes to long runs: a scale of an octave has half of it, two octaves all (FACTS §4.1).
func TestHandbookDigitsInsideLongRuns(t *testing.T) {
	const twoOctaves = "c4 d4 e4 f4 g4 a4 b4 c5 d5 e5 f5 g5 a5 b5 c6"
	w := alone(patternScale)
	w.Terms[patternScale], w.Terms[patternChord] = -1000, -1000
	count := func(p passage, fingers string) int { return -p.costs(t, w, Aims{}, fingers) }
	require.InDelta(t, 13_000, count(passage{keys: twoOctaves}, "123123412312345"), 1, "all but the first and last")
	require.InDelta(t, 12_000, count(passage{keys: twoOctaves}, "123123412312335"), 1)
	require.InDelta(
		t, 3_000, count(passage{keys: "c4 d4 e4 f4 g4 a4 b4 c5"}, "12312345"), 1, "one octave: half for each",
	)
	require.Zero(t, count(passage{keys: "c4 d4 e4 f4 g4 a4 b4"}, "1231234"), "seven notes are no long run")
	require.Zero(
		t, count(passage{keys: twoOctaves, each: func(n *fingering.Note) { n.Detached = true }}, "123123412312345"),
		"single strokes are no run",
	)
	require.InDelta(
		t, 13_000, count(passage{keys: "c3 d3 e3 f3 g3 a3 b3 c4 d4 e4 f4 g4 a4 b4 c5", left: true}, "543213214321321"),
		1,
	)
	require.InDelta(t, 5_000, count(passage{keys: "c4 e4 g4 c5 e5 g5 c6"}, "1231235"), 1)
	require.Zero(t, count(passage{keys: "c4 e4 g4 c5 e5 g5"}, "123123"), "six notes of a triad")
	require.InDelta(
		t, 7_000, count(passage{keys: "c4 d#4 f#4 a4 c5 d#5 f#5 a5 c6"}, "123412345"), 1, "a seventh chord needs nine",
	)
	require.Zero(t, count(passage{keys: "c4 d#4 f#4 a4 c5 d#5 f#5 a5"}, "12341234"))
	require.Zero(t, count(passage{keys: "c4 d4 e4 f4 g4 g#4 b4 c5 d5"}, "123123412"), "no scale has these keys")
	// Up to a black key and back: there neither thumb nor fifth is at home, and the digit counts; at a white turn it
	// is free.
	turn := passage{keys: "d#4 f4 g4 g#4 a#4 c5 d5 d#5 d5 c5 a#4 g#4 g4 f4 d#4"}
	require.InDelta(t, 500+500, count(turn, "312341232143213")-count(turn, "312341242143213"), 1, "in both runs")
	white := passage{keys: "c4 d4 e4 f4 g4 a4 b4 c5 b4 a4 g4 f4 e4 d4 c4"}
	require.Zero(t, count(white, "123123454321321")-count(white, "123123414321321"))
	m := NewPricer(w, hand.NinthHand).Model(white.line(), nil)
	require.Equal(t, [][2]int{{0, 7}, {7, 14}}, m.Runs())
}

// Keys struck again and again, and turns, are runs too where tempo counts: there one even pattern is kept.
func TestRepeatedKeysAndTurnsAreRuns(t *testing.T) {
	runs := func(p passage, aims Aims) [][2]int {
		line := p.line()
		return NewPricerFor(&Weights{}, p.profile(), aims).Model(line, nil).Runs()
	}
	fast, slow := int64(100_000), int64(400_000)
	require.Equal(
		t, [][2]int{{1, 3}}, runs(passage{keys: "b4 c5 c5 c5 d5", micros: slow}, theTempo), "three on one key",
	)
	require.Equal(t, [][2]int{{1, 2}}, runs(passage{keys: "b4 c5 c5 d5", micros: fast}, theTempo), "two fast ones")
	require.Empty(t, runs(passage{keys: "b4 c5 c5 d5", micros: slow}, theTempo), "two slow ones")
	require.Empty(t, runs(passage{keys: "b4 c5 c5 c5 d5", micros: fast}, Aims{}))
	require.Empty(t, runs(passage{keys: "b4 c5+e5 c5+e5 c5+e5", micros: fast}, theTempo), "chords are none")
	turn := passage{
		keys: "b4 c5 d5 c5 b4 g4", micros: fast, each: func(n *fingering.Note) { n.Turn = n.ID >= 1 && n.ID <= 4 },
	}
	require.Equal(t, [][2]int{{1, 4}}, runs(turn, theTempo))
	require.Equal(
		t, [][2]int{{0, 3}, {5, 9}}, mergeRuns([][2]int{{0, 2}, {6, 9}}, [][2]int{{1, 3}, {5, 6}}),
		"what overlaps is one",
	)
	require.Equal(t, [][2]int{{0, 5}}, mergeRuns([][2]int{{0, 5}}, [][2]int{{1, 2}}))
}

// Comfort for a mix of hands is what is beyond each hand's ease, by the weights of the mix; limits stay those of the
// hand itself.
func TestComfortForAMixOfHands(t *testing.T) {
	p, w := passage{keys: "c5 g5"}, alone(linkStart+beyondComfort)
	beyond := func(aims Aims, span hand.Profile) int { p.span = span; return p.costs(t, w, aims, "23") }
	small, middle := beyond(Aims{}, hand.OctaveHand), beyond(Aims{}, hand.NinthHand)
	require.Greater(t, small, middle)
	require.Equal(t, middle, beyond(Aims{On: true, Comfort: 100}, hand.NinthHand))
	require.InDelta(t, (small+middle)/2, beyond(Aims{On: true, Comfort: 100, Mix: [3]int{1, 1, 0}}, hand.NinthHand), 3)
	require.InDelta(
		t, (3*small+middle)/4, beyond(Aims{On: true, Comfort: 100, Mix: [3]int{3, 1, 0}}, hand.TenthHand), 3,
	)
	require.Equal(t, middle, beyond(Aims{Mix: [3]int{1, 0, 0}}, hand.NinthHand), "a mix without aims is none")
	for criterion, aims := range map[string]Aims{
		"stretch": {On: true, Comfort: 30}, "position": {On: true, Comfort: 30}, "passing": {On: true, Comfort: 30},
		"keys":       {On: true, Comfort: 30},
		"repetition": {On: true, Comfort: 30}, "pattern": {On: true, Memory: 30}, "parallel": {On: true, Memory: 30},
		"habit": {On: true, Habit: 30},
	} {
		require.Equal(t, 30, aims.percentOf(criterion), criterion)
		require.Equal(t, 100, Aims{}.percentOf(criterion), criterion)
	}
}

// Four strokes ahead and behind count, up to an octave.
func TestHowFarTheVoiceGoesOn(t *testing.T) {
	first := func(keys string) int {
		p := passage{keys: keys}
		rest := strings.Repeat("3", len(strings.Fields(keys))-1)
		return p.costs(t, alone(risingAhead), Aims{}, "1"+rest)
	}
	require.Equal(t, 1000, first("c5 c6"))
	require.Equal(t, 1000, first("c5 d5 e5 f5 c6"), "the fourth")
	require.InDelta(t, 428, first("c5 d5 e5 f5 f5 c6"), 1, "not the fifth: a fourth of 70.5 mm")
	require.Equal(t, 1000, first("c5 e6"), "no more than an octave")
	require.Zero(t, first("c5 c4"))
	// The upper voice of chords goes on in the upper voice, the lower in the lower, an inner key at the nearest.
	chords := passage{keys: "c4+e4+g4 c4+f4+c6"}
	require.Zero(t, chords.costs(t, alone(risingAhead), Aims{}, "135135"))
	require.InDelta(t, 142, chords.costs(t, alone(risingAhead+2), Aims{}, "135135"), 1, "e to f")
	require.InDelta(t, 1000, chords.costs(t, alone(risingAhead+4), Aims{}, "135135"), 1)
}

func TestChangesAreAddedToATable(t *testing.T) {
	key := context(noteClass, 0, 0)
	other := context(noteClass, 1, 0)
	a := &Weights{
		Name: "a", Provenance: "p", Attribution: []string{"x"}, Habit: map[Context][]Price{key: {{1, 10}, {3, 20}}},
	}
	a.Terms[0] = 5
	b := &Weights{Habit: map[Context][]Price{key: {{3, -20}, {0, 7}, {1, 1}}, other: {{2, 4}}}}
	b.Terms[0], b.Terms[1] = 2, -3
	sum := a.Plus(b)
	require.Equal(t, int32(7), sum.Terms[0])
	require.Equal(t, int32(-3), sum.Terms[1])
	require.Equal(
		t, map[Context][]Price{key: {{0, 7}, {1, 11}}, other: {{2, 4}}}, sum.Habit,
		"sorted, and without what comes to nothing",
	)
	require.Equal(t, []Price{{1, 10}, {3, 20}}, a.Habit[key], "neither is changed")
	require.Equal(t, "a", sum.Name)
	require.Equal(t, []string{"x"}, sum.Attribution)
	require.Equal(t, b.Habit[other], (&Weights{}).Plus(b).Habit[other])
	require.Nil(t, (&Weights{}).Plus(&Weights{}).Habit)
	terms, habit := sum.Numbers()
	require.Equal(t, [2]int{2, 3}, [2]int{terms, habit})
}

// A context has as many combinations as its kind: one for each finger, pair or three, shape, or pair of shapes.
func TestCombinationsOfAContext(t *testing.T) {
	for context, combinations := range map[string]int{
		"key:1,0": 5, "colours:1,0,0,0,0": 5, "step:36,0": 25, "step-key:1,36": 25, "steps:36,36,1": 125,
		"steps-behind:1,1,1,1": 125, "shape:5,0,0,0,0": 10, "shape-line:5,0,0,0,0,1,1": 10,
		"double:4,4,32": 100, "double-colours:4,4,32,0": 100,
	} {
		read := func(combo int) error {
			_, err := Read(strings.NewReader(fmt.Sprintf(`{"terms":{},"habit":{%q:"%d:5"}}`, context, combo)))
			return err
		}
		require.NoError(t, read(combinations-1), context)
		require.ErrorContains(t, read(combinations), "no combination", context)
		require.ErrorContains(t, read(-1), "no combination", context)
	}
}

// What handbooks agree on (FACTS §4.1, FACTS §4.8; common practice) the table written by hand says too, before
// anything is fitted.
func TestTheHandSetTableFollowsHandbooks(t *testing.T) {
	for _, c := range []struct{ keys, better, worse, why string }{
		{"c5 d5 e5 f5 g5", "12345", "11111", "a finger for each of five neighbours"},
		{"c5 d5 e5 f5 g5 a5 b5 c6", "12312345", "12341234", "the scale of C"},
		{"e5 f#5 g5", "234", "214", "no thumb on a black key between white ones"},
		{"e5 f5", "31", "53", "the thumb passes, not the third finger"},
		{"c5 c6", "15", "23", "an octave for the outer fingers"},
		{"c5+g5", "15", "23", "and a fifth"},
	} {
		p := passage{keys: c.keys}
		require.Less(t, p.costs(t, HandSet(), Aims{}, c.better), p.costs(t, HandSet(), Aims{}, c.worse), c.why)
	}
	again, err := Read(bytes.NewReader(handSetFile))
	require.NoError(t, err)
	require.Equal(t, HandSet(), again)
}
