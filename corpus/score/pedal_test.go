package score_test

import (
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

func TestPedalMarksAreReadInOrder(t *testing.T) {
	mark := func(part int, onset int64, what string) score.Direction {
		return score.Direction{
			Kind: score.Pedal, Part: part, Onset: score.Whole(onset), Start: what == "start", Stop: what == "stop",
			Change: what == "change",
		}
	}
	s := &score.Score{Measures: []score.Measure{{Length: score.Whole(16)}}, Directions: []score.Direction{
		mark(0, 4, "change"), mark(0, 0, "start"), mark(0, 6, "continue"), mark(0, 8, "stop"), mark(1, 9, "start"),
		mark(0, 12, "start"),
	}}
	span := func(from, to int64) score.Span { return score.Span{From: score.Whole(from), To: score.Whole(to)} }
	first := s.PedalSpans(func(part int) bool { return part == 0 })
	require.Equal(t, score.Spans{span(0, 4), span(4, 8), span(12, 16)}, first)
	require.Equal(t, score.Spans{span(0, 4), span(4, 8), span(9, 12), span(12, 16)}, s.PedalSpans(nil))

	at, ok := first.At(score.Whole(7))
	require.True(t, ok, "a mark that continues the line does not lift the pedal")
	require.Equal(t, span(4, 8), at)
	_, ok = first.At(score.Whole(8))
	require.False(t, ok)
	_, ok = (score.Spans)(nil).At(score.Whole(0))
	require.False(t, ok)
}
