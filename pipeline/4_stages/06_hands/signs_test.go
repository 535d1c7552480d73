package hands_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// sign writes a hand sign beside a staff.
func sign(words string, staff int) string {
	return fmt.Sprintf(`<direction><direction-type><words>%s</words></direction-type><staff>%d</staff></direction>`, words, staff)
}

// rolled is what makes a note part of a rolled chord.
const rolled = `<notations><arpeggiate/></notations>`

// A sign holds for its voice from where it stands to the end of the measure, or to the next one.
func TestASignHoldsToTheNextOrToTheEndOfTheMeasure(t *testing.T) {
	n := positionNote
	upper := n("G4", 1, 1, 1, "") + sign("m.s.", 1) + n("C4", 1, 1, 1, "") + n("B3", 1, 1, 1, "")
	lower := back + n("C3", 4, 5, 2, "")
	require.Equal(t, "RLLLL", handsIn(t, upper+n("A3", 1, 1, 1, "")+lower))
	require.Equal(t, "RLLRL", handsIn(t, upper+sign("m.d.", 1)+n("A3", 1, 1, 1, "")+lower))
}

// Of two voices a sign names the one that begins where it stands, and without one that lies on the hand's own side, as long as both
// hands can strike what they then have.
func TestASignNamesOneVoiceOfTwo(t *testing.T) {
	n := positionNote
	held := n("G4", 4, 1, 1, "") + back
	require.Equal(t, "RLL", handsIn(t, held+n("r", 2, 2, 1, "")+sign("m.g.", 1)+n("B5", 2, 2, 1, "")+back+n("G2", 4, 5, 2, "")), "begins")
	require.Equal(t, "RLLR", handsIn(t, sign("m.g.", 1)+n("C5", 4, 1, 1, "")+back+n("C4", 4, 2, 1, "")+n("E4", 4, 2, 1, "<chord/>")+back+
		n("r", 4, 5, 2, "")+`</measure><measure number="2">`+n("C5", 4, 1, 1, "")), "its own side, and no longer than the measure")
}

// A sign over a tune that lies above the chords of the other hand goes on past its measure while the picture is the same: the tune and
// the chord are beyond a hand, and the hand of the sign is free. It ends where that hand has keys of its own, where the right hand could
// take both, at a measure that shows nothing of it, and at the next sign.
func TestASignGoesOnWhileItsTuneStandsOverChords(t *testing.T) {
	n := positionNote
	const chord = `<chord/>`
	over := func(sign, tune, bass string) string { // a tune on the third quarter, over a chord, after a bass
		return n("r", 2, 1, 1, "") + sign + n(tune, 2, 1, 1, "") + back + n("D4", 4, 2, 1, "") + n("F4", 4, 2, 1, chord) +
			n("C5", 4, 2, 1, chord) + back + n("G2", 2, 5, 2, "") + n(bass, 2, 5, 2, "")
	}
	const bar2, bar3 = `</measure><measure number="2">`, `</measure><measure number="3">`
	first := over(sign("m.g.", 1), "G5", "r")
	require.Equal(t, "LRRRL"+"LRRRL", handsIn(t, first+bar2+over("", "A5", "r")))
	require.Equal(t, "LRRRL"+"RRRRL", handsIn(t, first+bar2+over("", "E5", "r")), "the right hand takes it whole")
	require.Equal(t, "LRRRL"+"RRRRLL", handsIn(t, first+bar2+over("", "A5", "G2")), "the left hand has a key of its own")
	require.Equal(t, "LRRRL"+"RRRRL", handsIn(t, first+bar2+over(sign("m.d.", 1), "A5", "r")), "the next sign")
	require.Equal(t, "LRRRL"+"RL"+"RRRRL", handsIn(t, first+bar2+n("E4", 4, 1, 1, "")+back+n("C3", 4, 5, 2, "")+bar3+over("", "A5", "r")), "a measure without it")
}

