package parallel_test

import (
	"fmt"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
)

// A measure is played again however far it lies, on other keys of the same shape and colours only nearby and where the hand
// moves on for it; another rhythm is another measure.
func TestMeasuresPlayedAgain(t *testing.T) {
	m := newMusic(14)
	m.line(t, score.Left, "C3/4 G3 E3 G3 | F3/1 | C3/4 G3 E3 G3 | F3/2 C3/4 G3 | F2/4 C3 A2 C3 | r/1 | r/1 | r/1 | r/1 | r/1 | r/1 | r/1 | "+
		"r/1 | C3/4 G3 E3 G3")
	p := playing.New(m.score, m.hands)
	var got []string
	for _, a := range parallel.StrokesOf(m.score, p).MeasuresAgain(m.score) {
		said := ""
		if a.Like {
			said = "like "
		}
		for i, ids := range a.Times {
			require.Len(t, ids, 4)
			said += fmt.Sprint(m.score.Notes[ids[0]].Measure, " ")
			require.Equal(t, i == 0, a.Entered[i] == a.Entered[0] && a.Left[i] == a.Left[0], "what stands beside each differs")
		}
		got = append(got, said)
	}
	require.Equal(t, []string{"0 2 13 ", "like 0 2 4 "}, got)
}

// Half a measure is played again, and a beat, nearby alone; two keys stand twice in a measure where they come at the same place of
// a beat.
func TestPartsOfMeasuresPlayedAgain(t *testing.T) {
	m := newMusic(12)
	m.line(t, score.Right, "C5/8 E5 G5 E5 F5/2 | A4/8 D5 F5 D5 C5/8 E5 G5 E5 | D5/4 A4 D5 A4 | D5/8 A4/4 D5/8 A4/2 | r/1 | r/1 | r/1 | r/1 | "+
		"r/1 | r/1 | r/1 | F5/2 C5/8 E5 G5 E5")
	p := playing.New(m.score, m.hands)
	units := map[parallel.Unit]string{parallel.OfHalf: "half", parallel.OfBeat: "beat", parallel.OfPair: "pair"}
	var got []string
	for _, a := range parallel.StrokesOf(m.score, p).PartsAgain(m.score) {
		said := units[a.Unit]
		for _, ids := range a.Times {
			said += fmt.Sprint(" ", m.score.Notes[ids[0]].Measure, " ", len(ids))
		}
		got = append(got, said)
	}
	require.Equal(t, []string{"half 0 4 1 4", "pair 2 2 2 2"}, got)
}
