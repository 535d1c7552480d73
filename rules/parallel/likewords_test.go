package parallel

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestHowAMeasureIsAlikeIsSaidTruly(t *testing.T) {
	for want, like := range map[string]LikeMeasure{
		"exact":                          {Kind: Exact},
		"transposed":                     {Kind: Transposed, Shift: 2},
		"with other accidentals":         {Kind: Transposed, Steps: true},
		"transposed by steps of the key": {Kind: Transposed, Steps: true, Shift: 2},
	} {
		require.Equal(t, want, like.Words())
	}
}
