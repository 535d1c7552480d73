package effort

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/learned"
)

// pair is two fingerings of one passage that differ in one term alone: in a table that prices nothing else, more is
// by so many thousandths of the term's unit dearer than less.
type pair struct {
	passage
	more, less string
	amount     int
}

// Terms that stand once for each kind of line: the strokes of the pair stand alone, as the upper voice of chords, or
// between a key that is held and one that is let go. Distances are those of the keyboard (FACTS §2.1), in
// millimetres: c to d 23.5, c to g 94, c to c 164.5.
var linkPairs = []struct {
	name       string
	keys       string
	more, less string
	amount     int
	shipped    string // sign of the shipped table's price alone, as upper voice and inside
	why        string
}{
	{"same finger, another key", "c5 d5", "22", "23", 1000, "+++", "one finger on two keys breaks the line"},
	{"same finger, distance", "c5 g5", "22", "23", 1880, "+--", "94 mm by one finger"},
	{"same finger, slide to white", "c#5 d5", "22", "23", 1000, "---", "gliding off a black key is the one easy case"},
	{"same key, another finger", "c5 c5", "23", "22", 1000, "+++", ""},
	{"same key, same finger", "c5 c5", "22", "23", 1000, "++-", ""},
	{"pass, thumb on black", "e5 f#5", "31", "13", 1000, "+++", "the thumb passes under to a black key"},
	{"pass, one level", "e5 f5", "31", "13", 1000, "+--", ""},
	{
		"pass, thumb on white by black", "d#5 e5", "31", "13", 1000, "---",
		"the thumb passes under a finger on a black key",
	},
	{"pass, distance", "e5 f5", "31", "13", 470, "++-", "23.5 mm"},
	{"beyond comfort", "c5 g5", "23", "15", 728, "+++", "2-3 spans 72 mm, 57.6 at ease"},
	{"beyond limit", "c5 g5", "23", "15", 440, "+++", "94 mm where 2-3 spans 72"},
	{"thumb on black by white", "f#5 g5", "12", "23", 1000, "+++", "the thumb on a black key beside a white one"},
	{"fifth on black by white", "a5 a#5", "45", "34", 1000, "+++", ""},
	{"hand moved", "c5 c6", "12", "15", 1400, "+++", "the second finger lies 33 mm from the thumb, the fifth 103"},
	{"hand moved, near", "c5 c6", "12", "15", 770, "+++", "the same, counted up to 100 mm"},
	{"fingers in order", "c5 d5", "12", "21", 1000, "++-", ""},
	{"fingers crossed", "c5 d5", "21", "12", 1000, "-++", ""},
}

// Terms of three strokes in a row, alone and above a repeated bass.
var rowPairs = []struct {
	name       string
	keys       string
	more, less string
	amount     int
	shipped    string // sign of the shipped price alone and in chords
	why        string
}{
	{"same finger two apart", "c5 d5 e5", "121", "123", 1000, "++", ""},
	{"same finger two apart, near", "c5 d5 e5", "121", "123", 1000, "--", "47 mm, at most 60"},
	{"another finger on return", "c5 d5 c5", "231", "232", 1000, "++", ""},
	{"half change", "c5 e5 c6", "123", "125", 1000, "++", "1-3 at ease spans 144.5 mm, 1-5 181.5"},
	{"full change", "c5 e5 c6", "213", "125", 1000, "++", "over the thumb, in one direction"},
	{"size of change", "c5 e5 c6", "123", "125", 400, "--", "164.5 mm, 20 beyond the ease of 1-3"},
	{"3, 4 and 5 in a row", "c5 d5 e5", "345", "123", 1000, "+-", ""},
	{"turn after a pass", "f5 e5 f5", "134", "131", 1000, "++", "over the thumb and straight back"},
	{
		"hand moved over two", "c5 e5 c6", "123", "125", 940, "+-",
		"the third finger lies 56 mm from the thumb, the fifth 103",
	},
	{"crossed over two", "c5 d5 e5", "312", "123", 1000, "++", ""},
	{"same finger three times", "c5 d5 e5", "222", "232", 1000, "--", ""},
	{"fingers go with the keys", "c5 d5 e5", "123", "212", 1000, "-+", ""},
}

