package review_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/rules/engine"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
)

// eight measures of four quarters, right hand, sure but where doubts says.
func toJudge(doubts ...int) *state.Result {
	r := &state.Result{Summary: state.Summary{Measures: 8}}
	for i := range 32 {
		sure := state.Percent(90)
		for _, d := range doubts {
			if d == i {
				sure = 40
			}
		}
		r.Notes = append(r.Notes, state.Note{
			N: i, Measure: "x", MeasureIndex: i / 4, Onset: score.Whole(int64(i % 4)),
			Midi: 60 + i%16, Hand: score.Right, Finger: 1, Confidence: &sure,
		})
	}
	return r
}

// passagesOf gives those of a result whose notes are single strokes in their order.
func passagesOf(r *state.Result, returns []parallel.Return) []review.Passage {
	s, hands := &score.Score{}, playing.Hands{}
	for i := range r.Summary.Measures {
		s.Measures = append(s.Measures, score.Measure{Start: score.Whole(int64(4 * i)), Length: score.Whole(4)})
	}
	for _, n := range r.Notes {
		s.Notes = append(s.Notes,
			score.Note{Measure: n.MeasureIndex, Onset: n.Onset, Midi: n.Midi, TiedFrom: -1, TiedTo: -1})
		hands.Piano, hands.Hand, hands.Player = append(hands.Piano,
			true), append(hands.Hand, n.Hand), append(hands.Player, 0)
	}
	return review.Passages(r, playing.New(s, hands), returns)
}

func TestDoubtsCloseTogetherAreJudgedTogether(t *testing.T) {
	passages := passagesOf(toJudge(1, 2, 6, 29), nil)
	require.Len(t, passages, 2)
	require.Equal(t, []int{1, 2, 6}, passages[0].Doubts)
	require.Equal(t, []int{0, 1, 2, 3, 4, 5, 6, 7}, passages[0].Notes, "whole measures")
	require.Equal(t, []int{29}, passages[1].Doubts)
	require.Equal(t, 2, passages[1].Number, "numbers follow the music")
	require.Equal(t, 1, review.WorstFirst(passages)[0].Number, "three doubts before one")
}

func TestNoPassageIsLongerThanFourMeasures(t *testing.T) {
	var all []int
	for i := range 32 {
		all = append(all, i)
	}
	seen := 0
	for _, p := range passagesOf(toJudge(all...), nil) {
		require.LessOrEqual(t, p.Last-p.First, 3)
		seen += len(p.Doubts)
	}
	require.Equal(t, 32, seen, "every doubt is judged once")
}

// Two passages that share a measure and are too long for one would both ask its notes, and the later decision would take
// from the earlier one that it holds for the returns.
func TestNoDoubtIsAskedInTwoPassages(t *testing.T) {
	r := toJudge(0, 6, 12, 18, 24, 31) // eight notes a measure: 24 and 31 stand in the fourth, and 31 is near the two behind it
	for i := range 32 {
		r.Notes = append(r.Notes, r.Notes[3])
		r.Notes[32+i].N, r.Notes[32+i].Midi = 32+i, 60
	}
	unsure := state.Percent(40)
	r.Notes[37].Confidence, r.Notes[43].Confidence = &unsure, &unsure
	for i := range r.Notes {
		r.Notes[i].MeasureIndex, r.Notes[i].Onset = i/8, score.Frac(int64(i%8), 2)
	}
	passages := passagesOf(r, nil)
	require.Len(t, passages, 2)
	require.Equal(t, []int{0, 6, 12, 18, 24, 31}, passages[0].Doubts)
	require.Equal(t, []int{37, 43}, passages[1].Doubts)
	require.Equal(t, []int{4, 5}, []int{passages[1].First, passages[1].Last})
	require.Equal(t, 32, passages[1].Notes[0], "the fourth measure is the first passage's")
	require.Equal(t, []int{6 * 15, 2 * 15}, []int{passages[0].Weight, passages[1].Weight})
}

func TestFindingsStandWithTheirPassageAndErrorsComeFirst(t *testing.T) {
	r := toJudge(1, 29)
	r.Findings = []state.Finding{
		{Rule: "a", Severity: "note", MeasureIndex: 7, Hand: score.Right, Notes: []int{29}},
		{Rule: "b", Severity: "error", MeasureIndex: 4, Hand: score.Right, Notes: []int{17}},
	}
	passages := passagesOf(r, nil)
	require.Len(t, passages, 3)
	require.Equal(t, []int{0}, passages[2].Findings)
	require.Equal(t, []int{1}, review.WorstFirst(passages)[0].Findings, "the error")
}

