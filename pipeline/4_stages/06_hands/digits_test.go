package hands_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/4_stages/06_hands"

	"github.com/stretchr/testify/require"
)

// digit is what puts a finger beside a note.
func digit(finger int) string {
	return fmt.Sprintf(`<notations><technical><fingering>%d</fingering></technical></notations>`, finger)
}

// fingered writes a note of a chord, or the first one, with its digit.
func fingered(pitch string, duration, voice, staff, finger int, chord bool) string {
	head := ""
	if chord {
		head = "<chord/>"
	}
	return fmt.Sprintf(`<note>%s<pitch><step>%c</step><octave>%c</octave></pitch><duration>%d</duration><voice>%d</voice><staff>%d</staff>%s</note>`,
		head, pitch[0], pitch[1], duration, voice, staff, digit(finger))
}

// Five neighbouring keys have 1 2 3 4 5 in the right hand and 5 4 3 2 1 in the left (FACTS §4.8): three of them in a row fit one hand
// alone, on whatever staff they stand.
func TestDigitsOfARunFitOneHand(t *testing.T) {
	n, f := positionNote, fingered
	above := n("A4", 4, 1, 1, "") + back
	falling := f("F4", 1, 6, 2, 3, false) + f("E4", 1, 6, 2, 2, false) + f("D4", 1, 6, 2, 1, false) + n("C4", 1, 6, 2, "")
	require.Equal(t, "RRRRLL", handsIn(t, above+falling+back+n("G3", 4, 5, 2, "")), "falling keys, falling digits: the right hand's")
	other := f("F4", 1, 6, 2, 1, false) + f("E4", 1, 6, 2, 2, false) + f("D4", 1, 6, 2, 3, false) + n("C4", 1, 6, 2, "")
	require.Equal(t, "RLLLLL", handsIn(t, above+other+back+n("G3", 4, 5, 2, "")), "falling keys, rising digits: the left hand's")
	// The thumb passes under, and the run goes on in its hand (FACTS §4.2); where the keys turn, nothing says so.
	shifted := f("F4", 1, 6, 2, 1, false) + f("E4", 1, 6, 2, 2, false) + f("D4", 1, 6, 2, 3, false)
	upper := strings.NewReplacer("<staff>2</staff>", "<staff>1</staff>", "<voice>6</voice>", "<voice>2</voice>").Replace
	low := back + n("G3", 4, 5, 2, "")
	require.Equal(t, "LLLLL", handsIn(t, upper(shifted+f("A3", 1, 6, 2, 1, false))+low), "a fourth lower, the thumb")
	require.Equal(t, "LLLRL", handsIn(t, upper(shifted+f("A4", 1, 6, 2, 1, false))+low), "a fifth higher")
	require.Equal(t, "LLLRL", handsIn(t, upper(shifted+f("A3", 1, 6, 2, 4, false))+low), "no thumb")
	two := f("F4", 1, 6, 2, 3, false) + f("E4", 1, 6, 2, 2, false) + n("D4", 2, 6, 2, "")
	require.Equal(t, "RLLLL", handsIn(t, above+two+back+n("G3", 4, 5, 2, "")), "two digits fit either hand")
	require.Equal(t, "RLLLLL", handsIn(t, n("A5", 4, 1, 1, "")+back+falling+back+n("G3", 4, 5, 2, "")), "the right hand is too far away")
	require.Equal(t, "RLLLLL", handsIn(t, above+sign("m.s.", 2)+falling+back+n("G3", 4, 5, 2, "")), "a sign comes first")
}

// Chords have the thumb on the inner side (FACTS §4.2): digits that fall with the keys upwards fit the left hand. Once may be a slip; twice
// in a voice, or three on a stem, they are believed.
func TestDigitsOfChordsFitOneHand(t *testing.T) {
	n, f := positionNote, fingered
	chord := func(low, high string, a, b int) string { return f(low, 2, 2, 1, a, false) + f(high, 2, 2, 1, b, true) }
	above, below := n("E5", 4, 1, 1, "")+back, back+n("r", 4, 5, 2, "")
	require.Equal(t, "RLLLL", handsIn(t, above+chord("G3", "B3", 5, 3)+chord("A3", "C4", 4, 2)+below))
	require.Equal(t, "RRRRR", handsIn(t, above+chord("G3", "B3", 5, 3)+n("A3", 2, 2, 1, "")+n("C4", 2, 2, 1, "<chord/>")+below), "once")
	require.Equal(t, "RLLL", handsIn(t, above+f("G3", 4, 2, 1, 5, false)+f("B3", 4, 2, 1, 3, true)+f("D4", 4, 2, 1, 1, true)+below), "three on a stem")
	require.Equal(t, "RRRRRL", handsIn(t, above+chord("G3", "B3", 5, 3)+chord("A3", "C4", 4, 2)+back+n("C2", 4, 5, 2, "")), "the left hand is too far away")
}

// A roll that leaves out the bass begins with it: bass and chord are as wide as without the roll. Rolled from the bass on, one hand plays it.
func TestARollThatLeavesOutTheBass(t *testing.T) {
	n := positionNote
	lower := func(bass, chord string) string {
		return n("D4", 4, 1, 1, "") + back + n("D2", 4, 5, 2, bass) + back + n("A3", 4, 6, 2, chord)
	}
	require.Equal(t, "RLR", handsIn(t, lower("", rolled)))
	require.Equal(t, "RLR", handsIn(t, lower("", "")))
	require.Equal(t, "RLL", handsIn(t, lower(rolled, rolled)))
	require.Equal(t, "RLL", handsIn(t, n("D4", 4, 1, 1, digit(1))+back+n("D2", 4, 5, 2, "")+back+n("A3", 4, 6, 2, "")), "the thumb lies above already")
}

// A prelude whose left hand begins on the upper staff, with its digits (printed edition in the shared folder).
func TestDigitsOfAPrintedEditionTellTheHand(t *testing.T) {
	path := filepath.Join(shared.Folder(t, "data/fingered"), "chopinff__o45-chopin-prelude-op45.mxl")
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	doc, err := source.Open(path, data, source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	assigned, err := hands.Assign(s, hands.Scoring{Kind: "two hands"})
	require.NoError(t, err)
	seen := 0
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Measure <= 2 && assigned.Piano[i] && n.Voice == "2" {
			require.Equal(t, score.Left, assigned.Hand[i], "m. %d, %s", n.Measure+1, n.Pitch) // those about the barline too, which have no digits
			seen++
		}
	}
	require.Equal(t, 20, seen)
}