// Terms inside a chord.
var chordPairs = []struct {
	name       string
	keys       string
	more, less string
	amount     int
	shipped    string
}{
	{"beyond comfort", "c5+g5", "23", "15", 728, "-"},
	{"beyond limit", "c5+g5", "23", "15", 440, "+"},
	{"thumb on black by white", "f#5+g5", "12", "23", 1000, "+"},
	{"fifth on black by white", "a5+a#5", "45", "34", 1000, "+"},
	{"one key held", "c5:2 e5", "13", "31", 1000, "+"},
	{"neighbouring fingers", "c5+e5", "12", "13", 1000, "+"},
	{"fingers left out", "c5+e5", "14", "12", 2000, "+"},
}

// Terms that stand once for each finger: the finger is laid on the first or last key of the passage, against another
// finger there.
var fingerPairs = []struct {
	name    string
	keys    string
	left    bool
	last    bool // the finger on the last key is meant, else that on the first
	shipped string
}{
	{"single key", "c5", false, false, "++-++"}, {"chord", "c5+e5", false, false, "---++"},
	{"left hand", "c3", true, false, "--++-"},
	{"keys ahead above", "c5 c6", false, false, "--+++"}, {"keys ahead below", "c6 c5", false, false, "+++--"},
	{"keys behind above", "c6 c5", false, true, "---++"}, {"keys behind below", "c5 c6", false, true, "+++--"},
	{"black key", "c#5", false, false, "+-+++"}, {"black key in a chord", "c#5+e5", false, false, "+--++"},
}

// Terms that stand once for each pair of fingers: of the pair against the same fingers the other way round.
var fingerPairPairs = []struct {
	name    string
	keys    string
	crossed bool    // the higher finger on the lower key
	rest    [10]int // thousandths of the unit by pair; nil for one unit each
	shipped string
}{
	{"in order", "c5 d5", false, [10]int{}, "-+++--+-+-"}, {"crossed", "c5 d5", true, [10]int{}, "++++++++++"},
	// 23.5 mm for each finger further on lie easily; c to c sharp is 9.4.
	{"cramped", "c5 c#5", false, [10]int{282, 752, 1222, 1692, 282, 752, 1222, 282, 752, 282}, "++++++++++"},
	// An octave of 164.5 mm, less 2 mm, 23.5 for each finger further on, and as much again for the thumb.
	{"open", "c5 c6", false, [10]int{2310, 1840, 1370, 900, 2780, 2310, 1840, 2780, 2310, 2780}, "++++++++++"},
	{"chord", "c5+e5", false, [10]int{}, "+-++--++-+"},
	{"chord cramped", "c5+c#5", false, [10]int{282, 752, 1222, 1692, 282, 752, 1222, 282, 752, 282}, "++++++++++"},
	{"chord open", "c5+c6", false, [10]int{2310, 1840, 1370, 900, 2780, 2310, 1840, 2780, 2310, 2780}, "++++++++++"},
}

// termPair is a pair with the sign that the shipped table has for it.
type termPair struct {
	pair
	shipped byte
}

