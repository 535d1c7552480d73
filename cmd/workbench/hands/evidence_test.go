package hands

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
)

// A page of two staves: the voice of the lower staff goes up to the upper one while the right hand plays, under one beam and one slur; then
// two voices with stems apart stand on the upper staff, the lower one empty.
func TestEvidenceForHands(t *testing.T) {
	s := &score.Score{Parts: []score.Part{{Staves: 2}}, Measures: []score.Measure{{Number: "1", Length: score.Whole(4)}}}
	note := func(at, length int64, midi, staff, home int, voice, stem string) *score.Note {
		s.Notes = append(s.Notes, score.Note{
			Onset: score.Whole(at), Duration: score.Whole(length), Midi: midi, Staff: staff, HomeStaff: home, Voice: voice, Stem: stem,
			TiedFrom: -1, TiedTo: -1,
		})
		return &s.Notes[len(s.Notes)-1]
	}
	note(0, 2, 79, 1, 1, "1", "up")
	first := note(0, 1, 48, 2, 2, "5", "up")
	first.BeamGroup, first.Slurs = 1, []score.Slur{{Number: 1, Start: true}}
	over := note(1, 1, 64, 1, 2, "5", "down")
	over.BeamGroup, over.Slurs = 1, []score.Slur{{Number: 1}}
	note(2, 2, 72, 1, 1, "1", "up")
	note(2, 2, 52, 1, 1, "2", "down")
	h := &playing.Hands{Piano: []bool{true, true, true, true, true}}
	shown := shownBy(s, h, 0)
	require.Equal(t, []shownNote{{0, score.Right}, {1, score.Left}}, shown[byOwnStaff], "both hands strike at the beginning")
	require.Equal(t, []shownNote{{2, score.Left}}, shown[byVoice])
	require.Equal(t, []shownNote{{2, score.Left}}, shown[byBeam])
	require.Equal(t, []shownNote{{2, score.Left}}, shown[bySlur])
	require.Equal(t, []shownNote{{3, score.Right}, {4, score.Left}}, shown[byStem])
	require.Empty(t, shown[byChord])

	s.Notes[2].BeamGroup, s.Notes[1].Slurs = 2, nil
	shown = shownBy(s, h, 0)
	require.Equal(t, []shownNote{{2, score.Left}}, shown[byVoice])
	require.Empty(t, shown[byBeam])
	require.Empty(t, shown[bySlur])
	s.Notes[0].Duration = score.Whole(1)
	require.Empty(t, shownBy(s, h, 0)[byVoice], "the right hand has nothing there: the figure is handed over")
	rest := *note(2, 2, 0, 2, 2, "5", "")
	rest.Kind = score.Rest
	s.Notes[5], h.Piano = rest, append(h.Piano, false)
	require.Empty(t, shownBy(s, h, 0)[byStem], "the left hand rests")
}