// What a finding speaks of may reach into a passage of doubts: its notes are asked there, not in two passages.
func TestAFindingAsksNoNoteOfAnotherPassage(t *testing.T) {
	r := toJudge(13)
	r.Findings = []state.Finding{{Rule: "a", Severity: "note", MeasureIndex: 2, Hand: score.Right, Notes: []int{8, 14}}}
	passages := passagesOf(r, nil)
	require.Len(t, passages, 1)
	require.Equal(t, []int{8, 9, 10, 11, 12, 13, 14, 15}, passages[0].Notes)
	require.Equal(t, []int{13}, passages[0].Doubts)
	require.Equal(t, []int{0}, passages[0].Findings)

	r = toJudge(13, 17, 21, 25) // four measures: with the third they were too many
	r.Findings = []state.Finding{{Rule: "a", Severity: "note", MeasureIndex: 2, Hand: score.Right, Notes: []int{8, 14}}}
	passages = passagesOf(r, nil)
	require.Len(t, passages, 2)
	require.Equal(t, []int{8, 9, 10, 11}, passages[0].Notes)
	require.Equal(t, []int{0}, passages[0].Findings)
}

func TestAReturnIsJudgedWithTheFirst(t *testing.T) {
	r := toJudge(1, 17)
	returns := []parallel.Return{{Kind: parallel.Exact, First: []int{0, 1, 2, 3}, Later: []int{16, 17, 18, 19}}}
	passages := passagesOf(r, returns)
	require.Equal(t, []int{0, 1}, []int{passages[0].ReturnOf, passages[1].ReturnOf})
	r = toJudge(1, 17, 20)
	passages = passagesOf(r, returns)
	require.Len(t, passages, 3, "what comes again is not asked once more with what is new beside it")
	require.Equal(t, []int{0, 1, 0}, []int{passages[0].ReturnOf, passages[1].ReturnOf, passages[2].ReturnOf})
	require.Equal(t, []int{20}, passages[2].Doubts, "a doubt outside the return is judged for itself")
	r.Notes[17].Finger = 2
	passages = passagesOf(r, returns)
	require.Len(t, passages, 2, "with another digit it is another question")
	require.Equal(t, []int{17, 20}, passages[1].Doubts)
	require.Zero(t, passages[1].ReturnOf)
}

// What comes again in two returns is one passage that is judged with the first all the same.
func TestAPassageIsBroughtBackByTwoReturns(t *testing.T) {
	r := toJudge(1, 5, 17, 21)
	returns := []parallel.Return{
		{Kind: parallel.Exact, First: []int{0, 1, 2, 3}, Later: []int{16, 17, 18, 19}},
		{Kind: parallel.Exact, First: []int{4, 5, 6, 7}, Later: []int{20, 21, 22, 23}},
	}
	passages := passagesOf(r, returns)
	require.Len(t, passages, 2)
	require.Equal(t, 1, passages[1].ReturnOf)
}

// What is found of the text alone is asked by itself, behind what is asked of the hands, measure by measure.
func TestFindingsOfTheTextAreNoQuestionOfAHand(t *testing.T) {
	r := toJudge(13)
	r.Findings = []state.Finding{
		{Rule: "change-without-effect", Severity: "note", MeasureIndex: 3}, {Rule: "change-without-effect", Severity: "note", MeasureIndex: 3},
		{Rule: "line-without-end", Severity: "note", MeasureIndex: 1, Hand: score.Right, Notes: []int{5}},
		{Rule: "a", Severity: "note", MeasureIndex: 3, Hand: score.Right, Notes: []int{14}},
	}
	passages := passagesOf(r, nil)
	require.Len(t, passages, 3)
	require.Equal(t, []int{3}, passages[0].Findings)
	require.Equal(t, []int{13}, passages[0].Doubts)
	require.Equal(t, [][]int{{2}, {0, 1}}, [][]int{passages[1].Findings, passages[2].Findings})
	for _, p := range passages[1:] {
		require.True(t, p.OfText)
		require.Empty(t, p.Notes)
		require.Equal(t, "text", p.Whose())
	}
}

// A digit that no hand can take beside those that are given is in doubt, however sure it is by itself: one of the digits around it
// is not meant as it is read.
func TestADigitThatNoHandCanTakeIsInDoubt(t *testing.T) {
	r := toJudge()
	require.Empty(t, passagesOf(r, nil))
	r.Notes[9].OutOfReach = string(engine.BeyondGiven)
	p := passagesOf(r, nil)
	require.Len(t, p, 1)
	require.Equal(t, []int{9}, p[0].Doubts)
	r.Notes[9].OutOfReach = string(engine.BeyondSpan)
	require.Empty(t, passagesOf(r, nil), "a chord that is too wide has its best fingers all the same")
}
