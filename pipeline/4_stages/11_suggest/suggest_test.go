package suggest_test

import (
	"fmt"
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/06_hands"
	"fingerproof/pipeline/4_stages/07_tempo"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/hand"

	"github.com/stretchr/testify/require"
)

// Short names for what many tests write.
var (
	piano = scoretest.Piano
	read  = scoretest.Read
	note  = scoretest.Note
)

func backup(d int) string { return fmt.Sprintf("<backup><duration>%d</duration></backup>", d) }

// suggested fingers a score.
func suggested(t *testing.T, s *score.Score, profile hand.Profile) *suggest.Suggestion {
	t.Helper()
	p := policies.Default()
	whose, err := attribute.Whose(s, score.Composer)
	require.NoError(t, err)
	h, err := hands.Assign(s, hands.Scoring{Kind: "two hands"})
	require.NoError(t, err)
	pace := tempo.Find(tempo.Input{Score: s, Policy: p})
	return suggest.Suggest(suggest.Input{Score: s, Whose: whose, Playing: playing.New(s, *h), Tempo: &pace, Policy: p, Profile: profile, Weights: effort.Delivered()})
}

// fingers fingers a score and prints the digits of its notes.
func fingers(t *testing.T, s *score.Score, profile hand.Profile) string {
	t.Helper()
	got, out := suggested(t, s, profile), ""
	for i := range s.Notes {
		out += fmt.Sprint(got.Notes[i].Finger)
		if got.Notes[i].OutOfReach != "" {
			out += "!"
		}
	}
	return out
}

const fingering = "<notations><technical><fingering>%d</fingering></technical></notations>"

func TestDigitsInTheTextBind(t *testing.T) {
	s := piano(t, note("C5", 4, 1, 1, "")+note("D5", 4, 1, 1, fmt.Sprintf(fingering, 4))+note("E5", 4, 1, 1, "")+note("F5", 4, 1, 1, ""))
	require.Equal(t, byte('4'), fingers(t, s, hand.NinthHand)[1])
}

func TestATiedNoteKeepsItsFingerAndADigitThereIsAChange(t *testing.T) {
	tie := func(kind string) string { return `<notations><tied type="` + kind + `"/></notations>` }
	s := piano(t, note("C5", 16, 1, 1, fmt.Sprintf(fingering, 3)+tie("start")), note("C5", 16, 1, 1, tie("stop")))
	require.Equal(t, "33", fingers(t, s, hand.NinthHand))
	s = piano(t, note("C5", 16, 1, 1, fmt.Sprintf(fingering, 3)+tie("start")), note("C5", 16, 1, 1, tie("stop")+fmt.Sprintf(fingering, 1)))
	require.Equal(t, "31", fingers(t, s, hand.NinthHand))
}

// A tenth is beyond the octave hand (FACTS §1.2) where it is struck, and
// within any hand where it is rolled under pedal (common practice).
func TestARolledTenthIsPlayedAsRolled(t *testing.T) {
	roll := "<notations><arpeggiate/></notations>"
	struck := piano(t, note("C4", 16, 1, 1, "")+note("G4", 16, 1, 1, "<chord/>")+note("E5", 16, 1, 1, "<chord/>"))
	require.Contains(t, fingers(t, struck, hand.OctaveHand), "!")
	rolled := piano(t, note("C4", 16, 1, 1, roll)+note("G4", 16, 1, 1, "<chord/>"+roll)+note("E5", 16, 1, 1, "<chord/>"+roll))
	require.NotContains(t, fingers(t, rolled, hand.OctaveHand), "!")
}

// A voice held under a moving one binds a finger for as long as it is held:
// a whole note played detached lets go of its key half way, unless a slur holds it.
func TestTouchByPeriodFreesTheHand(t *testing.T) {
	p := policies.Default()
	require.Equal(t, "non-legato", p.Touch(1730))
	heldNotes := func(touch, marks string) int {
		s := piano(t, note("C4", 16, 2, 1, marks)+backup(16)+note("G4", 4, 1, 1, "")+note("A4", 4, 1, 1, "")+note("B4", 4, 1, 1, "")+note("E5", 4, 1, 1, "")+
			backup(16)+`<note><rest/><duration>16</duration><voice>5</voice><staff>2</staff></note>`) // the left hand is silent
		h, err := hands.Assign(s, hands.Scoring{Kind: "two hands"})
		require.NoError(t, err)
		whose, err := attribute.Whose(s, score.Composer)
		require.NoError(t, err)
		pace := tempo.Find(tempo.Input{Score: s, Policy: p})
		got := suggest.Suggest(suggest.Input{Score: s, Whose: whose, Playing: playing.New(s, *h), Tempo: &pace, Policy: p, Touch: touch, Profile: hand.OctaveHand, Weights: effort.Delivered()})
		pedal := 0 // the tenth C4–E5 is beyond the octave hand: held to the end, the C4 is left to the pedal
		for i := range got.Notes {
			if got.Notes[i].Pedal {
				pedal++
			}
		}
		return pedal
	}
	require.Equal(t, 1, heldNotes("legato", ""))
	require.Equal(t, 0, heldNotes("detached", ""))
	require.Equal(t, 1, heldNotes("detached", `<notations><articulations><tenuto/></articulations></notations>`))
}

// The text changes the finger on a held key: what follows is played from the finger changed to (FACTS §5.4, common practice).
func TestAChangeInTheTextFreesTheFingerThatStruck(t *testing.T) {
	text := func(digits string) string {
		slur := func(kind string) string { return `<slur type="` + kind + `" number="1"/>` }
		return fingers(t, piano(t, note("C5", 8, 1, 1, "<notations>"+slur("start")+"<technical>"+digits+"</technical></notations>")+note("B4", 4, 1, 1, "")+note("A4", 4, 1, 1, ""),
			note("G4", 8, 1, 1, "<notations>"+slur("stop")+"</notations>")), hand.NinthHand)
	}
	require.Equal(t, "21", text(`<fingering>2</fingering>`)[:2])
	require.Equal(t, "2432", text(`<fingering>2</fingering><fingering substitution="yes">5</fingering>`))
}

// Under a marked pedal the steps of a broken chord are joined by the pedal: no finger is changed for them (common practice).
func TestThePedalJoinsABrokenChord(t *testing.T) {
	changes := func(pedal string) (n int) {
		slur := func(kind string) string { return `<notations><slur type="` + kind + `" number="1"/></notations>` }
		pace := `<direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>69</per-minute></metronome></direction-type></direction>`
		figure := note("E2", 2, 5, 2, slur("start")) + note("B2", 2, 5, 2, "") + note("G#3", 2, 5, 2, "") + note("B3", 2, 5, 2, "") + note("G#3", 2, 5, 2, "") + note("B2", 2, 5, 2, slur("stop"))
		s := piano(t, pace+pedal+figure, figure)
		for _, said := range suggested(t, s, hand.NinthHand).Notes {
			if said.Substitution != 0 {
				n++
			}
		}
		return n
	}
	require.Positive(t, changes(""))
	require.Zero(t, changes(`<direction><direction-type><pedal type="start"/></direction-type><staff>2</staff></direction>`))
}
