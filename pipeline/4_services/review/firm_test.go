package review_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
)

// withFirm gives the passages of a result, those that are firm among them; open are the notes whose printed digit
// is open.
func withFirm(r *state.Result, returns []parallel.Return, open ...int) ([]review.Passage, *score.Score) {
	s, hands := &score.Score{}, playing.Hands{}
	for i := range r.Summary.Measures {
		s.Measures = append(s.Measures,
			score.Measure{Number: "x", Start: score.Whole(int64(4 * i)), Length: score.Whole(4)})
	}
	for _, n := range r.Notes {
		s.Notes = append(s.Notes,
			score.Note{Measure: n.MeasureIndex, Onset: n.Onset, Midi: n.Midi, TiedFrom: -1, TiedTo: -1})
		hands.Piano, hands.Hand, hands.Player = append(hands.Piano,
			true), append(hands.Hand, n.Hand), append(hands.Player, 0)
	}
	p := playing.New(s, hands)
	return review.AddFirm(review.Passages(r, p, returns), r, p, returns, open), s
}

// Every open digit belongs to one passage; what is not doubtful is gathered between the doubts, and numbered behind
// them.
func TestEveryOpenDigitBelongsToAPassage(t *testing.T) {
	r := toJudge(13) // a doubt in the fourth measure of eight
	passages, _ := withFirm(r, nil, 0, 5, 14, 22, 31)
	require.Len(t, passages, 3)
	require.Equal(t, []int{14}, passages[0].Open, "judged with the doubt")
	require.False(t, passages[0].Firm)
	require.Equal(t, []int{0, 5}, passages[1].Open)
	require.Equal(t, []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}, passages[1].Notes,
		"whole measures, up to the doubt: what does not print is decided with them")
	require.Equal(t, []int{22, 31}, passages[2].Open)
	require.Equal(t, []int{4, 7}, []int{passages[2].First, passages[2].Last}, "not across the measure of the doubt")
	require.Equal(t, []int{2, 3}, []int{passages[1].Number, passages[2].Number})
	require.Equal(t, 1, review.WorstFirst(passages)[0].Number, "firm ones come last")
	none, _ := withFirm(r, nil)
	require.Len(t, none, 1, "nothing is open")
}

// What is decided with the passage that returns is not asked again; what stands beside it is.
func TestOpenDigitsOfAReturnAreJudgedWithTheFirst(t *testing.T) {
	r := toJudge(1, 17)
	returns := []parallel.Return{{Kind: parallel.Exact, First: []int{0, 1, 2}, Later: []int{16, 17, 18}}}
	passages, _ := withFirm(r, returns, 0, 16, 19)
	require.Len(t, passages, 3)
	require.True(t, passages[0].ForReturns)
	require.Equal(t, []review.Going{{First: 4, Last: 4, Kind: parallel.Exact, Notes: [][2]int{{0, 16}, {1, 17}, {2, 18}}}}, passages[0].Goes,
		"it is told where the answer goes")
	require.Empty(t, passages[2].Goes)
	require.Equal(t, []int{0}, passages[0].Open)
	require.True(t, passages[2].Firm)
	require.Equal(t, []int{19}, passages[2].Open, "the return does not reach it")
	require.Len(t, passages[2].Notes, 32-4-3, "neither the doubt's measure nor what returns")
	require.Equal(t, []int{4, 5}, passages[2].Notes[:2])
	require.Equal(t, []int{15, 19, 20}, passages[2].Notes[11:14])
	require.Len(t, passages[2].Strokes, len(passages[2].Notes))
}

