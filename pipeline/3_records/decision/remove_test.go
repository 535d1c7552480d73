package decision_test

import (
	"testing"

	"fingerproof/pipeline/3_records/decision"

	"github.com/stretchr/testify/require"
)

const three = `# by hand
piece: p
by: AB
decisions:
  - {amend: notes, when: 2026-03-01, notes: [m. 1: 0 C4=1]}
  - amend: notes
    when: 2026-03-02
    notes:
      - m. 2: 0 D4=2
  - {query: notes, when: 2026-03-03, why: why, notes: [m. 3: 0 E4]}
`

// What stands beside an entry that is taken out stays letter by letter.
func TestEntriesAreTakenOut(t *testing.T) {
	out, err := decision.Remove("decisions/p.AB.yaml", []byte(three), []int{6})
	require.NoError(t, err)
	require.Equal(t, `# by hand
piece: p
by: AB
decisions:
  - {amend: notes, when: 2026-03-01, notes: [m. 1: 0 C4=1]}
  - {query: notes, when: 2026-03-03, why: why, notes: [m. 3: 0 E4]}
`, string(out))
	out, err = decision.Remove("decisions/p.AB.yaml", []byte(three), []int{10, 5, 6})
	require.NoError(t, err)
	left, piece, err := decision.Parse("decisions/p.AB.yaml", out)
	require.NoError(t, err)
	require.Empty(t, left)
	require.Equal(t, "p", piece)
	_, err = decision.Remove("decisions/p.AB.yaml", []byte(three), []int{7})
	require.ErrorContains(t, err, "no entry of decisions/p.AB.yaml begins in line 7\nhint: entries begin in lines 5, 6 and 10")
}

func TestOnlyDigitsAreReopened(t *testing.T) {
	_, _, err := decision.Parse("decisions/p.AB.yaml", []byte("piece: p\nby: AB\ndecisions:\n"+
		"  - {reopen: redistribution, when: 2026-03-01, to: L, notes: [m. 1: 0 C4]}\n"))
	require.ErrorContains(t, err, "a redistribution cannot be reopened")
	_, _, err = decision.Parse("decisions/p.AB.yaml", []byte("piece: p\nby: AB\ndecisions:\n"+
		"  - {reopen: notes, when: 2026-03-01, notes: [m. 1: 0 C4=3]}\n"))
	require.ErrorContains(t, err, "a reopen gives no finger")
}
