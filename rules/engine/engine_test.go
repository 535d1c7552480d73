package engine

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fingerproof/corpus/score/playing"
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lattice"
)

// line lays keys one after the other, a sixteenth each.
func line(keys ...int) []fingering.Note {
	var out []fingering.Note
	for i, k := range keys {
		out = append(out, fingering.Note{
			ID: i, Key: k, Onset: fingering.Moment{Num: int64(i), Den: 4},
			End: fingering.Moment{Num: int64(i + 1), Den: 4},
		})
	}
	return out
}

func digits(r Result) string {
	var b strings.Builder
	for _, n := range r.Notes {
		fmt.Fprint(&b, n.Finger)
	}
	return b.String()
}

// music draws the notes of one hand: chords, held notes, unisons, anything.
func music() *rapid.Generator[[]fingering.Note] {
	return rapid.Custom(func(t *rapid.T) []fingering.Note {
		n := rapid.IntRange(0, 14).Draw(t, "notes")
		var out []fingering.Note
		at := int64(0)
		for i := range n {
			at += int64(rapid.IntRange(0, 2).Draw(t, "step"))
			length := int64(rapid.IntRange(0, 4).Draw(t, "length"))
			note := fingering.Note{
				ID: i, Key: rapid.IntRange(45, 84).Draw(t, "key"), Onset: fingering.Moment{Num: at, Den: 4},
				End:  fingering.Moment{Num: at + length, Den: 4},
				Rank: playing.GraceNote(rapid.IntRange(-6, 2).Draw(t, "grace")),
				Tied: rapid.IntRange(0, 9).Draw(t, "tied") == 0,
			}
			if rapid.IntRange(0, 5).Draw(t, "given") == 0 {
				note.Allowed = fingering.Only(fingering.Finger(rapid.IntRange(1, 5).Draw(t, "digit")))
			}
			out = append(out, note)
		}
		return out
	})
}

var everything = Options{Choices: true, Explain: true}

func TestEveryNoteIsAnswered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := music().Draw(t, "music")
		h := fingering.Hand(rapid.IntRange(0, 1).Draw(t, "hand"))
		for _, d := range []Decode{MostAgreement, Cheapest} {
			o := everything
			o.Decode = d
			r := Finger(h, hand.NinthHand, effort.Delivered(), notes, o)
			require.Len(t, r.Notes, len(notes))
			for i, n := range r.Notes {
				require.Equal(t, notes[i].ID, n.ID)
				if n.Finger == 0 {
					require.Equal(t, TooManyKeys, n.OutOfReach)
				} else {
					require.True(t, n.Finger.Valid())
				}
				require.LessOrEqual(t, len(n.Choices), 2)
				for _, c := range n.Choices {
					require.NotEqual(t, n.Finger, c.Finger)
					require.GreaterOrEqual(t, c.Regret, 0)
				}
				if notes[i].Allowed != 0 && !n.Tied && !n.Contradiction && n.Finger != 0 {
					require.True(t, notes[i].Allowed.Has(n.Finger), "a given digit stands")
				}
			}
		}
	})
}

// What goes beyond the hand is always said.
func TestNothingBeyondTheHandUnsaid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := music().Draw(t, "music")
		for _, p := range []hand.Profile{hand.OctaveHand, hand.NinthHand, hand.TenthHand} {
			r := Finger(fingering.Right, p, effort.Delivered(), notes, Options{})
			l := fingering.NewLine(fingering.Right, notes, p.Fits)
			for _, e := range l.Events {
				for i, a := range e.Keys {
					for _, b := range e.Keys[i+1:] {
						if !a.Struck || !b.Struck {
							continue
						}
						x, y := r.Notes[l.Strikes[a.Strike].IDs[0]], r.Notes[l.Strikes[b.Strike].IDs[0]]
						if p.Excess(int(x.Finger), int(y.Finger), hand.Distance(int(a.Key), int(b.Key))) > 0 {
							require.NotEmpty(t, x.OutOfReach)
							require.NotEmpty(t, y.OutOfReach)
						}
					}
				}
			}
		}
	})
}

func TestAnOctaveHigherIsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := music().Draw(t, "music")
		up := append([]fingering.Note(nil), notes...)
		for i := range up {
			up[i].Key += 12
		}
		a := Finger(fingering.Right, hand.NinthHand, effort.Delivered(), notes, everything)
		b := Finger(fingering.Right, hand.NinthHand, effort.Delivered(), up, everything)
		require.Empty(t, cmp.Diff(a, b))
	})
}

// The left hand is the right hand in the mirror, but for the habits that are a hand's own.
func TestTheMirroredHandIsTheSame(t *testing.T) {
	own := *effort.Interpretable()
	for t := range effort.Terms {
		if strings.HasPrefix(t.Name(), "left hand") || strings.HasPrefix(t.Name(), "handbook") {
			own.Terms[t] = 0
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		notes := music().Draw(t, "music")
		mirrored := append([]fingering.Note(nil), notes...)
		for i := range mirrored {
			mirrored[i].Key = 124 - mirrored[i].Key
		}
		a := Finger(fingering.Right, hand.NinthHand, &own, notes, everything)
		b := Finger(fingering.Left, hand.NinthHand, &own, mirrored, everything)
		require.Empty(t, cmp.Diff(a, b))
	})
}

func TestAConstraintNeverLowersTheCost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := music().Filter(func(n []fingering.Note) bool { return len(n) > 0 }).Draw(t, "music")
		weights := *effort.Interpretable()
		for i := range effort.Terms {
			if strings.HasPrefix(i.Name(), "digit given") {
				weights.Terms[i] = 0
			}
		}
		free := append([]fingering.Note(nil), notes...)
		i := rapid.IntRange(0, len(notes)-1).Draw(t, "note")
		free[i].Allowed = 0
		a := Finger(fingering.Right, hand.NinthHand, &weights, free, Options{Decode: Cheapest})
		b := Finger(fingering.Right, hand.NinthHand, &weights, notes, Options{Decode: Cheapest})
		if !b.Notes[i].Contradiction {
			require.GreaterOrEqual(t, b.Total, a.Total)
		}
	})
}

func TestHostileInput(t *testing.T) {
	var notes []fingering.Note
	for i := range 40 { // a cluster of forty keys, twice, with unisons
		notes = append(notes, fingering.Note{ID: i, Key: 40 + i, End: fingering.Moment{Num: 4, Den: 1}},
			fingering.Note{ID: 100 + i, Key: 40 + i, End: fingering.Moment{Num: 4, Den: 1}, Allowed: fingering.Only(3)})
	}
	notes = append(
		notes, fingering.Note{ID: 500, Key: 127, Onset: fingering.Moment{Num: 1, Den: 1}},
		fingering.Note{ID: 501, Key: 0, Onset: fingering.Moment{Num: 1, Den: 1}, Tied: true},
	)
	r := Finger(fingering.Left, hand.OctaveHand, effort.Delivered(), notes, everything)
	require.Len(t, r.Notes, len(notes))
	for _, n := range r.Notes {
		require.True(t, n.Finger.Valid() || n.OutOfReach == TooManyKeys)
	}
	require.Empty(t, Finger(fingering.Right, hand.NinthHand, effort.Delivered(), nil, everything).Notes)
}

func TestATieKeepsItsFinger(t *testing.T) {
	notes := line(60, 60, 64)
	notes[1].Tied = true
	r := Finger(fingering.Right, hand.NinthHand, effort.Delivered(), notes, everything)
	require.True(t, r.Notes[1].Tied)
	require.Equal(t, r.Notes[0].Finger, r.Notes[1].Finger)
}

func TestGivenDigitsThatNoHandTakes(t *testing.T) {
	notes := []fingering.Note{
		{ID: 0, Key: 60, Allowed: fingering.Only(5)}, {ID: 1, Key: 76, Allowed: fingering.Only(1)}, {ID: 2, Key: 64},
	}
	r := Finger(fingering.Right, hand.NinthHand, effort.Delivered(), notes, everything)
	require.Equal(t, fingering.Finger(5), r.Notes[0].Finger)
	require.Equal(t, fingering.Finger(1), r.Notes[1].Finger)
	require.True(t, r.Notes[2].Finger.Valid())
	require.True(t, r.Notes[0].Contradiction)
	require.NotEmpty(t, r.Notes[0].OutOfReach)
}

