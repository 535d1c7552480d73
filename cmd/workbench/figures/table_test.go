package figures

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestColumnsAreAsWideAsWhatStandsInThem(t *testing.T) {
	table := NewTable("kind", "found", "≤2")
	table.Row("a slur", 12345678, 0.5)
	table.Row("all", 1)
	var out strings.Builder
	table.Print(&out)
	require.Equal(t, ""+
		"kind       found      ≤2\n"+
		"a slur  12345678  0.5000\n"+
		"all            1\n", out.String())
}

func TestSharesOfNothing(t *testing.T) {
	require.Equal(t, "0.2500", Share([2]int{1, 4}))
	require.Equal(t, "   –  ", Share([2]int{}))
	require.Equal(t, 1.0, Quotient(0, 0))
	require.Equal(t, 0.25, Quotient(1, 4))
}
