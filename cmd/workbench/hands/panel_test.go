package hands

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
)

// Readers are not told which case is printed: signs go out of the text, other words stay.
func TestAPanelHidesTheSignsOfTheText(t *testing.T) {
	require.Equal(t, `<words> </words><words font-size="9">dolce</words><words> </words>`,
		withoutSigns(`<words default-y="3">m.g.</words><words font-size="9">dolce</words><words>(m. d.)</words>`))
}

// What a case is for is said in the same words for an offer and for a printed sign.
func TestReasonsOfAPanelDoNotTellWhatIsPrinted(t *testing.T) {
	offer := panelCase{kind: "offer", reason: "crossing", to: score.Left, words: "m. 5, right hand: a voice of its own lies beyond the other keys of the right hand; " +
		"the left hand is free and takes, over the other, 2 notes. Effort: right hand 1.0 before and 2.0 after, left hand 1.0 and 2.0; the change itself costs 1.0 (x)."}
	missed := panelCase{kind: "missed", reason: placeCrossing, to: score.Left}
	require.Equal(t, "crossing: a voice of its own lies beyond the other keys of the right hand", reasonOf(&offer))
	require.Equal(t, reasonOf(&offer), reasonOf(&missed))
	for _, kind := range placeKinds {
		require.NotEmpty(t, kindWords[kind], kind)
	}
}

// A gesture that returns in a piece is drawn twice at most; the same cases are drawn each time.
func TestCasesOfAPanel(t *testing.T) {
	all := []panelCase{{rank: 4, piece: "a", reason: "held"}, {rank: 1, piece: "a", reason: "held"}, {rank: 3, piece: "a", reason: "held"},
		{rank: 2, piece: "b", reason: "held"}, {rank: 5, piece: "a", reason: "reach"}}
	ranks := func(cases []panelCase) (out []uint32) {
		for _, c := range cases {
			out = append(out, c.rank)
		}
		return out
	}
	require.Equal(t, []uint32{1, 2, 3, 5}, ranks(drawn(all, 10)))
	require.Equal(t, []uint32{1, 2}, ranks(drawn(all, 2)))
	for k := range all {
		all[k].again = all[k].rank == 1
	}
	require.Equal(t, []uint32{2, 3}, ranks(drawn(all, 2)), "what was judged before is drawn last")
}

// Whole composers are held out, the thresholds chosen on the others by what they find there.
func TestFoldsOfComposers(t *testing.T) {
	all := []foldPiece{
		{composer: "a", places: 9}, {composer: "b", places: 5}, {composer: "c", places: 4}, {composer: "d", places: 1}, {composer: "e", places: 1},
		{composer: "f", places: 1}, {composer: "a", places: 1},
	}
	folds := balanced(all)
	require.Len(t, folds, 6)
	require.NotEqual(t, folds["a"], folds["b"])
	require.NotEqual(t, folds["b"], folds["c"])
	require.NotEqual(t, folds["e"], folds["a"], "the fold with fewest places takes it")

	variants := []variant{{}, {"threshold", 3000}, {"threshold", 4500}, {"crossing_threshold", 1000}}
	pieces := []foldPiece{{found: []int{2, 3, 3, 2}, elsewhere: []int{5, 9, 14, 4}}}
	require.Equal(t, map[string]int{"threshold": 3000, "crossing_threshold": 1000}, choose(pieces, variants),
		"a place more is worth ten offers; fewer offers for the same places are better")
	low, high := wilson(28, 50)
	require.InDelta(t, 0.42, low, 0.01)
	require.InDelta(t, 0.69, high, 0.01)
}