// termPairs lists the pair of every term by its name.
func termPairs(t *testing.T) map[string]termPair {
	out := map[string]termPair{}
	add := func(name string, p passage, more, less string, amount int, shipped byte) {
		require.NotContains(t, out, name)
		out[name] = termPair{pair{p, more, less, amount}, shipped}
	}
	for _, r := range linkPairs {
		keys := strings.Fields(r.keys)
		add("line: "+r.name, passage{keys: r.keys}, r.more, r.less, r.amount, r.shipped[0])
		voiced := func(f string) string { return "1" + f[:1] + "1" + f[1:] }
		add(
			"outer voice: "+r.name, passage{keys: fmt.Sprintf("c3+%s c3+%s", keys[0], keys[1])}, voiced(r.more),
			voiced(r.less), r.amount, r.shipped[1],
		)
		inside := func(f string) string { return f[:1] + "3" + f[1:] }
		add(
			"inner voice: "+r.name, passage{keys: fmt.Sprintf("%s:2 g5 %s", keys[0], keys[1])}, inside(r.more),
			inside(r.less), r.amount, r.shipped[2],
		)
	}
	for _, r := range rowPairs {
		add("three in a line: "+r.name, passage{keys: r.keys}, r.more, r.less, r.amount, r.shipped[0])
		voiced := func(f string) string { return "1" + f[:1] + "1" + f[1:2] + "1" + f[2:] }
		add(
			"three in a chords: "+r.name, passage{keys: "c3+" + strings.Join(strings.Fields(r.keys), " c3+")},
			voiced(r.more), voiced(r.less), r.amount, r.shipped[1],
		)
	}
	for _, r := range chordPairs {
		add("chord: "+r.name, passage{keys: r.keys}, r.more, r.less, r.amount, r.shipped[0])
	}
	for _, r := range fingerPairs {
		p := passage{keys: r.keys, left: r.left}
		for f := range fingering.Fingers {
			own, other := fmt.Sprint(f+1), fmt.Sprint((f+1)%5+1)
			rest := strings.Repeat("3", len(p.notes())-1)
			more, less := own+rest, other+rest
			if r.last {
				more, less = rest+own, rest+other
			}
			// Where 3 stands on the other key too, the term is counted there alike.
			add(fmt.Sprintf("%s, finger %d", r.name, f+1), p, more, less, 1000, r.shipped[f])
		}
	}
	for _, r := range fingerPairPairs {
		for i, name := range pairNames {
			more, less := name[:1]+name[2:], name[2:]+name[:1]
			if r.crossed {
				more, less = less, more
			}
			amount := r.rest[i]
			if r.rest == [10]int{} {
				amount = 1000
			}
			add(r.name+", "+name, passage{keys: r.keys}, more, less, amount, r.shipped[i])
		}
	}
	// FACTS §4.1 and FACTS §4.2: the handbook's digits, one of them changed inside.
	add(
		"handbook digit in a long scale", passage{keys: "c4 d4 e4 f4 g4 a4 b4 c5 d5 e5 f5 g5 a5 b5 c6"},
		"123123412312345", "123123412412345", 1000, '-',
	)
	add("handbook digit in a long arpeggio", passage{keys: "c4 e4 g4 c5 e5 g5 c6"}, "1231235", "1231245", 1000, '-')
	// Three strokes on either side are the same and one digit is given there: two thirds of twice the unit.
	add(
		"digit given at a return",
		passage{keys: "c5 d5 e5 f5 e5 d5 c5 g4 c5 d5 e5 f5 e5 d5 c5", given: "...4..........."}, "123432121234321",
		"123432121233321", 1333, '-',
	)
	// The network holds nothing against one finger, and so much against another, as it says itself.
	p := passage{keys: "c4 d4 e4 f4 g4"}
	says := learned.Shipped().Says(p.line(), &learned.Workspace{})
	require.Positive(t, says[0][1])
	add("what the network holds against a finger", p, "22345", "12345", int(says[0][1]-says[0][0]), '+')
	return out
}

// Every term has its pair, and every pair a term: a new term without one fails here.
func TestEveryTermHasItsPair(t *testing.T) {
	pairs := termPairs(t)
	known := map[string]bool{}
	for term := range Terms {
		known[term.Name()] = true
		_, is := pairs[term.Name()]
		require.True(t, is, "the term %q has no pair of fingerings that differ in it: add one to linkPairs, rowPairs, chordPairs or termPairs", term.Name())
	}
	for name := range pairs {
		require.True(t, known[name], "there is no term %q", name)
	}
}

// With a table that prices one term alone, the two fingerings differ by what the term says; and the table that
// fingerings are delivered with prices it with the sign that stands beside the pair.
func TestTermsByPairs(t *testing.T) {
	pairs := termPairs(t)
	for term := range Terms {
		p, is := pairs[term.Name()]
		require.True(t, is, "the term %q has no pair", term.Name())
		w, aims := alone(term), Aims{}
		if term == learnedHabit {
			w, aims = w.Asking(learned.Shipped(), 1000), Aims{On: true, Habit: 100}
		}
		got := p.costs(t, w, aims, p.more) - p.costs(t, w, aims, p.less)
		require.InDelta(t, p.amount, got, 2, "%s on %s: %s against %s", term.Name(), p.keys, p.more, p.less)
		shipped := Delivered().Terms[term]
		require.Equal(
			t, string(p.shipped), sign3(int(shipped)), "%s costs %d in the shipped table", term.Name(), shipped,
		)
	}
}

