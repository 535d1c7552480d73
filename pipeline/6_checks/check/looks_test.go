package check_test

import (
	"testing"

	"fingerproof/pipeline/6_checks/check"

	"github.com/stretchr/testify/require"
)

// A house style that prints every page otherwise is a change, though no finger moves: each key is told that does so, and no
// other.
func TestWhatPrintsOtherwiseIsToldByKey(t *testing.T) {
	in := demo(t, "op12-2-waltz")
	in.policy = style(t, "marks: {legend: title}\n")
	was := stateOf(work(t, in))
	in.policy = style(t, "language: de\nmarks: {legend: title, placement: engraver, layers: levels}\nredistribute: {per_page: 50}\n")
	p := check.Compare(work(t, in), was, in.data)
	got := map[string]string{}
	for i := range p.Changes {
		require.Equal(t, check.Looks, p.Changes[i].Kind, p.Changes[i].Sentence())
		got[p.Changes[i].Pitch] = p.Changes[i].Cause
	}
	require.Equal(t, map[string]string{
		"language": "policy: language", "marks.layers": "policy: marks.layers", "marks.placement": "policy: marks.placement",
	}, got)
}