// Of a chord that one hand cannot take, or not with the digits that stand there, a sign names the keys on its side alone.
func TestASignMayNameAPartOfAChord(t *testing.T) {
	n := positionNote
	digit := func(f string) string {
		return `<notations><technical><fingering>` + f + `</fingering></technical></notations>`
	}
	upper := n("B5", 4, 1, 1, "") + back
	chord := func(sign, low, lowDigit, top, topDigit string) string {
		return upper + sign + n(low, 4, 5, 2, lowDigit) + n("A3", 4, 5, 2, "<chord/>") + n(top, 4, 5, 2, "<chord/>"+topDigit)
	}
	require.Equal(t, "RLLR", handsIn(t, chord(sign("m.d.", 2), "D3", digit("5"), "F4", digit("1"))), "wider than a ninth")
	require.Equal(t, "RLLR", handsIn(t, chord(sign("m.d.", 2), "F3", digit("2"), "D4", digit("2"))), "one finger twice")
	require.Equal(t, "RLLL", handsIn(t, chord("", "D3", digit("5"), "F4", digit("1"))), "no sign")
	grace := strings.ReplaceAll(n("D3", 0, 5, 2, ""), "<duration>0</duration>", "")
	grace = strings.Replace(grace, "<note>", "<note><grace/>", 1)
	require.Equal(t, "RLL", handsIn(t, upper+sign("m.d.", 2)+grace+n("F4", 4, 5, 2, "")), "a grace note is struck by itself")
	lower := func(sign string) string {
		return sign + n("G3", 4, 1, 1, digit("2")) + n("E4", 4, 1, 1, "<chord/>"+digit("1")) + n("C5", 4, 1, 1, "<chord/>"+digit("5")) + back + n("r", 4, 5, 2, "")
	}
	require.Equal(t, "LRR", handsIn(t, lower(sign("m.s.", 1))), "the left hand takes the lowest")
}

// Of a chord rolled through both hands the hand that crosses over takes the note that stands on a stem of its own at the top.
func TestOfARolledChordTheHandThatCrossesTakesTheTop(t *testing.T) {
	n := positionNote
	chord := sign("m.g.", 1) + n("C6", 4, 1, 1, rolled) + back + n("C4", 4, 2, 1, rolled) + n("E4", 4, 2, 1, "<chord/>") + n("G4", 4, 2, 1, "<chord/>") + n("C5", 4, 2, 1, "<chord/>")
	require.Equal(t, "LRRRRLL", handsIn(t, chord+back+n("C2", 4, 5, 2, rolled)+n("G2", 4, 5, 2, "<chord/>")))
}

// A sign over a rest means what the other staff strikes there (the left hand crosses over), and so does one whose own staff the hand
// cannot strike beside its own keys, or that would leave the other hand nothing.
func TestASignMayConfirmTheOtherStaff(t *testing.T) {
	n := positionNote
	require.Equal(t, "RRL", handsIn(t, n("D5", 1, 1, 1, "")+sign("M.G.", 1)+n("r", 1, 1, 1, "")+n("E5", 2, 1, 1, "")+back+n("r", 1, 5, 2, "")+n("E6", 3, 5, 2, "")), "over a rest")
	require.Equal(t, "RL", handsIn(t, n("B4", 4, 1, 1, "")+back+sign("m.d.", 2)+n("G2", 4, 5, 2, "")), "out of reach")
	require.Equal(t, "RL", handsIn(t, sign("m.s.", 1)+n("G3", 4, 1, 1, "")+back+n("D4", 4, 5, 2, "")), "nothing left for the right hand")
}

// A sign between the staves over keys that its hand holds on means what begins on the other staff: an octave under which the other
// hand goes on with its chord (seen in an impromptu); not so above both staves, where the other staff goes on with one voice, or
// where both voices are new.
func TestAHandGoesOverFromItsOwnStaff(t *testing.T) {
	n := positionNote
	place := func(at string) string {
		return strings.Replace(sign("m.g.", 2), "<direction>", `<direction placement="`+at+`">`, 1)
	}
	piece := func(first, sign, second string) string {
		return n(first, 1, 1, 1, "") + sign + n("D4", 2, 1, 1, "") + n("D5", 2, 1, 1, "<chord/>") + n("r", 1, 1, 1, "") + back +
			n("r", 1, 2, 1, "") + n(second, 1, 2, 1, "") + n(second, 1, 2, 1, "") + n("r", 1, 2, 1, "") + back + n("G2", 3, 5, 2, "") + n("D2", 1, 5, 2, "")
	}
	require.Equal(t, "RLLRRLL", handsIn(t, piece("G5", place("above"), "G5")))
	require.Equal(t, "RRRRRLL", handsIn(t, piece("G5", place("below"), "G5")), "not between the staves")
	require.Equal(t, "RRRRRLL", handsIn(t, piece("F5", place("above"), "G5")), "both are new")
}