func sign3(v int) string {
	switch {
	case v < 0:
		return "-"
	case v > 0:
		return "+"
	}
	return "0"
}

// aimPair is a pair for a price of line, tempo or reach, which no table holds.
type aimPair struct {
	of   string // the constants it is about
	aims Aims
	pair
	why string
}

var (
	theLine    = Aims{On: true, Line: 100, ChangeMicros: 300_000, RepeatMicros: 150_000}
	theTempo   = Aims{On: true, Tempo: 100, ChangeMicros: 300_000, RepeatMicros: 150_000}
	theComfort = Aims{On: true, Comfort: 100, ChangeMicros: 300_000, RepeatMicros: 150_000}
	theReach   = Aims{On: true, Reach: 100, ChangeMicros: 300_000, RepeatMicros: 150_000}
)

// Amounts are thousandths of a nat.
var aimPairs = []aimPair{
	{"brokenLine", theLine, pair{passage{keys: "c5 d5", marks: "s"}, "22", "12", 2000}, "one finger lets the line go"},
	{"brokenLine", theLine, pair{passage{keys: "c5 b5", marks: "s"}, "23", "15", 2000}, "2-3 spans no seventh"},
	{
		"brokenLine", theLine, pair{passage{keys: "c5 g5", marks: "s"}, "31", "15", 2000},
		"the thumb passes under no further than a third",
	},
	{"brokenLine", theLine, pair{passage{keys: "c5 e5", marks: "s"}, "52", "25", 2000}, "2 passes over no finger"},
	{
		"slidLine", theLine, pair{passage{keys: "c#5 d5", marks: "s"}, "22", "23", 800},
		"a finger glides off a black key",
	},
	{"slidLine", theLine, pair{passage{keys: "c5 d5", marks: "s"}, "11", "12", 800}, "the thumb glides to a neighbour"},
	{"crossedLine", theLine, pair{passage{keys: "c5 d5", marks: "s"}, "43", "34", 300}, "3 passes over 4"},
	{
		"turnedAside", theLine, pair{passage{keys: "c5 d5", marks: "st"}, "13", "12", 900},
		"a turn lies under neighbouring fingers",
	},
	{
		"weakLeader", theLine, pair{passage{keys: "c5", marks: "l"}, "4", "3", 1200},
		"the fourth finger cannot lead alone",
	},
	{"weakLeader", theLine, pair{passage{keys: "c5+e5", each: leads(1)}, "12", "13", 1200}, "2 leads no upper voice"},
	{"weakLeader", theLine, pair{passage{keys: "c5+e5", each: leads(0)}, "35", "25", 1200}, "3 leads no lower voice"},
	{
		"ChordStep", theLine, pair{passage{keys: "c5 e5", marks: "s"}, "22", "24", 2000},
		"without pedal a broken chord has to be joined",
	},
	{
		"reachPrice", theReach, pair{passage{keys: "c#5+c#6"}, "14", "15", 126},
		"1-4 takes an octave in 94 of 100 hands, 1-5 in 99",
	},
	{
		"stretched", theReach, pair{passage{keys: "c5+g5"}, "23", "15", 3081},
		"36.4 mm beyond the ease of 2-3, and hardly anybody reaches that far",
	},
	{
		"slowFinger", theTempo, pair{passage{keys: "c5 d5", micros: 125_000}, "22", "23", 1000},
		"one finger needs twice the time",
	},
	{
		"slowFinger", theTempo, pair{passage{keys: "c5 d5", micros: 10_000}, "22", "23", 6000},
		"no more than six times the price",
	},
	{
		"fastPass", theTempo, pair{passage{keys: "e5 f5", micros: 45_000}, "31", "13", 500},
		"the thumb passes under in half the time it needs",
	},
	{"weakPair", theTempo, pair{passage{keys: "c5 d5", micros: 55_000}, "45", "34", 600}, "4 and 5 in turn"},
	{
		"leapBase leapBit nearMove", theTempo, pair{passage{keys: "c5 b5", micros: 72_220}, "12", "15", 700},
		"108 mm onto a white key need 144.44 ms; a shift of 38 mm is no leap",
	},
	{
		"needlessChange", theTempo, pair{passage{keys: "c5 c5", micros: 300_000}, "23", "22", needlessChange},
		"slowly one finger repeats by itself",
	},
	{
		"needlessChange", theTempo, pair{passage{keys: "c5 c5 r r c5 c5", micros: 100_000}, "3232", "3221", 0},
		"fingers in turn begin anew",
	},
	{
		"outOfTurn", theTempo, pair{passage{keys: "c5 c5", micros: 100_000}, "23", "22", 2500 - 3250},
		"fast repetition goes towards the thumb",
	},
	{
		"tiredFinger", theTempo, pair{passage{keys: "c5 c5", micros: 100_000}, "22", "21", 3250 + 1100},
		"one finger repeats six or seven times a second, not ten",
	},
	{
		"tiredFinger", theTempo, pair{passage{keys: "c5+e5 d5+e5", micros: 100_000}, "1323", "1324", 0},
		"where keys are struck together the hand repeats, and no finger tires",
	},
	{
		"regripSoon", theTempo, pair{passage{keys: "c5+e5 c5+e5", micros: 299_999}, "1324", "1313", 500},
		"a double note struck twice, the second time soon",
	},
	{
		"regripSlowly", theTempo, pair{passage{keys: "c5+e5 c5+e5", micros: 300_000}, "1324", "1313", 1500},
		"with time there is no reason to",
	},
	{
		"regripChord", theTempo, pair{passage{keys: "c5+e5+g5 c5+e5+g5", micros: 100_000}, "135124", "135135", 2500},
		"a chord struck again, as fast as may be",
	},
	{
		"regripChord", theTempo, pair{passage{keys: "c5+e5 c5+e5 c5+e5", micros: 200_000}, "131324", "131313", 2500},
		"a double note a third time",
	},
	{
		"regripChord", theTempo, pair{passage{keys: "c5+e5 d5+e5", micros: 300_000}, "1324", "1323", needlessChange},
		"other keys are no stroke again: the upper voice alone tells",
	},
	{
		"goesOnInTurn", theTempo, pair{passage{keys: "c5 c5", micros: 100_000}, "14", "43", 1600 + 1100},
		"a turn goes on with the next finger",
	},
	{
		"octaveInside", theComfort, pair{passage{keys: "c3 c4"}, "13", "15", octaveInside},
		"an octave by inner fingers, one key after the other",
	},
	{
		"octaveInside", theComfort, pair{passage{keys: "c3 c4"}, "25", "15", octaveInside},
		"without the thumb",
	},
	{
		"octaveByFourth", theComfort, pair{passage{keys: "c3 c4"}, "14", "15", octaveByFourth},
		"the fourth reaches it, too, and the fifth is free",
	},
	{
		"octaveByFourth", theComfort, pair{passage{keys: "c#3 c#4"}, "14", "15", 0},
		"on black the fourth lies well",
	},
	{
		"octaveInside octaveSoon", theComfort, pair{passage{keys: "c3 r r r r r r r r r c4"}, "13", "15", 0},
		"later the hand comes anew",
	},
	{
		"changedAtThird", theTempo, pair{passage{keys: "c5 c5 c5", micros: 160_000}, "332", "333", changedAtThird},
		"twice by one finger and then by another",
	},
	{
		"octaveInside", theComfort, pair{passage{keys: "c3 c4"}, "13", "15", octaveInside},
		"an octave by inner fingers, one key after the other",
	},
	{
		"octaveInside", theComfort, pair{passage{keys: "c3 c4"}, "25", "15", octaveInside},
		"without the thumb",
	},
	{
		"octaveByFourth", theComfort, pair{passage{keys: "c3 c4"}, "14", "15", octaveByFourth},
		"the fourth reaches it, too, and the fifth is free",
	},
	{
		"octaveByFourth", theComfort, pair{passage{keys: "c#3 c#4"}, "14", "15", 0},
		"on black the fourth lies well",
	},
	{
		"octaveInside octaveSoon", theComfort, pair{passage{keys: "c3 r r r r r r r r r c4"}, "13", "15", 0},
		"later the hand comes anew",
	},
	{
		"changedAtThird", theTempo, pair{passage{keys: "c5 c5 c5", micros: 160_000}, "343", "333", 0},
		"with each stroke another finger",
	},
	{
		"octaveInside", theComfort, pair{passage{keys: "c3 c4"}, "13", "15", octaveInside},
		"an octave by inner fingers, one key after the other",
	},
	{
		"octaveInside", theComfort, pair{passage{keys: "c3 c4"}, "25", "15", octaveInside},
		"without the thumb",
	},
	{
		"octaveByFourth", theComfort, pair{passage{keys: "c3 c4"}, "14", "15", octaveByFourth},
		"the fourth reaches it, too, and the fifth is free",
	},
	{
		"octaveByFourth", theComfort, pair{passage{keys: "c#3 c#4"}, "14", "15", 0},
		"on black the fourth lies well",
	},
	{
		"octaveInside octaveSoon", theComfort, pair{passage{keys: "c3 r r r r r r r r r c4"}, "13", "15", 0},
		"later the hand comes anew",
	},
	{
		"changedAtThird", theTempo, pair{passage{keys: "c5 c5 d5", micros: 160_000}, "332", "334", 0},
		"another key is no third time",
	},
	{"thumbAgain", theTempo, pair{passage{keys: "c5 c5", micros: 100_000}, "14", "22", 1600 - 3250}, "the thumb ends a turn"},
}

