package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const header = "title Test\nwork Test, Op. 0\nkey Eb major\ntime 4/4\ntempo \"Lento\" q=40\n" +
	"witness W old \"a print\"\n---\n"

func mustRead(t *testing.T, measures string) *Piece {
	t.Helper()
	piece, err := readPiece("test.piece", "test", header+measures)
	require.NoError(t, err)
	require.NoError(t, piece.resolve(""))
	return piece
}

func TestPitchesFollowTheSignatureAndTheNearestOctave(t *testing.T) {
	piece := mustRead(t, "m 1\nR b4/4 e en [d5 b f#]\n")
	events := piece.Measures[0].Voices[0].Events
	require.Equal(t, Pitch{6, -1, 4}, events[0].Notes[0].Pitch)
	require.Equal(t, Pitch{2, -1, 5}, events[1].Notes[0].Pitch)
	require.Equal(t, Pitch{2, 0, 5}, events[2].Notes[0].Pitch)
	require.Equal(t, []Pitch{{1, 0, 5}, {6, -1, 5}, {3, 1, 6}}, []Pitch{
		events[3].Notes[0].Pitch, events[3].Notes[1].Pitch, events[3].Notes[2].Pitch,
	})
	require.Equal(t, []string{"", "", "natural", ""}, []string{
		events[0].Notes[0].Sign, events[1].Notes[0].Sign, events[2].Notes[0].Sign, events[3].Notes[0].Sign,
	})
}

func TestAPitchWithoutOctaveIsTheNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := Pitch{Step: rapid.IntRange(0, 6).Draw(t, "step"), Octave: rapid.IntRange(2, 6).Draw(t, "octave")}
		letter := string(stepLetters[rapid.IntRange(0, 6).Draw(t, "letter")])
		reader := &voiceReader{last: &from}
		note, rest, err := reader.note(letter, false)
		require.NoError(t, err)
		require.Empty(t, rest)
		distance := note.Pitch.Diatonic() - from.Diatonic()
		require.LessOrEqual(t, max(distance, -distance), 3)
	})
}

func TestAccidentalsRemind(t *testing.T) {
	piece := mustRead(t, "m 1\nR en5/4 e e4 r\nm 2\nR e5/4 r/2.\n")
	events := piece.Measures[0].Voices[0].Events
	require.Equal(t, "natural", events[0].Notes[0].Sign)
	require.Equal(t, "flat", events[1].Notes[0].Sign)
	require.Empty(t, events[2].Notes[0].Sign, "the flat before it has already said so")
	piece = mustRead(t, "m 1\nR r/2. en5/4\nm 2\nR e5/4 e r/2\n")
	events = piece.Measures[1].Voices[0].Events
	require.Equal(t, "flat", events[0].Notes[0].Sign, "a reminder after the barline")
	require.Empty(t, events[1].Notes[0].Sign)
}

func TestBeamsFollowTheBeat(t *testing.T) {
	for _, c := range []struct{ content, beams string }{
		{"c5/8 d e f g f e d", "begin continue continue end begin continue continue end"},
		{
			"c5/16 d e f g/8 f r e d c",
			"begin/begin continue/continue continue/continue end/end begin end - - begin end",
		},
		{"c5/8. d/16 e/4 r/2", "begin/- end/backward - -"},
		{"3:2{ c5/8 d e } 3:2{ f e d } r/2", "begin continue end begin continue end -"},
	} {
		var beams []string
		for _, event := range mustRead(t, "m 1\nR "+c.content+"\n").Measures[0].Voices[0].Events {
			text := strings.ReplaceAll(strings.Join(event.Beams, "/"), " hook", "")
			if text == "" {
				text = "-"
			}
			beams = append(beams, text)
		}
		require.Equal(t, strings.ReplaceAll(c.beams, "begin/- ", "begin "), strings.Join(beams, " "), c.content)
	}
}

func TestStemsTurnAwayFromTheOtherVoice(t *testing.T) {
	piece := mustRead(t, "m 1\nR c6/1\nR2 f5/4 e d c\nL f3/2 c3/2\nm 2\nR f4/2 g5/2\nL < c3/8 g @R c4 g > r/2\n")
	require.Equal(t, "down", piece.Measures[0].Voices[1].Events[0].Stem)
	require.Equal(t, "", piece.Measures[0].Voices[0].Events[0].Stem, "a whole note has none")
	left := piece.Measures[1].Voices[1].Events
	require.Equal(t, []string{"up", "up", "down", "down"}, []string{
		left[0].Stem, left[1].Stem, left[2].Stem, left[3].Stem,
	})
}

func TestOldNumberingIsPutOnByTheWitness(t *testing.T) {
	files, err := composePiece("test.piece", "test", header+"m 1\nR c5-1/4 d-2 e-5=4 r\nR@W c5-1/4 d-3 e-5=4 r\n")
	require.NoError(t, err)
	require.Len(t, files, 2)
	require.Contains(t, string(files[0].content), `<fingering placement="above">2</fingering>`)
	require.Contains(t, string(files[1].content), `<fingering placement="above">+</fingering>`)
	require.Contains(t, string(files[1].content), `<fingering placement="above">2</fingering>`, "3 counts as 2")
	require.Contains(t, string(files[1].content), `<fingering substitution="yes" placement="above">3</fingering>`)
}

func TestACopyLeavesDigitsAndWordsBehind(t *testing.T) {
	piece := mustRead(t, "m 1\nR \\p c5-1/2( d-2)\nm 2\nR \\f *1\n")
	events := piece.Measures[1].Voices[0].Events
	require.Empty(t, events[0].Notes[0].Fingers)
	require.True(t, events[0].SlurStart[1])
	require.Equal(t, []Direction{{Kind: "dynamics", Value: "f", Staff: 1}}, events[0].Before)
}

func TestMistakesAreNamedWithTheirPlace(t *testing.T) {
	for _, c := range []struct{ measures, message string }{
		{"m 1\nR c5/4 d e\n", "line 8, measure 1: voice R holds 5040/1680 quarters, the measure 6720/1680"},
		{"m 1\nR c/1\n", "line 9, measure 1, voice R: read \"c/1\": the first pitch of a measure needs its octave"},
		{"m 1\nR c5/1~\nm 2\nR d5/1\n", "a tie reaches no note of its pitch"},
		{"m 1\nR c5/1(\n", "slur of voice R1 is open at the end"},
		{"m 1\nR c5/1\nm 3\nR c5/1\n", "measure 3 where 2 was due"},
		{"m 1\nX c5/1\n", "unknown voice \"X\""},
		{"m 1\nR c5/1:wobble\n", "unknown mark \"wobble\""},
		{"m 1\nR c5n/1\n", "what is \"n\" behind a pitch"},
		{"m 1\nR *7\n", "nothing to copy"},
		{"m 1\nR [c5 e/1\n", "left open"},
		{"m 1\nR c5/1\nP 5\n", "no pedal can stand at \"5\""},
	} {
		_, err := composePiece("test.piece", "test", header+c.measures)
		require.ErrorContains(t, err, c.message, c.measures)
	}
}
