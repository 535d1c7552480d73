package witnesses_test

import (
	"testing"

	"fingerproof/pipeline/4_stages/03_witnesses"

	"github.com/stretchr/testify/require"
)

// + 1 2 3 4 of the old numbering are 1 to 5 (FACTS §5.2).
func TestOldNumbering(t *testing.T) {
	for text, fingers := range map[string][]int{"+": {1}, "1": {2}, "4": {5}, "x": {1}, "+ 2": {1, 3}, "(3)": {4}, "5": nil, "ten.": nil, "": nil} {
		require.Equal(t, fingers, witnesses.Modern(text), text)
	}
}
