package decide_test

import (
	"testing"

	"fingerproof/pipeline/4_stages/05_decide"

	"github.com/stretchr/testify/require"
)

// Who reopens a digit takes their own word back, and nobody else's; a later word decides it again.
func TestAReopenedDigitIsOpenAgain(t *testing.T) {
	s := music(t, scale)
	day := func(verb, when, finger string) string {
		return entry(verb+": notes, when: "+when, at(1, 0, "C4", finger))
	}
	ab := day("amend", "2026-01-01", ", finger: 2") + day("reopen", "2026-01-02", "")
	p := decide.Place(decide.Input{Score: s, Decisions: decisionsOn(t, "AB", ab)})
	require.Empty(t, p.Digits[0].Verb)
	require.Nil(t, p.Deciding[0])
	require.Len(t, p.Overruled, 1)
	require.Equal(t, decide.Reopened, p.Overruled[0].Cause)
	require.Equal(t, [2]string{"2", ""}, p.Overruled[0].Digits)

	cd := decisionsOn(t, "CD", day("amend", "2026-01-01", ", finger: 3"))
	p = decide.Place(decide.Input{Score: s, Decisions: append(decisionsOn(t, "AB", ab), cd...)})
	require.Equal(t, 3, p.Digits[0].Finger(), "AB no longer speaks against CD")
	require.Empty(t, p.Contradictions)

	p = decide.Place(decide.Input{Score: s, Decisions: decisionsOn(t, "AB", ab+day("amend", "2026-01-03", ", finger: 4"))})
	require.Equal(t, 4, p.Digits[0].Finger())
}
