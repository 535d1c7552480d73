package decide_test

import (
	"testing"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"

	"github.com/stretchr/testify/require"
)

// staysText takes four notes of a hand, gives the first two to the other, and decides one of those that stay.
const staysText = `piece: p
by: AB
decisions:
  - take: notes
    when: 2026-03-01
    notes: [m. 1: 0 C4=1, m. 1: 1 D4=3, m. 1: 2 E4=2]
  - take: redistribution
    to: L
    when: 2026-03-01
    notes: [m. 1: 0 C4=1, m. 1: 1 D4 (stays)=2]
  - {amend: notes, when: 2026-03-02, notes: [m. 1: 2 E4=4]}
`

// A redistribution replaces what was taken for the hand that had its notes and decides those that stay; what no longer
// holds is named with both decisions and the cause.
func TestWhatALaterDecisionTakesBack(t *testing.T) {
	s := music(t, scale)
	d, _, err := decision.Parse("decisions/p.AB.yaml", []byte(staysText))
	require.NoError(t, err)
	p := decide.Place(decide.Input{Score: s, Decisions: d})
	require.Empty(t, p.Unplaced)
	require.Len(t, p.Redistributions, 1)
	require.Equal(t, []int{0}, p.Redistributions[0].Notes, "what stays is not handed over")
	require.Equal(t, 1, p.Digits[0].Finger())
	require.Equal(t, 2, p.Digits[1].Finger(), "decided with the redistribution")
	require.Equal(t, 4, p.Digits[2].Finger())
	require.Same(t, &d[1], p.Deciding[1])
	require.Equal(t, []decide.Overruled{
		{Note: 1, First: &d[0], Second: &d[1], Digits: [2]string{"3", "2"}, Cause: decide.Freed},
		{Note: 2, First: &d[0], Second: &d[2], Digits: [2]string{"2", "4"}, Cause: decide.Later},
	}, p.Overruled, "finger 1 on C4 holds as before: it is not named")
}
