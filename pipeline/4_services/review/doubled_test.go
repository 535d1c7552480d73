package review_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"

	"github.com/stretchr/testify/require"
)

// The second note of a key that two voices strike has its finger from the other: nothing is worked out for it. It is
// open all the same, so what lint would find of it is said before it is taken, and it does not count as firm.
func TestTheSecondNoteOfADoubledKeyIsJudgedWithWhatLintWouldFind(t *testing.T) {
	r := toJudge()
	r.Notes[5].Confidence = nil
	s, hands := &score.Score{}, playing.Hands{}
	for i := range r.Summary.Measures {
		s.Measures = append(s.Measures, score.Measure{Number: "x", Start: score.Whole(int64(4 * i)), Length: score.Whole(4)})
	}
	for _, n := range r.Notes {
		s.Notes = append(s.Notes, score.Note{Measure: n.MeasureIndex, Onset: n.Onset, Midi: n.Midi, TiedFrom: -1, TiedTo: -1})
		hands.Piano, hands.Hand, hands.Player = append(hands.Piano, true), append(hands.Hand, n.Hand), append(hands.Player, 0)
	}
	in := review.Input{Score: s, Result: r, Playing: playing.New(s, hands), Open: []int{5}}
	firm := review.All(in)
	require.Len(t, firm, 1)
	require.True(t, firm[0].Firm)
	in.IfTaken = []review.FoundIfTaken{{Rule: "finger-on-two-keys", Severity: "error", Notes: []int{5, 4}}}
	passages := review.All(in)
	require.Len(t, passages, 3, "before and behind it nothing is in doubt")
	require.False(t, passages[0].Firm)
	require.Equal(t, in.IfTaken, passages[0].IfTaken)
	require.True(t, review.WantsReason(&passages[0]))

	// What speaks of a digit of the text alone, once others bind, is asked beside what is taken in its measure.
	r.Notes[6].Confidence, r.Notes[6].Responsibility = nil, score.Composer
	in.Open, in.IfTaken = []int{5}, []review.FoundIfTaken{{Rule: "grip-out-of-reach", Severity: "warning", Notes: []int{6}}}
	require.Equal(t, r.Notes[5].MeasureIndex, r.Notes[6].MeasureIndex)
	passages = review.All(in)
	require.Equal(t, in.IfTaken, passages[0].IfTaken)
	require.False(t, passages[0].Firm)
	r.Notes[6].Hand = score.Left
	require.Empty(t, review.All(in)[0].IfTaken, "nothing is asked of its hand")
}

// It keeps its finger with a redistribution that changes its grip, and what the text gives does not.
func TestTheSecondNoteOfADoubledKeyStaysWithARedistribution(t *testing.T) {
	r := toJudge()
	at := func(n int) { r.Notes[n].MeasureIndex, r.Notes[n].Onset = r.Notes[4].MeasureIndex, r.Notes[4].Onset }
	at(5)
	at(6)
	r.Notes[5].Confidence = nil
	r.Notes[6].Confidence, r.Notes[6].Responsibility = nil, score.Composer
	offer := &state.Redistribution{To: score.Left, Notes: []state.RedistributedNote{{N: 4, Finger: 1}}}
	require.Equal(t, []state.RedistributedNote{{N: 5, Finger: r.Notes[5].Finger}}, review.Staying(r, offer))
}

// What was decided of the grip before notes changed hands stays decided with the redistribution, and is not asked once more.
func TestADecidedDigitStaysWithARedistribution(t *testing.T) {
	r := toJudge()
	r.Notes[5].MeasureIndex, r.Notes[5].Onset = r.Notes[4].MeasureIndex, r.Notes[4].Onset
	r.Notes[5].Confidence, r.Notes[5].Responsibility, r.Notes[5].Agent, r.Notes[5].Finger = nil, score.Editor, "AB", 3
	offer := &state.Redistribution{To: score.Left, Notes: []state.RedistributedNote{{N: 4, Finger: 1}}}
	require.Equal(t, []state.RedistributedNote{{N: 5, Finger: 3}}, review.Staying(r, offer))
	r.Notes[5].Source = []state.Source{{Text: "3"}}
	require.Empty(t, review.Staying(r, offer), "the text gives it")
}
