package mark_test

import (
	"fmt"
	"slices"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/16_mark"
	"fingerproof/policies"
	"fingerproof/rules/fingering"

	"github.com/stretchr/testify/require"
)

// upperStaff is measures of four quarters on the upper staff, each quarter by
// its hand, R or L, B for a chord that both share, "." for a rest; the left hand has a note of its own below.
func upperStaff(t *testing.T, p *policies.Policy, measures ...string) mark.Fingered {
	t.Helper()
	in := mark.Fingered{Score: &score.Score{Parts: []score.Part{{Staves: 2}}}, Policy: p}
	var hands playing.Hands
	add := func(m int, onset int64, staff int, h score.Hand) {
		in.Score.Notes = append(in.Score.Notes, score.Note{
			Measure: m, Onset: score.Frac(onset, 1), Duration: score.Frac(1, 1), Staff: staff, HomeStaff: staff,
			Voice: fmt.Sprint(staff), Midi: 60, TiedFrom: -1, TiedTo: -1,
		})
		hands.Piano, hands.Hand, hands.Player = append(hands.Piano, true), append(hands.Hand, h), append(hands.Player, 0)
		in.Finger, in.Substitution, in.Print = append(in.Finger, 1), append(in.Substitution, 0), append(in.Print, true)
		in.Whose, in.Row, in.Credit = append(in.Whose, nil), append(in.Row, nil), append(in.Credit, mark.Credit{})
	}
	for m, line := range measures {
		in.Score.Measures = append(in.Score.Measures, score.Measure{Index: m, Start: score.Frac(int64(4*m), 1)})
		for k, c := range line {
			switch c {
			case 'R':
				add(m, int64(k), 1, score.Right)
			case 'L':
				add(m, int64(k), 1, score.Left)
			case 'B':
				add(m, int64(k), 1, score.Right)
				add(m, int64(k), 1, score.Left)
			}
		}
		add(m, 0, 2, score.Left)
	}
	in.Playing = playing.New(in.Score, hands)
	return in
}

// signsOf spells the signs of a marking by measure and beat.
func signsOf(s *score.Score, m score.Marking) (out []string) {
	for _, at := range m.Marks {
		for _, d := range at.Directions {
			if d.Kind == score.MarkSign {
				n := s.Notes[at.Note]
				out = append(out, fmt.Sprintf("%d.%s %s", n.Measure+1, n.Onset, d.Text))
			}
		}
	}
	return out
}

// A sign stands where the hand changes, one for all that goes over, and one for
// the way back within a figure (common practice, from memory).
func TestHandChangesAreSigned(t *testing.T) {
	signs := func(in mark.Fingered, all ...fingering.Redistribution) []string {
		var m score.Marking
		mark.HandChanges(in, all, &m)
		return signsOf(in.Score, m)
	}
	p := policy(t, "extends: default\n")
	require.Empty(t, signs(upperStaff(t, p, "RRRR")))
	require.Equal(t, []string{"1.1 [m.s.]", "1.3 [m.d.]"}, signs(upperStaff(t, p, "RLLR")))
	require.Equal(t, []string{"1.2 [m.s.]"}, signs(upperStaff(t, p, "RRLL", "LLLL", "LL.R")), "one sign for a passage")
	require.Equal(t, []string{"1.1 [m.s.]"}, signs(upperStaff(t, p, "RL.R")), "after a rest the reader finds the way back")
	require.Equal(t, []string{"1.1 [m.s.]", "1.2 [m.d.]"}, signs(upperStaff(t, p, "RLRR", "RLRR", "RLRR")),
		"a figure that goes on as it began is signed once")

	require.Equal(t, []string{"1.1 [m.s.]", "1.3 [m.d.]"}, signs(upperStaff(t, p, "RBLR")), "from the chord on that both hands share")
	require.Equal(t, []string{"1.1 [m.s.]", "1.3 [m.d.]"}, signs(upperStaff(t, p, "RBLR", "RBLR")), "once")
	require.Empty(t, signs(upperStaff(t, p, "RBRR")), "a chord alone")
	require.Equal(t, []string{"1.2 [m.s.]", "3.0 [m.s.]"}, signs(upperStaff(t, p, "RRLL", "....", "LL..")), "again after a measure without the voice")

	require.Equal(t, []string{"1.1 [m.s.]"}, signs(upperStaff(t, p, "RL.R", "RL.R")), "once, though the way back has no sign")

	in := upperStaff(t, p, "RLRR")
	in.Score.Notes[2].TiedFrom = 0
	require.Equal(t, []string{"1.1 [m.s.]"}, signs(in), "the hand of the staff holds on, and goes on")

	in = upperStaff(t, p, "RLLR")
	in.Print = make([]bool, len(in.Print))
	require.Empty(t, signs(in), "no digit, no sign")
	in = upperStaff(t, p, "RLLR")
	in.Score.Directions = []score.Direction{{Kind: score.HandSign, Hand: score.Left, Onset: score.Frac(1, 1), Text: "m.s."}}
	require.Empty(t, signs(in), "the text says it")
	require.Empty(t, signs(upperStaff(t, p, "RLLR"), fingering.Redistribution{
		To: score.Left, Decided: true, Notes: []int{1, 2}, Fingers: []fingering.Finger{1, 1},
	}), "the bracket of the redistribution says it")
	require.Empty(t, signs(upperStaff(t, policy(t, "signs: {changes: none}\n"), "RLLR")))
	german := policy(t, "signs: {changes: plain, language: de}\n")
	require.Equal(t, []string{"1.1 l.H.", "1.3 r.H."}, signs(upperStaff(t, german, "RLLR")))
	bySigns := policy(t, "redistribute: {marks: sign}\n")
	require.Equal(t, []string{"1.3 [m.d.]"}, signs(upperStaff(t, bySigns, "RLLR"), fingering.Redistribution{
		To: score.Left, Decided: true, Notes: []int{1, 2}, Fingers: []fingering.Finger{1, 1},
	}), "only the way over has its sign yet")
}

