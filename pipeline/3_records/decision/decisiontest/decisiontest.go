// Package decisiontest writes decisions for tests.
package decisiontest

import (
	"testing"

	"fingerproof/pipeline/3_records/decision"

	"github.com/stretchr/testify/require"
)

// Of reads the decisions of one editor on piece p from the entries of a file of decisions.
func Of(t *testing.T, by, entries string) []decision.Decision {
	t.Helper()
	text := []byte("piece: p\nby: " + by + "\ndecisions:\n" + entries)
	d, _, err := decision.Parse("decisions/p."+by+".yaml", text)
	require.NoError(t, err)
	return d
}
