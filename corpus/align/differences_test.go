package align_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
)

// kindOf aligns two readings of a short piece and gives how the note of an index differs; before changes either side.
func kindOf(note int, text string, before func(a, b []score.Note)) align.Kind {
	a, b := music(text, "D5/4 ; D3/4"), music(text, "D5/4 ; D3/4")
	before(a.Notes, b.Notes)
	return alignment(a, b).Kinds[note]
}

// Lengths and moments count as different from a 64th and a 32nd of a quarter on: below, exporters round.
func TestWhatExportersRoundIsNoDifference(t *testing.T) {
	length := func(more score.Fraction) align.Kind {
		return kindOf(0, "C5/1 D5/1 E5/2 ; C3/4", func(_, b []score.Note) { b[0].Duration = b[0].Duration.Add(more) })
	}
	require.Zero(t, length(score.Frac(1, 70)))
	require.Zero(t, length(score.Frac(-1, 70)))
	require.Equal(t, align.DurationChanged, length(score.Frac(1, 60)))
	require.Equal(t, align.DurationChanged, length(score.Frac(-1, 60)))
	moment := func(later score.Fraction) align.Kind {
		return kindOf(1, "C5/1 D5/1 E5/2 ; C3/4", func(_, b []score.Note) { b[1].Onset = b[1].Onset.Add(later) })
	}
	require.Zero(t, moment(score.Frac(1, 70)))
	require.Zero(t, moment(score.Frac(1, 40)))
	require.Equal(t, align.OnsetMoved, moment(score.Frac(1, 31)))
	require.Equal(t, align.OnsetMoved, moment(score.Frac(-1, 31)))
}

func TestCueAndHiddenNotes(t *testing.T) {
	text := "C5/1 D5/1 E5/2 ; C3/4"
	require.Equal(t, align.SizeChanged, kindOf(1, text, func(_, b []score.Note) { b[1].Cue = true }))
	require.Equal(t, align.SizeChanged, kindOf(1, text, func(a, _ []score.Note) { a[1].Hidden = true }))
	require.Zero(t, kindOf(1, text, func(a, b []score.Note) { a[1].Cue, b[1].Cue = true, true }))
}

// A length that its own printed value contradicts, put right by the other file, is no difference on the page; a length gone wrong is.
func TestLengthsPutRight(t *testing.T) {
	const text = "C5/1 D5/1 E5/2 ; C3/4"
	quarter := func(notes []score.Note, i int) { notes[i].Type = "quarter" }
	long := score.Frac(3, 2)
	require.Zero(t, kindOf(0, text, func(a, b []score.Note) { quarter(a, 0); quarter(b, 0); a[0].Duration = long }))
	require.Equal(t, align.DurationChanged, kindOf(0, text, func(a, b []score.Note) { quarter(a, 0); quarter(b, 0); b[0].Duration = long }), "gone wrong")
	require.Equal(t, align.DurationChanged, kindOf(0, text, func(a, b []score.Note) { a[0].Duration = long }), "no value is printed")
	require.Equal(t, align.DurationChanged, kindOf(0, text, func(a, b []score.Note) { quarter(a, 0); b[0].Type = "half"; a[0].Duration = long }), "another value")
	require.Equal(t, align.DurationChanged, kindOf(0, text, func(a, b []score.Note) { quarter(a, 0); quarter(b, 0); a[0].Dots, a[0].Duration = 1, score.Whole(2) }), "a dot")
	require.Equal(t, align.DurationChanged, kindOf(0, text, func(a, b []score.Note) {
		quarter(a, 0)
		quarter(b, 0)
		a[0].Duration, a[0].Tuplet = long, score.Tuplet{Actual: 3, Normal: 2}
	}), "a tuplet")
	// With ties: the whole row of values has to be the same.
	const tied = "C5/1 ~C5/1 E5/2 ; C3/4"
	both := func(a, b []score.Note) {
		for i := range 2 {
			quarter(a, i)
			quarter(b, i)
		}
		a[0].Duration = long
	}
	require.Zero(t, kindOf(0, tied, both))
	require.Equal(t, align.DurationChanged, kindOf(0, tied, func(a, b []score.Note) { both(a, b); b[1].Type = "half" }))
	require.Equal(t, align.DurationChanged, kindOf(0, tied, func(a, b []score.Note) {
		both(a, b)
		b[1].TiedFrom, b[0].TiedTo = -1, -1
	})&align.DurationChanged, "one of them is tied on")
	// Over a length that is too short a tie does not reach its end in the file; on the page it does.
	unreached := func(notes []score.Note) {
		notes[0].TieStart, notes[1].TieStop, notes[0].TiedTo, notes[1].TiedFrom = true, true, -1, -1
	}
	require.Zero(t, kindOf(0, tied, func(a, b []score.Note) {
		both(a, b)
		a[0].Duration = score.Frac(1, 2)
		unreached(a)
	}))
	require.Zero(t, kindOf(0, tied, func(a, b []score.Note) {
		both(a, b)
		unreached(b)
	}))
}

