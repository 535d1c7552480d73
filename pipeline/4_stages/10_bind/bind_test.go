package bind_test

import (
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/10_bind"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
)

func parse(t *testing.T, text string) *score.Score {
	t.Helper()
	doc, err := source.Open("a.musicxml", []byte(text), source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	return s
}

const scale = `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">
<measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>C4 D4 E4 F4</measure>
<measure number="2">G4 A4 B4 C5</measure><measure number="3">C4 D4 E4 F4</measure></part></score-partwise>`

func music(t *testing.T, text string) *score.Score {
	t.Helper()
	for _, step := range "CDEFGAB" {
		for _, octave := range "45" {
			name := string(step) + string(octave)
			text = strings.ReplaceAll(text, name, `<note><pitch><step>`+string(step)+`</step><octave>`+string(octave)+`</octave></pitch><duration>1</duration><voice>1</voice></note>`)
		}
	}
	return parse(t, text)
}

func decisionsOn(t *testing.T, by, entries string) []decision.Decision {
	t.Helper()
	d, _, err := decision.Parse("decisions/p."+by+".yaml", []byte("piece: p\nby: "+by+"\ndecisions:\n"+entries))
	require.NoError(t, err)
	return d
}

func TestDecisionsHoldForReturnsWhereAsked(t *testing.T) {
	s := music(t, scale)
	back := []parallel.Return{{First: []int{0, 1, 2, 3}, Later: []int{8, 9, 10, 11}}}
	d := decisionsOn(t, "AB", `  - {amend: notes, when: 2026-01-05, returns: true, notes: [{measure: 1, onset: 0, pitch: C4, finger: 2}]}
  - {amend: notes, when: 2026-01-05, notes: [{measure: 1, onset: 1, pitch: D4, finger: 3}]}
  - {amend: notes, when: 2026-01-05, returns: true, notes: [{measure: 1, onset: 2, pitch: E4, finger: 4}]}
  - {amend: notes, when: 2026-01-05, notes: [{measure: 3, onset: 2, pitch: E4, finger: 5}]}
`)
	digits := bind.Digits(bind.Input{Score: s, Decided: decide.Place(decide.Input{Score: s, Decisions: d}), Returns: back, Apart: nil})
	require.Equal(t, 2, digits[8].Finger())
	require.True(t, digits[8].Carried)
	require.Equal(t, 0, digits[9].Finger(), "not asked for")
	require.Equal(t, 5, digits[10].Finger(), "a word of its own comes first")
	apart := make([]bool, len(s.Notes))
	apart[8] = true
	digits = bind.Digits(bind.Input{Score: s, Decided: decide.Place(decide.Input{Score: s, Decisions: d}), Returns: back, Apart: apart})
	require.Equal(t, 0, digits[8].Finger(), "declared to be fingered for itself")
}