// A hand that has its sign has no other one where a decided redistribution goes on with it (seen in a nocturne: [l.H.] l.H.).
func TestAHandHasOneSignForAllThatItGoesOnWith(t *testing.T) {
	p := policy(t, "redistribute: {marks: sign}\n")
	for line, want := range map[string][]string{
		"RLLR": {"1.1 [m.s.]", "1.3 [m.d.]"}, "LRLR": {"1.0 [m.s.]", "1.1 [m.d.]", "1.2 [m.s.]", "1.3 [m.d.]"},
	} {
		in := upperStaff(t, p, line)
		taken := []fingering.Redistribution{{To: score.Left, Decided: true, Notes: []int{2}, Fingers: []fingering.Finger{1}}}
		var m score.Marking
		mark.Redistributed(in, taken, &m)
		mark.HandChanges(in, taken, &m)
		require.ElementsMatch(t, want, signsOf(in.Score, m), line)
	}
}

// What is offered has one digit a key, though two voices strike it, and where its finger is that of another key of the hand, this one's
// new finger stands beside it.
func TestTheDigitsOfAnOfferCanBePlayed(t *testing.T) {
	in := upperStaff(t, policy(t, "extends: default\n"), "BBBB")
	for i := range in.Score.Notes {
		in.Score.Notes[i].Midi = 60 + i%2
	}
	in.Score.Notes[1].Midi, in.Score.Notes[3].Midi = 60, 60 // the left hand's, of the first two chords
	in.Score.Notes[0].Midi = 60
	digits := func(r fingering.Redistribution) (out []string) {
		var m score.Marking
		mark.Redistributed(in, []fingering.Redistribution{r}, &m)
		for _, at := range m.Marks {
			for _, d := range at.Digits {
				require.True(t, d.Alternate)
				out = append(out, fmt.Sprint(at.Note, " ", d.Text))
			}
		}
		return out
	}
	offer := fingering.Redistribution{To: score.Left, Notes: []int{0, 1}, Fingers: []fingering.Finger{2, 2}}
	require.Equal(t, []string{"0 2"}, digits(offer), "one key")
	offer = fingering.Redistribution{To: score.Left, Notes: []int{4}, Fingers: []fingering.Finger{1}, Around: []int{5, 7}, AroundFingers: []fingering.Finger{3, 2}}
	require.Equal(t, []string{"4 1", "5 3"}, digits(offer), "the finger that it gives up, where it is wanted at once")
	offer.Fingers[0] = 2
	require.Equal(t, []string{"4 2"}, digits(offer))
}