// A tie written at its beginning and forgotten at its end is a tie on the page.
func TestTiesForgottenAtTheirEnd(t *testing.T) {
	const tied = "C5/2 ~C5/2 ; C3/4"
	cut := func(notes []score.Note) { notes[0].TiedTo, notes[1].TiedFrom = -1, -1 }
	require.Equal(t, align.TieChanged, kindOf(1, tied, func(_, b []score.Note) { cut(b) }))
	require.Equal(t, align.TieChanged, kindOf(1, tied, func(a, _ []score.Note) { cut(a) }))
	require.Zero(t, kindOf(1, tied, func(_, b []score.Note) { cut(b); b[0].TieStart = true })&align.TieChanged)
	require.Zero(t, kindOf(1, tied, func(a, _ []score.Note) { cut(a); a[0].TieStart = true })&align.TieChanged)
	require.Zero(t, kindOf(1, tied, func(_, b []score.Note) { cut(b); b[1].TieStop = true })&align.TieChanged, "its end is written")
	require.Zero(t, kindOf(0, tied, func(_, b []score.Note) { cut(b) }), "the tie differs, not the note before it")
}

// Notes that slipped over a barline are found on the other side; a measure that moved is missing here and extra there.
func TestNotesThatSlippedOverABarline(t *testing.T) {
	first, third := "E4/1 G4/1 A4/2 ; C3/4", "A5/2 F5/2 ; F3/4"
	a := music(first, "C5/1 D5/1 E5/1 F5/1 ; C3/4", "G5/1 A5/1 B5/1 C6/1 ; D3/4", third)
	for name, b := range map[string]*score.Score{
		"forwards":  music(first, "C5/1 D5/1 E5/1 ; C3/3", "F5/1 G5/1 A5/1 B5/1 C6/1 ; D3/5", third),
		"backwards": music(first, "C5/1 D5/1 E5/1 F5/1 G5/1 ; C3/5", "A5/1 B5/1 C6/1 ; D3/3", third),
	} {
		for _, pair := range [][2]*score.Score{{a, b}, {b, a}} {
			al := alignment(pair[0], pair[1])
			for n := range pair[0].Notes {
				require.GreaterOrEqual(t, al.ToB[n], 0, "%s: %s", name, pair[0].Place(n))
				require.Equal(t, pair[0].Notes[n].Midi, pair[1].Notes[al.ToB[n]].Midi, "%s: %s", name, pair[0].Place(n))
			}
		}
	}
	moved := music(first, "G5/1 A5/1 B5/1 C6/1 ; D3/4", third, "C5/1 D5/1 E5/1 F5/1 ; C3/4")
	al := alignment(a, moved)
	require.Equal(t, -1, al.MeasureToB(1))
	for _, n := range pitched(a, 1) {
		require.Equal(t, -1, al.ToB[n])
	}
}