func leads(id int) func(*fingering.Note) {
	return func(n *fingering.Note) { n.Leads = n.ID == id }
}

func TestAimsByPairs(t *testing.T) {
	for _, p := range aimPairs {
		got := p.costs(t, &Weights{}, p.aims, p.more) - p.costs(t, &Weights{}, p.aims, p.less)
		require.InDelta(t, p.amount, got, 2, "%s: %s on %s, %s against %s", p.of, p.why, p.keys, p.more, p.less)
		half := p.aims
		half.Line, half.Tempo, half.Reach, half.Comfort = half.Line/2, half.Tempo/2, half.Reach/2, half.Comfort/2
		got = p.costs(t, &Weights{}, half, p.more) - p.costs(t, &Weights{}, half, p.less)
		require.InDelta(t, p.amount/2, got, 2, "%s at half its weight", p.of)
	}
}

// A silent change of finger costs its price where it spares what is dearer: five times one finger on two keys, joined
// by a change to 4.
func TestASilentChangeByAPair(t *testing.T) {
	w := alone(linkStart + sameFinger)
	w.Terms[linkStart+sameFinger] = 5000
	aims := theLine
	aims.Comfort = 100
	slow := passage{keys: "c5 d5", marks: "s", micros: 300_000}
	require.InDelta(t, changePrice, slow.costs(t, w, aims, "55")-slow.costs(t, w, aims, "45"), 2)
	fast := passage{keys: "c5 d5", marks: "s", micros: 299_999}
	require.InDelta(
		t, 5000+brokenLine, fast.costs(t, w, aims, "55")-fast.costs(t, w, aims, "45"), 2, "too fast for a change",
	)
}