func TestConfidenceIsAShare(t *testing.T) {
	r := Finger(fingering.Right, hand.NinthHand, effort.Delivered(), line(60, 62, 64, 65, 67, 69, 71, 72), everything)
	for _, n := range r.Notes {
		require.Greater(t, n.Confidence, 0)
		require.LessOrEqual(t, n.Confidence, 10000)
	}
	require.Equal(t, int64(lattice.Agreement), lattice.Probability(0))
}

// A finger that strikes one key again and again does so without trouble at the tempo of practice (376 ms between
// strokes) and not at 94 ms. Where nothing is given the hand changes fingers by itself; slowly nothing collapses.
func TestGivenDigitsThatCollapseAreTold(t *testing.T) {
	passage := func(micros int64, digits ...fingering.Finger) []fingering.Note {
		keys := []int{67, 67, 67, 67, 72, 72, 72, 72}
		var notes []fingering.Note
		for i, k := range keys {
			n := fingering.Note{
				ID: i, Key: k, Onset: fingering.Moment{Num: int64(i), Den: 16},
				End: fingering.Moment{Num: int64(i + 1), Den: 16}, Micros: int64(i) * micros,
			}
			if digits != nil {
				n.Allowed = fingering.Only(digits[i])
			}
			notes = append(notes, n)
		}
		return notes
	}
	collapses := func(notes []fingering.Note) []Collapse {
		return Finger(fingering.Right, hand.NinthHand, effort.Delivered(), notes, Options{
			PracticePercent: 50, Aims: effort.PlainAims(),
		}).Collapses
	}
	told := collapses(passage(94_000, 2, 2, 2, 2, 5, 3, 5, 3))
	require.Len(t, told, 1)
	require.Contains(t, told[0].Steps, Step{ID: 1, Finger: 2})
	require.Greater(t, told[0].Excess, 2000)
	require.Greater(t, told[0].Saving, 0)
	require.Empty(t, collapses(passage(376_000, 2, 2, 2, 2, 5, 3, 5, 3)), "slowly they serve")
	require.Empty(t, collapses(passage(94_000, 4, 3, 2, 1, 4, 3, 2, 1)), "a change of finger on each stroke holds")
}

// What another finger costs more is the sum of its reasons: nothing is left untold.
func TestReasonsSumToTheRegret(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := music().Draw(t, "music")
		r := Finger(fingering.Right, hand.NinthHand, effort.Delivered(), notes, Options{
			Decode: Cheapest, Choices: true, Why: func(int) bool { return true }, Aims: effort.PlainAims(),
		})
		for _, n := range r.Notes {
			for _, c := range n.Choices {
				sum := 0
				for _, x := range c.Why {
					sum += x.Cost
				}
				require.InDelta(t, c.Regret, sum, 20, "note %d with %d", n.ID, c.Finger)
			}
		}
		explained := Finger(fingering.Right, hand.NinthHand, effort.Delivered(), notes, Options{
			Decode: Cheapest, Explain: true, Aims: effort.PlainAims(),
		})
		sum := r.SetFree
		for _, x := range explained.Effort {
			sum += x.Cost
		}
		require.InDelta(t, r.Total, sum, 20, "the effort of the line")
	})
}

// Ids of notes may lie close together or far apart, and begin anywhere.
func TestNotesHaveWhateverIDs(t *testing.T) {
	for _, apart := range []int{1, 7, 1 << 20} {
		for _, least := range []int{-5, 0, 1 << 30} {
			var want, notes []fingering.Note
			for i := range 12 {
				on, end := fingering.Moment{Num: int64(i), Den: 1}, fingering.Moment{Num: int64(i + 1), Den: 1}
				n := fingering.Note{ID: i, Key: 60 + i*5%7, Onset: on, End: end}
				want = append(want, n)
				n.ID = least + apart*i
				notes = append(notes, n)
			}
			options := Options{Choices: true, Explain: true}
			first := Finger(fingering.Right, hand.NinthHand, effort.Delivered(), want, options)
			then := Finger(fingering.Right, hand.NinthHand, effort.Delivered(), notes, options)
			for i := range notes {
				require.Equal(t, notes[i].ID, then.Notes[i].ID)
				require.Equal(t, first.Notes[i].Finger, then.Notes[i].Finger)
				require.Equal(t, first.Notes[i].Effort, then.Notes[i].Effort)
			}
		}
	}
}
