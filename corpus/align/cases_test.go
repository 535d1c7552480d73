package align_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func alignment(a, b *score.Score) *align.Alignment { return align.Align(a, b, align.Options{}) }

// pitched returns the indices of the pitched notes of a measure.
func pitched(s *score.Score, measure int) []int {
	var out []int
	for i := range s.Notes {
		if s.Notes[i].Measure == measure && s.Notes[i].Kind == score.Pitched {
			out = append(out, i)
		}
	}
	return out
}

func TestMissingAndInsertedMeasures(t *testing.T) {
	m := wander(rand.New(rand.NewPCG(1, 1)), 12)
	cut := slices.Concat(m[:4], m[6:])
	al := alignment(music(m...), music(cut...))
	require.Equal(t, -1, al.MeasureToB(4))
	require.Equal(t, -1, al.MeasureToB(5))
	require.Equal(t, 4, al.MeasureToB(6))
	al = alignment(music(cut...), music(m...))
	require.Equal(t, -1, al.MeasureToA(4))
	require.Equal(t, 6, al.MeasureToB(4))
}

func TestRevoicedSwappedRespelled(t *testing.T) {
	m := wander(rand.New(rand.NewPCG(2, 1)), 10)
	a, b := music(m...), music(m...)
	for i := range b.Notes {
		n := &b.Notes[i]
		n.Staff, n.HomeStaff, n.Voice, n.ID = 3-n.Staff, 3-n.HomeStaff, "9", fmt.Sprint("x", i)
		if n.Pitch.Step == 'F' && n.Pitch.Alter == 1 {
			n.Pitch = score.Pitch{Step: 'G', Alter: -1, Octave: n.Pitch.Octave}
		}
	}
	al := alignment(a, b)
	require.Equal(t, []int{0, 2, 1}, al.StaffToB)
	for i := range a.Notes {
		require.Equal(t, i, al.ToB[i])
		want := align.Kind(0)
		if b.Notes[i].Pitch != a.Notes[i].Pitch {
			want = align.Respelled
		}
		require.Equal(t, want, al.Kinds[i], a.Place(i))
	}
}

// A staff of octaves moved by an octave keeps its notes: C3 C4 becomes C4 C5,
// and no C3 turns into a C5.
func TestStaffMovedByAnOctave(t *testing.T) {
	a := music("C3+C4/1 D3+D4/1 E3+E4+E5/2 ; C2/4", "C4/4 ; C2/4")
	b := music("C4+C5/1 D4+D5/1 E4+E5+E6/2 ; C2/4", "C4/4 ; C2/4")
	al := alignment(a, b)
	for _, n := range pitched(a, 0) {
		require.Equal(t, n, al.ToB[n])
		if a.Notes[n].Staff == 1 {
			require.Equal(t, align.OctaveMoved, al.Kinds[n])
		} else {
			require.Zero(t, al.Kinds[n])
		}
	}
}

func TestTieSplitAndTieStruck(t *testing.T) {
	a := music("C5/4 ; C3/4", "E5/2 ~E5/2 ; G3/4")
	b := music("C5/2 ~C5/2 ; C3/4", "E5/2 E5/2 ; G3/4")
	al := alignment(a, b)
	require.Zero(t, al.Kinds[0], "a half tied to a half is a whole note")
	require.Equal(t, 0, al.CoverA[1])
	second := pitched(a, 1)[1]
	require.Equal(t, align.TieChanged, al.Kinds[second])
	require.Zero(t, al.Kinds[pitched(a, 1)[0]], "the tie differs, not the note before it")
	require.Equal(t, 100000, al.Coverage())
}

func TestOtherBarlines(t *testing.T) {
	a := music("C5/1 D5/1 E5/1 F5/1 ; C3/4", "G5/1 A5/1 B5/1 C6/1 ; C3/4", "D5/4 ; D3/4")
	b := music("C5/1 D5/1 ; C3/4", "E5/1 F5/1 ; -/2", "G5/1 A5/1 B5/1 C6/1 ; C3/4", "D5/4 ; D3/4")
	b.Measures[0].Length = score.Whole(2) // the low note rings over the barline
	for i := range b.Measures[1:] {
		b.Measures[i+1].Start = b.Measures[i].Start.Add(b.Measures[i].Length)
	}
	al := alignment(a, b)
	require.Equal(t, align.Range{From: 0, To: 2}, al.Spans[0].B)
	require.Equal(t, 100000, al.Coverage())
	for i := range a.Notes {
		require.False(t, al.Kinds[i].Has(align.OnsetMoved), a.Place(i))
	}
}

func TestPickupWrittenAsFullMeasure(t *testing.T) {
	a := music("G4/1 ;", "C5/1 D5/1 E5/2 ; C3/4")
	b := music("-/3 G4/1 ; -/4", "C5/1 D5/1 E5/2 ; C3/4")
	al := alignment(a, b)
	require.Equal(t, 1, al.ToB[0])
	require.Zero(t, al.Kinds[0])
	require.Equal(t, score.Whole(3), al.Spans[0].Shift)
	m, onset, ok := al.MomentToB(0, score.Fraction{})
	require.True(t, ok)
	require.Equal(t, 0, m)
	require.Equal(t, score.Whole(3), onset)
}