// A passage has one sign, and no measure more than two offers: those that gain most.
func TestOffersDoNotPileUp(t *testing.T) {
	p := policy(t, "extends: default\n")
	in := upperStaff(t, p, "RRRR")
	offer := func(gain int, notes ...int) fingering.Redistribution {
		return fingering.Redistribution{
			To: score.Left, Gain: gain, Notes: notes, Fingers: slices.Repeat([]fingering.Finger{2}, len(notes)),
		}
	}
	signs := func(all ...fingering.Redistribution) []string {
		var m score.Marking
		mark.Redistributed(in, all, &m)
		return signsOf(in.Score, m)
	}
	require.Equal(t, []string{"1.0 (m.s.)"}, signs(offer(1, 0), offer(1, 1)))
	require.Equal(t, []string{"1.0 (m.s.)", "1.2 (m.s.)"}, signs(offer(1, 0), offer(1, 2)))
	toRight := offer(3, 2)
	toRight.To = score.Right
	require.Equal(t, []string{"1.1 (m.s.)", "1.2 (m.d.)"}, signs(offer(1, 0), offer(2, 1), toRight))
}

// What was decided at a single stroke has the sign of a change of hands, which the legend explains: a bracket over one note reaches over what the other hand has next, and
// does not say which key of a chord is meant. Several strokes have both: some engravers draw every bracket above its staff, as if it were the right hand's.
func TestADecidedStrokeHasTheSignInPlaceOfABracket(t *testing.T) {
	in := upperStaff(t, policy(t, "redistribute: {marks: bracket}\n"), "RLLR")
	decided := true
	marked := func(notes ...int) (signs []string, brackets int) {
		var m score.Marking
		mark.Redistributed(in, []fingering.Redistribution{{
			To: score.Left, Decided: decided, Notes: notes, Fingers: slices.Repeat([]fingering.Finger{2}, len(notes)),
		}}, &m)
		for _, at := range m.Marks {
			for _, d := range at.Directions {
				switch d.Kind {
				case score.MarkSign:
					signs = append(signs, d.Text)
				case score.MarkBracketStart, score.MarkBracketStop:
					brackets++
				}
			}
		}
		return signs, brackets
	}
	signs, brackets := marked(1)
	require.Equal(t, []string{"[m.s.]"}, signs)
	require.Zero(t, brackets)
	in.Policy = policy(t, "redistribute: {marks: sign}\nsigns: {changes: plain, language: de}\n")
	signs, _ = marked(1, 2)
	require.Equal(t, []string{"l.H."}, signs, "as the house sets them")
	in.Policy = policy(t, "redistribute: {marks: bracket}\n")
	signs, brackets = marked(1, 2)
	require.Equal(t, []string{"[m.s.]"}, signs)
	require.Equal(t, 2, brackets)
	all := []fingering.Redistribution{{To: score.Left, Decided: true, Notes: []int{1, 2}, Fingers: []fingering.Finger{2, 2}}}
	var m score.Marking
	mark.Redistributed(in, all, &m)
	mark.HandChanges(in, all, &m)
	require.Equal(t, []string{"1.1 [m.s.]"}, signsOf(in.Score, m), "the bracket's end is the way back")
	decided = false // what is offered likewise
	signs, brackets = marked(1)
	require.Equal(t, []string{"(m.s.)"}, signs)
	require.Zero(t, brackets)
	signs, brackets = marked(1, 2)
	require.Equal(t, []string{"(m.s.)"}, signs)
	require.Equal(t, 2, brackets)
}

// Where the edition's own sign gives notes to a hand, they are not offered to the other at once (seen in a song: [m.s.] and
// (m.d.) at one stroke).
func TestNoOfferGainsaysASign(t *testing.T) {
	in := upperStaff(t, policy(t, "extends: default\n"), "RLLR")
	offer := func(to score.Hand, notes ...int) fingering.Redistribution {
		return fingering.Redistribution{To: to, Notes: notes, Fingers: slices.Repeat([]fingering.Finger{2}, len(notes))}
	}
	back, decided := offer(score.Right, 1), offer(score.Right, 1)
	decided.Decided = true
	require.Empty(t, mark.WithoutGainsaid(in, []fingering.Redistribution{back}))
	require.Len(t, mark.WithoutGainsaid(in, []fingering.Redistribution{offer(score.Left, 0), decided}), 2)
}