// Octaves: 5, or 4 on black and under a slur; 3 for large hands alone, and in small hands 5 throughout (FACTS §4.5).
func TestTheUpperFingerOfAnOctaveByPairs(t *testing.T) {
	for _, c := range []struct {
		span        hand.Profile
		on          string // key of the octave
		fingers     string
		octavePrice int
	}{
		{hand.OctaveHand, "c", "14", 6000}, {hand.OctaveHand, "c#", "14", 6000},
		{hand.NinthHand, "c#", "14", 0}, {hand.TenthHand, "c#", "14", 0},
		{hand.NinthHand, "c", "14", 0},
		{hand.OctaveHand, "c", "13", 6000}, {hand.NinthHand, "c", "13", 6000},
		{hand.TenthHand, "c", "13", 1500},
	} {
		octave := passage{keys: c.on + "5+" + c.on + "6", span: c.span}
		near := passage{keys: c.on + "5+" + map[string]string{"c": "b5", "c#": "c6"}[c.on], span: c.span}
		got := octave.costs(t, &Weights{}, theReach, c.fingers)
		ninety := near.costs(t, &Weights{}, theReach, c.fingers)
		// A seventh has no such rule: what remains is that an octave is wider by 23.5 mm.
		require.Greater(t, got-ninety, c.octavePrice, "%s %s", c.span.Name, c.fingers)
		require.Less(t, got-ninety, c.octavePrice+1500, "%s %s", c.span.Name, c.fingers)
	}
}