// Taking writes the suggestion of every note that is left to judge, a digit that something gives and nobody decided
// too.
func TestTakingAPassage(t *testing.T) {
	r := toJudge(1)
	r.Notes[2].Confidence, r.Notes[3].Confidence = nil, nil // given: the one by the text, the other from a return
	r.Notes[1].Substitution = []int{2}
	passages, s := withFirm(r, nil, 3)
	d, ok := review.Take(r, decision.NewFinder(s), &passages[0], "AB", "2026-03-01")
	require.True(t, ok)
	require.Equal(t, decision.Take, d.Verb)
	var fingers [][]int
	for _, n := range d.Notes {
		fingers = append(fingers, n.Fingers)
	}
	require.Equal(t, [][]int{{1}, {1, 2}, {1}}, fingers, "the first, the doubt with its change, and the fourth")
	_, declined := review.Decline(r, decision.NewFinder(s), &passages[0], "AB", "2026-03-01")
	require.False(t, declined, "there is no redistribution to decline")
}

// A redistribution that is decided is not asked again.
func TestWhatIsDecidedIsNotAskedAgain(t *testing.T) {
	r := toJudge()
	r.Redistributions = []state.Redistribution{
		{To: score.Left, Decided: true, Notes: []state.RedistributedNote{{N: 1, Finger: 1}}},
		{To: score.Left, Notes: []state.RedistributedNote{{N: 9, Finger: 2}}},
	}
	passages, s := withFirm(r, nil)
	require.Len(t, passages, 1)
	d, ok := review.Take(r, decision.NewFinder(s), &passages[0], "AB", "2026-03-01")
	require.True(t, ok)
	require.Equal(t, score.Left, d.To)
	require.Equal(t, []int{2}, d.Notes[0].Fingers)
	d, ok = review.Decline(r, decision.NewFinder(s), &passages[0], "AB", "2026-03-01")
	require.True(t, ok)
	require.Equal(t, decision.Stet, d.Verb)
	require.Empty(t, d.Notes[0].Fingers)
}

// A passage of findings that speak of no suggested digit asks for none: the digits around what is found are those of a passage
// without doubt, and each belongs to one passage. Where a suggested digit is spoken of, it is asked with what is found of it.
func TestWhatIsFoundAloneAsksForNoDigit(t *testing.T) {
	found := func(rule string, given bool, open ...int) ([]review.Passage, *state.Result) {
		r := toJudge()
		if given {
			r.Notes[9].Confidence = nil
		}
		r.Findings = []state.Finding{{Rule: rule, Severity: "note", Notes: []int{9}, MeasureIndex: 2, Hand: score.Right}}
		passages, _ := withFirm(r, nil, open...)
		return passages, r
	}
	for _, c := range []struct {
		rule  string
		given bool
	}{{"unlikely-finger", true}, {"value-against-length", false}} {
		passages, r := found(c.rule, c.given, 0, 8, 31)
		require.Len(t, passages, 2, c.rule)
		require.True(t, passages[0].Bare)
		require.Empty(t, passages[0].Open)
		require.Empty(t, passages[0].Rest)
		require.Empty(t, review.Taken(r, &passages[0]))
		require.Equal(t, []int{0, 8, 31}, passages[1].Open, "not broken by what asks for no digit")
		require.True(t, passages[1].Firm)
		require.Len(t, review.Taken(r, &passages[1]), map[bool]int{true: 31, false: 32}[c.given])
	}

	passages, r := found("unlikely-finger", false, 0, 31)
	require.False(t, passages[0].Bare)
	require.Equal(t, []int{8, 9, 10, 11}, passages[0].Rest, "none prints, and they are asked with what is found of one")
	require.Len(t, review.Taken(r, &passages[0]), 4)
	passages, _ = found("unlikely-finger", false, 8)
	require.Equal(t, []int{8}, passages[0].Open)
	require.Empty(t, passages[0].Rest, "taken with what prints")

	passages, r = found("unlikely-finger", true)
	require.Len(t, passages, 1, "nothing is open")
	require.False(t, passages[0].Bare, "its digits can be changed there")
	require.Empty(t, passages[0].Rest)
	require.Len(t, review.Taken(r, &passages[0]), 3)
}
