package commentary_test

import (
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"
	"fingerproof/reports/commentary"

	"github.com/stretchr/testify/require"
)

// A digit of the text at a key is the text's whichever voice or note of the chord carries it: digits for all keys at one note of a
// chord, and one digit a voice on a key that two voices share, are no difference; another finger there is one.
func TestADigitOfTheTextIsOneWhicheverNoteCarriesIt(t *testing.T) {
	text := func(digits ...string) (out []state.Source) {
		for _, d := range digits {
			out = append(out, state.Source{Text: d, Responsibility: score.Composer})
		}
		return out
	}
	said := func(notes ...state.Note) string {
		for i := range notes {
			notes[i].N, notes[i].Measure, notes[i].Hand, notes[i].Printed = i, "7", score.Right, true
		}
		c := commentary.New(&corpus.Collection{Title: "T"})
		c.Add(&corpus.Piece{ID: "a"}, &state.Result{Piece: "a", Notes: notes}, policies.Default(), beats)
		return string(c.Markdown())
	}
	pile := said(
		state.Note{Pitch: "E5", Midi: 76, Finger: 2, Piled: "G5", Responsibility: score.Composer},
		state.Note{Pitch: "G5", Midi: 79, Voice: "2", Finger: 4, Piled: "G5", Responsibility: score.Composer, Source: text("2", "4")},
	)
	require.NotContains(t, pile, "; ours")
	require.Contains(t, pile, "The composer's digits stand on 2 notes: right hand, m. 7. The fingering keeps them all.")
	shared := func(finger int) string {
		return said(
			state.Note{Pitch: "C5", Midi: 72, Voice: "1", Finger: finger, Source: text("1")},
			state.Note{Pitch: "C5", Midi: 72, Voice: "2", Finger: finger, Source: text("4")},
		)
	}
	require.NotContains(t, shared(4), "; ours", "the other voice has it")
	require.NotContains(t, shared(1), "; ours")
	require.Contains(t, shared(2), "C5: the composer's 1+4; ours 2+2.")
}