// One octave after another: 5 on white keys, unless a slur joins them.
func TestOctavesInARowByPairs(t *testing.T) {
	for _, c := range []struct {
		keys, slurred string // the events from which a slur goes on
		fingers       string // of the second octave
		price         int
	}{
		{"c5+c6 d5+d6", "", "14", onWhite}, {"c5+c6 d5+d6", "0", "14", 0}, {"c5+c6 d5+d6 e5+e6", "1", "14", 0},
		{"c5+c6 c#5+c#6", "", "14", 0}, {"c5+c6 d5+f5+d6", "", "125", 0}, {"c6 d5+d6", "", "14", 0},
	} {
		p := passage{keys: c.keys}
		p.each = func(n *fingering.Note) { n.Slurred = c.slurred != "" && n.Onset.Num == int64(c.slurred[0]-'0') }
		first := strings.Repeat("5", 1)
		if strings.HasPrefix(c.keys, "c5+c6") {
			first = "15"
		}
		last := strings.Repeat("15", strings.Count(c.keys, " ")-1)
		plain := c.fingers[:len(c.fingers)-1] + "5"
		got := p.costs(t, &Weights{}, theReach, first+c.fingers+last) - p.costs(t, &Weights{}, theReach, first+plain+last)
		require.InDelta(t, c.price, got, 130, "%s by %s", c.keys, c.fingers) // 4 reaches an octave in fewer hands
	}
}

// A price of line, tempo or reach without a pair fails here: every constant of the two blocks that hold them is named
// by a pair.
func TestEveryPriceOfAnAimHasItsPair(t *testing.T) {
	named := map[string]bool{"changePrice": true} // TestASilentChangeByAPair
	for _, p := range aimPairs {
		for name := range strings.FieldsSeq(p.of) {
			named[name] = true
		}
	}
	found := 0
	for _, file := range []string{"line.go", "octave.go", "tempo.go", "thrice.go"} {
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		require.NoError(t, err)
		for _, d := range f.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.CONST {
				continue
			}
			for _, s := range g.Specs {
				for _, name := range s.(*ast.ValueSpec).Names {
					found++
					require.True(
						t, named[name.Name], "%s: %s has no pair of fingerings that differ in it", file, name.Name,
					)
				}
			}
		}
	}
	require.Equal(t, len(named), found, "a pair names a constant that is gone")
}

// A finger remembered from where the passage stood before is worth what it says, at the weight of memory.
func TestARememberedFingerByAPair(t *testing.T) {
	p := passage{keys: "c5", each: func(n *fingering.Note) { n.Remembered, n.Worth = 3, 700 }}
	require.InDelta(t, 700, p.costs(t, &Weights{}, Aims{}, "2")-p.costs(t, &Weights{}, Aims{}, "3"), 1)
	require.InDelta(
		t, 350,
		p.costs(t, &Weights{}, Aims{On: true, Memory: 50}, "2")-p.costs(t, &Weights{}, Aims{On: true, Memory: 50}, "3"),
		1,
	)
	p.given = "2"
	require.Zero(t, p.costs(t, &Weights{}, Aims{}, "2"), "where a digit is given there is nothing to remember")
}
