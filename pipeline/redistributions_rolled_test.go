package pipeline

import (
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// rolledChord is a chord of both hands, rolled or not, whose top hangs on a stem of its own or not.
func rolledChord(arpeggio, topVoice string) string {
	note := func(chord, pitch, voice, staff string) string {
		key := score.Pitch{Step: pitch[0], Octave: int8(pitch[1] - '0')}
		return "<note>" + chord + pitchXML(key) + "<duration>4</duration><voice>" + voice + "</voice><staff>" + staff + "</staff><notations>" + arpeggio + "</notations></note>"
	}
	const chord, back = "<chord/>", "<backup><duration>4</duration></backup>"
	top := note("", "C6", topVoice, "1") + back
	rest := note("", "E4", "2", "1")
	if topVoice == "2" {
		top, rest = "", note("", "C6", "2", "1")+note(chord, "E4", "2", "1")
	}
	return `<?xml version="1.0" encoding="UTF-8"?><score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves></attributes>` +
		top + rest + note(
		chord,
		"G4",
		"2",
		"1",
	) + note(chord, "C5", "2", "1") + back +
		note("", "C2", "5", "2") + note(
		chord,
		"G2",
		"5",
		"2",
	) + note(chord, "C3", "5", "2") + `</measure></part></score-partwise>`
}

// Of a chord rolled through both hands the left hand may take the top, where that stands on a stem of its own (as
// editions print it, by m.s. and its sisters: open scores of the shared folder); of one that is struck at once, or
// hangs on one stem, it may not.
func TestTheLeftHandMayTakeTheTopOfARolledChord(t *testing.T) {
	for _, c := range []struct{ name, arpeggio, voice, want string }{
		{"rolled, its own stem", "<arpeggiate/>", "1", "L crossing C6@0"},
		{"rolled, one stem", "<arpeggiate/>", "2", "no"},
		{"struck at once", "", "1", ""},
	} {
		w := &PieceRun{
			Piece: &corpus.Piece{
				ID: "rolled", Score: "rolled.musicxml", Scoring: corpus.TwoHands,
			}, Data: []byte(rolledChord(c.arpeggio, c.voice)),
			Policy: policies.Default(), Weights: ShippedWeights(),
		}
		require.NoError(t, RunPiece(w), c.name)
		if c.want == "" {
			require.False(t, strings.Contains(offered(w), "crossing"), c.name)
			continue
		}
		require.Equal(t, c.want, offered(w), c.name)
		if len(w.Redistributions) > 0 {
			require.Equal(t, 2, int(w.Redistributions[0].Fingers[0]),
				"a hand that crosses lands on its second finger: %s", w.Redistributions[0].Why)
		}
	}
}
