package page

import (
	"testing"

	"fingerproof/pipeline/4_services/review"

	"github.com/stretchr/testify/require"
)

func TestAThirdOfThePicturesAreRedistributions(t *testing.T) {
	var passages []review.Passage
	for i := range 20 {
		passages = append(passages, review.Passage{Number: i + 1, Redistribution: -1, Weight: 100})
	}
	for i := range 8 {
		passages = append(passages, review.Passage{Number: 21 + i, Redistribution: i, Weight: i})
	}
	passages[0].ReturnOf = 2
	drawn := toDraw(passages, 12)
	require.Len(t, drawn, 12)
	require.Equal(t, 28, drawn[0].Number, "the weightiest of them first")
	handed := 0
	for _, p := range drawn {
		require.NotEqual(t, 1, p.Number, "what is judged with another is not drawn")
		if p.Redistribution >= 0 {
			handed++
		}
	}
	require.Equal(t, 4, handed)
	require.Len(t, toDraw(passages[20:], 12), 8, "and all there are where there is nothing else")
}