// Where hands alternate, a sign at the first turn holds for the turns that come back to its keys.
func TestTurnsGoOnAsTheyBegin(t *testing.T) {
	n := positionNote
	require.Equal(t, "LRLR", handsIn(t, n("E5", 1, 5, 2, "")+sign("m.d.", 2)+n("C4", 1, 5, 2, "")+n("E5", 1, 5, 2, "")+n("C4", 1, 5, 2, "")+back+n("r", 4, 1, 1, "")))
}

// A key that is held on stays with the hand that struck it.
func TestAHeldKeyStaysWithItsHand(t *testing.T) {
	n := positionNote
	const from, on = `<tie type="start"/>`, `<tie type="stop"/>`
	require.Equal(t, "LLR", handsIn(t, sign("m.g.", 1)+n("C4", 4, 1, 1, from)+back+n("r", 4, 5, 2, "")+`</measure><measure number="2">`+n("C4", 2, 1, 1, on)+n("C4", 2, 1, 1, "")))
	require.Equal(t, "RRL", handsIn(t, n("C4", 2, 1, 1, from)+sign("m.g.", 1)+n("C4", 1, 1, 1, on)+n("E4", 1, 1, 1, "")+back+n("r", 4, 5, 2, "")))
}

// A hand that lies beyond the other as written is what a sign beside the other says: the sign stands where the keys lie, the notes on
// the hand's own staff (common practice). So too where the key was struck before and still sounds.
func TestASignConfirmsAHandThatCrossesAsWritten(t *testing.T) {
	n := positionNote
	below := sign("m.s.", 1) + n("G4", 1, 1, 1, "") + n("r", 3, 1, 1, "") + back + n("E4", 1, 2, 1, "") + n("r", 3, 2, 1, "") + back
	require.Equal(t, "RRL", handsIn(t, below+n("E5", 1, 5, 2, "")))
	require.Equal(t, "RRRLL", handsIn(t, n("E4", 1, 1, 1, "")+sign("m.g.", 1)+n("C4", 1, 1, 1, "")+n("E4", 2, 1, 1, "")+back+n("B5", 2, 5, 2, "")+n("B3", 2, 5, 2, "")))
	require.Equal(t, "RLL", handsIn(t, sign("m.s.", 1)+n("G4", 4, 1, 1, "")+back+n("E4", 4, 2, 1, "")+back+n("G3", 2, 5, 2, "")+n("r", 2, 5, 2, "")),
		"a hand that lies where its staff does has nothing to confirm")
}

// After a rest of the voice a sign holds no longer where the hand has keys of its own by then; it does where that hand is still free.
func TestASignEndsWhereItsHandHasGoneBack(t *testing.T) {
	n := positionNote
	upper := n("F4", 1, 1, 1, "") + sign("m.g.", 1) + n("E4", 1, 1, 1, "") + n("r", 1, 1, 1, "") + n("G4", 1, 1, 1, "") + back
	require.Equal(t, "RLRL", handsIn(t, upper+n("r", 2, 5, 2, "")+n("D4", 2, 5, 2, "")))
	require.Equal(t, "RLL", handsIn(t, upper+n("r", 4, 5, 2, "")))
}

// A sign in parentheses is an editor's advice and is followed; with the other hand's finger beside it, as an alternative
// or in parentheses (what is left of it when another program writes the file), it is an offer of an edition of ours.
func TestASignInParentheses(t *testing.T) {
	n := positionNote
	digit := func(attributes, text string) string {
		return `<notations><technical><fingering>1</fingering><fingering` + attributes + `>` + text + `</fingering></technical></notations>`
	}
	lower := back + n("C3", 4, 5, 2, "")
	require.Equal(t, "RLLL", handsIn(t, n("G4", 1, 1, 1, "")+sign("(m.s.)", 1)+n("C4", 1, 1, 1, "")+n("B3", 2, 1, 1, "")+lower))
	require.Equal(t, "RRRL", handsIn(t, n("G4", 1, 1, 1, "")+sign("(m.s.)", 1)+n("C4", 1, 1, 1, digit(` alternate="yes"`, "1"))+n("B3", 2, 1, 1, "")+lower))
	require.Equal(t, "RRRL", handsIn(t, n("G4", 1, 1, 1, "")+sign("(m.s.)", 1)+n("C4", 1, 1, 1, digit("", "(1)"))+n("B3", 2, 1, 1, "")+lower))
	require.Equal(t, "RLLL", handsIn(t, n("G4", 1, 1, 1, "")+sign("m.s.", 1)+n("C4", 1, 1, 1, digit("", "(1)"))+n("B3", 2, 1, 1, "")+lower), "a bare sign is no offer")
}
