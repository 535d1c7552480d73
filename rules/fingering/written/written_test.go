package written

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/fingering"
)

func TestMusicAsWritten(t *testing.T) {
	got := Given(Notes("c4+e4:2 r -e4 c#5", 1000), "1..4")
	eighth := func(n int64) fingering.Moment { return fingering.Moment{Num: n, Den: 2} }
	require.Equal(t, []fingering.Note{
		{ID: 0, Key: 60, Onset: eighth(0), End: eighth(1), Allowed: fingering.Only(1)},
		{ID: 1, Key: 64, Onset: eighth(0), End: eighth(2)},
		{ID: 2, Key: 64, Tied: true, Onset: eighth(2), End: eighth(3), Micros: 2000},
		{ID: 3, Key: 73, Onset: eighth(3), End: eighth(4), Micros: 3000, Allowed: fingering.Only(4)},
	}, got)
	for _, wrong := range []string{"", "h4", "c", "cx4", "c4:x"} {
		require.Panics(t, func() { Notes("c4 "+wrong+"+c5", 0) }, wrong)
	}
}