// Of several copies of one measure those that look alike are paired: by their digits and durations.
func TestCopiesOfAMeasureByTheirLooks(t *testing.T) {
	const copied = "C5/1 D5/1 E5/1 F5/1 ; C3/4"
	digits := func(s *score.Score, measure int, digit string) {
		s.Notes[pitched(s, measure)[0]].Indications = []score.Indication{{Text: digit, Fingers: []int{int(digit[0] - '0')}}}
	}
	a := music("G4/4 ; G3/4", copied, copied, copied, "A4/4 ; A3/4")
	for i, d := range []string{"1", "2", "3"} {
		digits(a, i+1, d)
	}
	for k, d := range []string{"1", "2", "3"} {
		b := music("G4/2 B4/2 ; G3/4", copied, "A4/2 B4/2 ; A3/4")
		digits(b, 1, d)
		require.Equal(t, 1, alignment(a, b).MeasureToB(k+1), "the one with %s", d)
		require.Equal(t, k+1, alignment(b, a).MeasureToB(1))
	}
}

// Of two notes on one key at one moment each finds the one with its length, its voice, its digits.
func TestTwoNotesOnOneKey(t *testing.T) {
	text := "C5+C5/1 D5/1 E5/2 ; C3/4"
	for name, change := range map[string]func(n *score.Note){
		"length": func(n *score.Note) { n.Duration = score.Whole(2) }, "voice": func(n *score.Note) { n.Voice = "2" },
		"digits": func(n *score.Note) { n.Indications = []score.Indication{{Text: "3"}} }, "cue": func(n *score.Note) { n.Cue = true }, "staff": func(n *score.Note) { n.Staff = 2 },
	} {
		a, b := music(text, text), music(text, text)
		change(&a.Notes[0])
		change(&b.Notes[1])
		al := alignment(a, b)
		require.Equal(t, []int{1, 0}, al.ToB[:2], name)
		require.Zero(t, al.Kinds[0], name)
	}
	one := music("C5/1 D5/1 E5/2 ; C3/4", text)
	for k := range 2 {
		two := music(text, text)
		two.Notes[k].Duration = score.Whole(2)
		al := alignment(two, one)
		require.Equal(t, 0, al.ToB[1-k], "the one that is as long")
		require.Equal(t, 0, al.CoverB[k])
	}
	require.True(t, slices.Contains([]int{0, 1}, alignment(one, music(text, text)).ToB[0]))
}

// Moments are carried over other barlines, into the measure they fall into and no further.
func TestMomentsOverOtherBarlines(t *testing.T) {
	one := music("C5/1 D5/1 E5/1 F5/1 G5/1 A5/1 B5/1 C6/1 ; C3/8", "D5/4 ; D3/4", "E5/2 G4/2 ; E3/4")
	two := music("C5/1 D5/1 E5/1 F5/1 ; C3/8", "G5/1 A5/1 B5/1 C6/1 ; -/4", "D5/4 ; D3/4", "E5/2 G4/2 ; E3/4")
	two.Measures[0].Length = score.Whole(4)
	for i := range two.Measures[1:] {
		two.Measures[i+1].Start = two.Measures[i].Start.Add(two.Measures[i].Length)
	}
	al := alignment(one, two)
	for _, c := range []struct{ onset, measure, then int64 }{{0, 0, 0}, {3, 0, 3}, {4, 1, 0}, {5, 1, 1}, {8, 1, 4}, {9, 1, 5}} {
		m, onset, ok := al.MomentToB(0, score.Whole(c.onset))
		require.True(t, ok)
		require.Equal(t, [2]int64{c.measure, c.then}, [2]int64{int64(m), onset.Num()}, "quarter %d", c.onset)
	}
	m, onset, ok := al.MomentToA(1, score.Whole(2))
	require.True(t, ok)
	require.Equal(t, 0, m)
	require.Equal(t, score.Whole(6), onset)
	m, onset, ok = al.MomentToB(2, score.Whole(1))
	require.True(t, ok)
	require.Equal(t, 3, m)
	require.Equal(t, score.Whole(1), onset)
}