func TestRepeatWrittenOut(t *testing.T) {
	m := wander(rand.New(rand.NewPCG(3, 1)), 8)
	m = m[:8]
	a := music(m...)
	a.Measures[3].Repeat.Backward = true
	b := music(slices.Concat(m[:4], m)...)
	al := alignment(a, b)
	require.Len(t, al.Copies, 1)
	c := al.Copies[0]
	require.True(t, c.InB)
	require.True(t, c.Signed)
	require.Equal(t, align.Range{From: 0, To: 4}, c.Once)
	require.Equal(t, 100000, al.Coverage())
}

func TestCadenzaInSmallNotes(t *testing.T) {
	run := []string{"C5", "D5", "Eb5", "F#5", "G5", "Ab5", "B5", "C6", "D6", "Eb6"}
	full, small := "E4/1 ", "E4/1 "
	for _, k := range run {
		full += k + "/1 "
		small += "g" + k + "/1 "
	}
	a := music("G4/4 ; C3/4", full+"F4/1 ; C3/1", "C4/4 ; C3/4")
	b := music("G4/4 ; C3/4", small+"F4/1 ; C3/1", "C4/4 ; C3/4")
	al := alignment(a, b)
	require.GreaterOrEqual(t, al.Coverage(), 99000)
	require.True(t, al.Kinds[pitched(a, 1)[1]].Has(align.GraceChanged))
}

func TestNothingInCommon(t *testing.T) {
	al := alignment(music("C5/1 D5/1 ; C3/2"), music("-/4 ; -/4"))
	require.Equal(t, []int{-1, -1, -1}, al.ToB)
	empty := &score.Score{}
	require.Equal(t, 100000, alignment(empty, empty).Coverage())
	require.Empty(t, alignment(empty, music("C5/1 ; C3/1")).ToB)
}

// Whatever happens to a score, the maps stay each other's inverse, measures
// stand in one span each and in order, and a measure left alone between others
// left alone finds itself.
func TestAnyCutAndChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 7))
		m := wander(rng, rapid.IntRange(1, 40).Draw(t, "measures"))
		n := slices.Clone(m)
		for range rapid.IntRange(0, 5).Draw(t, "changes") {
			at := rng.IntN(len(n) + 1)
			switch rng.IntN(3) {
			case 0:
				n = slices.Insert(n, at, wander(rng, 1)...)
			case 1:
				if at < len(n) {
					n = slices.Delete(n, at, at+1)
				}
			default:
				if at < len(n) {
					n[at] = "C4/4 ; C2/4"
				}
			}
		}
		a, b := music(m...), music(n...)
		al := alignment(a, b)
		for i, j := range al.ToB {
			if j >= 0 {
				require.Equal(t, i, al.ToA[j])
			}
		}
		nextA, nextB := 0, 0
		for _, s := range al.Spans {
			require.Equal(t, nextA, s.A.From)
			require.Equal(t, nextB, s.B.From)
			nextA, nextB = s.A.To, s.B.To
		}
		require.Equal(t, len(m), nextA)
		require.Equal(t, len(n), nextB)
		require.Equal(t, al.ToB, alignment(a, b).ToB, "the same every time")
	})
}

// An address with its context finds its note after measures were put in and
// taken out before it, and says when the note is gone.
func TestPlacesNotesAgain(t *testing.T) {
	m := wander(rand.New(rand.NewPCG(5, 1)), 40)
	a := music(m...)
	n := slices.Concat(wander(rand.New(rand.NewPCG(6, 1)), 3), m[:10], m[12:])
	b := music(n...)
	al := alignment(a, b)
	from, to := align.NewIndex(a), align.NewIndex(b)
	addresses := a.Addresses()
	sure, wrong, all := 0, 0, 0
	for i := range a.Notes {
		if al.ToB[i] < 0 {
			continue
		}
		all++
		p := to.Place(addresses[i], from.Context(i))
		if p.Sure {
			sure++
			if b.Notes[p.Note].Midi != a.Notes[i].Midi || b.Notes[p.Note].Onset != a.Notes[i].Onset {
				wrong++
			}
		}
	}
	require.Zero(t, wrong)
	require.Greater(t, sure*100, all*60, "%d of %d sure", sure, all)

	first := align.NewIndex(a).Place(addresses[0], align.Context{})
	require.True(t, first.Sure)
	require.Equal(t, 0, first.Note)
	gone := to.Place(score.Address{Measure: 3, Midi: 127}, from.Context(0))
	require.Equal(t, -1, gone.Note)
}

func BenchmarkAlign(b *testing.B) {
	for _, notes := range []int{1000, 10000, 100000} {
		b.Run(fmt.Sprintf("notes=%d", notes), func(b *testing.B) {
			rng := rand.New(rand.NewPCG(8, 1))
			m := wander(rng, notes/12)
			n := slices.Clone(m)
			for range max(notes/100, 1) { // one change for every hundred notes
				at := rng.IntN(len(n))
				switch rng.IntN(4) {
				case 0:
					n = slices.Delete(n, at, at+1)
				case 1:
					n = slices.Insert(n, at, wander(rng, 1)...)
				default:
					n[at] = wander(rng, 1)[0]
				}
			}
			x, y := music(m...), music(n...)
			for b.Loop() {
				alignment(x, y)
			}
			b.ReportMetric(float64(len(x.Notes)), "notes")
		})
	}
}
